"""Hold: a sign that tells where fingers hold the paper. The paper stays as it is."""

from __future__ import annotations

from ..languages.wording import phrase
from .planning.at_points import listed, places, signed
from .planning.request import Move, Outcome, Request


def make(request: Request) -> Outcome:
    """Shows the sign."""
    request.allow("", "at", "and")
    found = places(request, "", "at")
    return signed(request, "hold", found, phrase("Hold the paper at {what}.", what=listed(found)))


MOVE = Move(
    "hold",
    "show where fingers hold the paper; the paper stays",
    ("hold A", "hold A and B"),
    make,
    flat=False,
    folds=False,
)
