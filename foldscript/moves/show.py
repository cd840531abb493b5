"""Show: a figure of the paper as it lies, where the step would have none of its own."""

from __future__ import annotations

from .planning.claims import NothingMoves
from .planning.fingers import Still
from .planning.request import Move, Outcome, Request


def make(request: Request) -> Outcome:
    """Asks for the figure; the paper stays."""
    request.allow()
    return Outcome(request.state, (), None, claims=(NothingMoves(),), figure=True)


MOVE = Move(
    "show",
    "ask for a figure of the paper as it lies, in a step that only turns or repeats",
    ("show",),
    make,
    flat=False,
    folds=False,
    fingers=Still(),
)
