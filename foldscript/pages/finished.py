"""What pages say of the model after the last step: its size, and whether it has been shaped since.

In: a folded model. Out: words. Only flat paper is folded here, so a model that is opened out or blown
up at the end is drawn and measured as it lies before that; the page has to say so.
"""

from __future__ import annotations

from ..folding.steps import Model
from ..geometry.polygons import bounds
from ..wording import Translate

#: Moves that make a model solid as a whole, and those that bend a part of it.
_OPENS = frozenset({"shape", "inflate", "blow into", "squeeze"})
_CURLS = frozenset({"curl"})


def is_opened(model: Model) -> bool:
    """Whether the model is opened out in three dimensions in the end."""
    return _does(model, _OPENS)


def finished_caption(model: Model, translate: Translate) -> str:
    """What stands under the last figure."""
    if is_opened(model):
        return translate("The model before it is opened out.")
    if _does(model, _CURLS):
        return translate("The model before it is curled.")
    return translate("The finished model.")


def finished_fact(model: Model, translate: Translate) -> tuple[str, str]:
    """(label, value) of the finished size."""
    width, height = finished_size_mm(model)
    sides = {"width": rounded_mm(width), "height": rounded_mm(height)}
    if is_opened(model):
        value = translate("about {width} × {height} mm, before it is opened out").format(**sides)
        return translate("Flat"), value
    return translate("Finished"), translate("about {width} × {height} mm").format(**sides)


def finished_size_mm(model: Model) -> tuple[float, float]:
    """Width and height of the folded model in millimetres, as it lies at the end."""
    left, low, right, high = bounds(p for outline in model.finished.placed for p in outline)
    unit = model.sheet.unit_mm
    return (right - left) * unit, (high - low) * unit


def rounded_mm(length: float) -> str:
    """A length as a folder reads it off a ruler: whole mm, half cm from 30 cm up."""
    step = 1 if length < 300 else 5
    return f"{step * round(length / step)}"


def _does(model: Model, verbs: frozenset[str]) -> bool:
    return any(deed.verb in verbs for step in model.steps for deed in step.deeds)
