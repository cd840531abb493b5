"""Shape: the model is opened out in three dimensions, and is no longer flat."""

from __future__ import annotations

from dataclasses import replace

from ..geometry.lines import add
from ..paper.openings import likeliest, opening_at
from ..paper.signs import PointSign, Sign, Spot
from ..paper.silhouette import centre
from ..paper.state import State
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
            sign = PointSign(
                Spot.OPEN_OUT, found.at, add(found.at, found.outward), opens=found.edge
            )
        return Outcome(
            request.state, (sign,), Phrase("Open the model out and shape it."), solid=SOLID
        )
    named = places(request, "", "at")
    words = phrase("Open the model out at {what} and shape it.", what=listed(named))
    done = signed(request, Spot.OPEN_OUT, named, words, toward=aim(request), solid=SOLID)
    return replace(done, signs=tuple(opened(request.state, s) for s in done.signs))


def opened(state: State, sign: Sign) -> Sign:
    """A sign of opening with the edge that opens there."""
    return replace(sign, opens=opening_at(state, sign.at)) if isinstance(sign, PointSign) else sign


MOVE = Move(
    "shape",
    "open the model out in three dimensions; it is flat no longer",
    ("shape", "shape at A", "shape A and B"),
    make,
    flat=False,
)
