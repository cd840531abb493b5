"""How a model ends: flat, or opened out or curled after it last lay flat.

In: a folded model. Out: which of these, what stands under its last figure, and how large it is. Only
flat paper is folded here, so a model that is opened out or blown up at the end is drawn and measured as
it lies before that; pages, slides, pictures and class plans have to say so.
"""

from __future__ import annotations

from enum import Enum

from ..languages.wording import Template, Translate
from ..paper.silhouette import extent
from .steps import Model


class Ending(Enum):
    """What becomes of the flat model."""

    FLAT = "flat"
    OPENED = "opened"
    CURLED = "curled"


#: What the last figure shows.
LAST_FIGURE: dict[Ending, Template] = {
    Ending.FLAT: "The finished model.",
    Ending.OPENED: "The model before it is opened out.",
    Ending.CURLED: "The model before it is curled.",
}


def ending(model: Model) -> Ending:
    """How a model ends; a part that is curled does not count where the whole is opened out.

    Of a model in parts, how the last one does.
    """
    last = model.steps[model.parts[-1].first - 1 :] if model.parts else model.steps
    left = [record.solid for step in last for record in step.records if record.solid is not None]
    if not left:
        return Ending.FLAT
    return Ending.CURLED if all(solid.partly for solid in left) else Ending.OPENED


def finished_size_mm(model: Model) -> tuple[float, float]:
    """Width and height of the folded model in millimetres, as it lies at the end."""
    width, height = extent(model.finished)
    unit = model.finished.sheet.unit_mm
    return width * unit, height * unit


def size_fact(end: Ending, width: str, height: str, translate: Translate) -> tuple[str, str]:
    """(label, value) of the size at the end, in mm; a model that is opened out has it while it is flat."""
    if end is Ending.OPENED:
        told = translate("about {width} × {height} mm, before it is opened out")
        return translate("Flat"), told.format(width=width, height=height)
    told = translate("about {width} × {height} mm")
    return translate("Finished"), told.format(width=width, height=height)
