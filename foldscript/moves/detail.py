"""Detail: a circle round the part of the figure that the next steps are about. The paper stays."""

from __future__ import annotations

from ..languages.wording import phrase
from .planning.at_points import listed, places, signed
from .planning.request import Move, Outcome, Request


def make(request: Request) -> Outcome:
    """Shows the circle."""
    request.allow("", "at", "and")
    found = places(request, "", "at")
    words = phrase("The next steps are folded at {what}.", what=listed(found))
    return signed(request, "detail", found, words)


MOVE = Move(
    "detail",
    "circle the part that the next steps are about; the paper stays",
    ("detail A", "detail at A"),
    make,
    flat=False,
    folds=False,
)
