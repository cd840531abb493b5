"""Blow into: a breath opens a pocket or moves a part, and the model is no longer flat."""

from __future__ import annotations

from ..languages.wording import phrase
from .planning.at_points import ONE_MOUTH, aim, listed, places, signed
from .planning.request import Move, Outcome, Request, Solid

VERB = "blow into"


def make(request: Request) -> Outcome:
    """Shows the sign; later steps find the model open."""
    request.allow("", "at", "and", "to")
    found = places(request, "", "at")
    words = phrase("Blow into the opening at {what}. One mouth for each model.", what=listed(found))
    return signed(
        request,
        "blow",
        found,
        words,
        toward=aim(request),
        solid=Solid("it was blown open"),
        caution=ONE_MOUTH,
    )


MOVE = Move(
    VERB,
    "open a pocket with a breath; the model is flat no longer",
    (f"{VERB} A", f"{VERB} the top corner"),
    make,
    flat=False,
    caution=ONE_MOUTH,
)
