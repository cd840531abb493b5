"""How a model ends: flat, or opened out or curled after it last lay flat.

In: a folded model. Out: which of these, and what stands under its last figure. Only flat paper is folded
here, so a model that is opened out or blown up at the end is drawn and measured as it lies before that;
pages, slides and pictures have to say so.
"""

from __future__ import annotations

from enum import Enum

from ..wording import Template
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
    """How a model ends; a part that is curled does not count where the whole is opened out."""
    left = [deed.solid for step in model.steps for deed in step.deeds if deed.solid is not None]
    if not left:
        return Ending.FLAT
    return Ending.CURLED if all(solid.partly for solid in left) else Ending.OPENED
