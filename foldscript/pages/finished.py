"""What pages say of the model after the last step: its size, and whether it has been shaped since.

In: a folded model. Out: words.
"""

from __future__ import annotations

from ..folding.ending import LAST_FIGURE, Ending, ending
from ..folding.steps import Model
from ..geometry.polygons import bounds
from ..wording import Translate


def finished_caption(model: Model, translate: Translate) -> str:
    """What stands under the last figure."""
    return translate(LAST_FIGURE[ending(model)])


def finished_fact(model: Model, translate: Translate) -> tuple[str, str]:
    """(label, value) of the finished size."""
    width, height = finished_size_mm(model)
    sides = {"width": rounded_mm(width), "height": rounded_mm(height)}
    if ending(model) is Ending.OPENED:
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
