"""Open sink: a closed point is pushed into the model and turned inside out."""

from __future__ import annotations

from ..languages.levels import Level
from .planning.request import Move, Outcome, Request
from .sink import sink

VERB = "open sink"


def make(request: Request) -> Outcome:
    """Reflects every layer of the point in the line."""
    return sink(request, opened=True)


MOVE = Move(
    VERB,
    "push a closed point in, turning it inside out",
    (f"{VERB} O along k", f"{VERB} O through P Q", f"{VERB} O to Q"),
    make,
    level=Level.INTERMEDIATE,
)
