"""Shape: the model is opened out in three dimensions, and is no longer flat."""

from __future__ import annotations

from ..geometry.lines import add
from ..paper.openings import likeliest
from ..paper.signs import PointSign, Spot
from ..paper.silhouette import centre
from ..wording import Phrase, phrase
from .at_points import aim, listed, places, signed
from .request import Move, Outcome, Request

SOLID = "it was opened out and shaped"


def make(request: Request) -> Outcome:
    """Shows the sign at the places named, else where the layers part most likely."""
    request.allow("", "at", "and", "to")
    if request.clause("", "at") is None:
        found = likeliest(request.state)
        sign = PointSign(Spot.OPEN_OUT, centre(request.state))
        if found is not None:
            sign = PointSign(Spot.OPEN_OUT, found.at, add(found.at, found.outward))
        return Outcome(
            request.state, (sign,), Phrase("Open the model out and shape it."), solid=SOLID
        )
    named = places(request, "", "at")
    words = phrase("Open the model out at {what} and shape it.", what=listed(named))
    return signed(request, Spot.OPEN_OUT, named, words, toward=aim(request), solid=SOLID)


MOVE = Move(
    "shape",
    "open the model out in three dimensions; it is flat no longer",
    ("shape", "shape at A", "shape A and B"),
    make,
    flat=False,
)
