"""Inflate: the model is blown up through an opening, and is no longer flat."""

from __future__ import annotations

from ..languages.wording import phrase
from .planning.at_points import ONE_MOUTH, listed, places, signed
from .planning.request import Move, Outcome, Request, Solid


def make(request: Request) -> Outcome:
    """Shows the sign; later steps find the model round."""
    request.allow("", "at", "into", "and")
    found = places(request, "", "at", "into")
    words = phrase(
        "Inflate the model: blow gently into the opening at {what}. One mouth for each model.",
        what=listed(found),
    )
    solid = Solid("it was inflated")
    return signed(request, "inflate", found, words, solid=solid, caution=ONE_MOUTH)


MOVE = Move(
    "inflate",
    "blow the model up through an opening; it is flat no longer",
    ("inflate at A", "inflate at the bottom corner"),
    make,
    flat=False,
    caution=ONE_MOUTH,
)
