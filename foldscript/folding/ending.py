"""How a model ends: flat, standing in space, opened out or curled after it last lay flat, or refused.

In: a folded model. Out: which of these, what stands under its last figure, and how large it is. Where it is
not known how a model stands that is opened out or blown up at the end, it is drawn and measured as it lies
before that; pages, slides, pictures and class plans have to say so.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum

from ..languages.wording import Phrase, Template, Translate, phrase
from ..paper.silhouette import extent
from .steps import Model


class Ending(Enum):
    """What becomes of the flat model."""

    FLAT = "flat"
    STANDING = "standing"
    OPENED = "opened"
    CURLED = "curled"
    REFUSED = "refused"


#: What the last figure shows; see `last_words`.
_LAST_FIGURE: dict[Ending, Template] = {
    Ending.FLAT: "The finished model.",
    Ending.STANDING: "The finished model.",
    Ending.OPENED: "The model before it is opened out.",
    Ending.CURLED: "The model before it is curled.",
    Ending.REFUSED: "Step {n} is refused: {message}.",
}


def ending(model: Model) -> Ending:
    """How a model ends; a part that is curled does not count where the whole is opened out.

    Of a model in parts, how the last one does.
    """
    if model.refused is not None:
        return Ending.REFUSED
    if model.standing is not None:
        return Ending.STANDING
    last = model.steps[model.parts[-1].first - 1 :] if model.parts else model.steps
    left = [record.solid for step in last for record in step.records if record.solid is not None]
    if not left:
        return Ending.FLAT
    return Ending.CURLED if all(solid.partly for solid in left) else Ending.OPENED


def last_words(model: Model) -> Phrase:
    """What stands under the last figure; of a refused step the message itself is in English."""
    template = _LAST_FIGURE[ending(model)]
    if model.refused is None:
        return phrase(template)
    return phrase(template, n=str(model.refused.step), message=model.refused.message)


def finished_size_mm(model: Model) -> tuple[float, ...]:
    """Sides of the finished model in millimetres: width and height as it lies; width, depth and height where
    it stands.
    """
    if model.standing is not None:
        from ..pose.upright import size

        return size(model.standing)
    width, height = extent(model.finished)
    unit = model.finished.sheet.unit_mm
    return width * unit, height * unit


def size_fact(end: Ending, sides: Sequence[str], translate: Translate) -> tuple[str, str]:
    """(label, value) of the size at the end, in mm; a model that is opened out has it while it is flat."""
    if end is Ending.STANDING:
        width, depth, height = sides
        told = translate("about {width} × {depth} × {height} mm")
        return translate("Stands"), told.format(width=width, depth=depth, height=height)
    width, height = sides
    if end is Ending.OPENED:
        told = translate("about {width} × {height} mm, before it is opened out")
        return translate("Flat"), told.format(width=width, height=height)
    told = translate("about {width} × {height} mm")
    return translate("Finished"), told.format(width=width, height=height)
