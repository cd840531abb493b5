"""Squeeze: fingers press the model from its sides so that it opens, and it is no longer flat."""

from __future__ import annotations

from ..languages.wording import phrase
from .planning.at_points import listed, places, signed
from .planning.request import Move, Outcome, Request, Solid


def make(request: Request) -> Outcome:
    """Shows the sign; later steps find the model open."""
    request.allow("", "at", "and")
    found = places(request, "", "at")
    words = phrase("Squeeze the model at {what}.", what=listed(found))
    return signed(request, "squeeze", found, words, solid=Solid("it was squeezed open"))


MOVE = Move(
    "squeeze",
    "press the model from its sides; it is flat no longer",
    ("squeeze A", "squeeze A and B"),
    make,
    flat=False,
)
