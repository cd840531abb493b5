"""What pages say of the model after the last step: its size, and whether it has been shaped since.

In: a folded model. Out: words.
"""

from __future__ import annotations

from ..folding.ending import LAST_FIGURE, ending, finished_size_mm, size_fact
from ..folding.steps import Model
from ..languages.wording import Translate


def finished_caption(model: Model, translate: Translate) -> str:
    """What stands under the last figure."""
    return translate(LAST_FIGURE[ending(model)])


def finished_fact(model: Model, translate: Translate) -> tuple[str, str]:
    """(label, value) of the finished size."""
    width, height = finished_size_mm(model)
    return size_fact(ending(model), rounded_mm(width), rounded_mm(height), translate)


def rounded_mm(length: float) -> str:
    """A length as a folder reads it off a ruler: whole mm, half cm from 30 cm up."""
    step = 1 if length < 300 else 5
    return f"{step * round(length / step)}"
