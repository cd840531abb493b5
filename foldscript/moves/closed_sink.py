"""Closed sink: a closed point is pushed into the model without opening its layers."""

from __future__ import annotations

from ..languages.levels import Level
from .planning.request import Move, Outcome, Request
from .sink import sink

VERB = "closed sink"


def make(request: Request) -> Outcome:
    """Reflects every layer of the point in the line."""
    return sink(request, opened=False)


MOVE = Move(
    VERB,
    "push a closed point in with its layers closed",
    (f"{VERB} O along k", f"{VERB} O through P Q", f"{VERB} O to Q"),
    make,
    level=Level.HIGH_INTERMEDIATE,
)
