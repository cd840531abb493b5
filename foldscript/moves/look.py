"""Look: a sign that tells from where to look at the model. The paper stays as it is."""

from __future__ import annotations

from ..languages.wording import phrase
from .planning.at_points import listed, places, signed
from .planning.request import Move, Outcome, Request


def make(request: Request) -> Outcome:
    """Shows an eye that looks into the figure."""
    request.allow("from", "at")
    found = places(request, "from", "at")
    where = listed(found)
    words = (
        phrase("Look at the model from {what}.", what=where)
        if request.clause("from") is not None
        else phrase("Look closely at {what}.", what=where)
    )
    return signed(request, "look", found, words)


MOVE = Move(
    "look",
    "show from where to look at the model; the paper stays",
    ("look from A", "look from the bottom edge", "look at A"),
    make,
    flat=False,
    folds=False,
)
