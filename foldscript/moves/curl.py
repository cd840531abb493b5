"""Curl: a part is rolled into a curve, and the model is no longer flat."""

from __future__ import annotations

from ..languages.wording import phrase
from .planning.at_points import aim, listed, places, signed
from .planning.request import Move, Outcome, Request, Solid


def make(request: Request) -> Outcome:
    """Shows the sign; later steps find a curved part."""
    request.allow("", "at", "and", "to")
    found = places(request, "", "at")
    words = phrase("Curl the paper at {what}.", what=listed(found))
    solid = Solid("a part was curled", partly=True)
    return signed(request, "curl", found, words, toward=aim(request), solid=solid)


MOVE = Move(
    "curl",
    "roll a part into a curve; the model is flat no longer",
    ("curl A", "curl A and B", "curl A to B"),
    make,
    flat=False,
    tools=("a pencil to curl the paper round",),
)
