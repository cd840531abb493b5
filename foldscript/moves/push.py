"""Push: a sign that tells where a finger presses. The paper stays as it is."""

from __future__ import annotations

from ..paper.signs import Spot
from ..wording import phrase
from .at_points import aim, listed, places, signed
from .request import Move, Outcome, Request


def make(request: Request) -> Outcome:
    """Shows the sign; `to` gives its direction, else it points into the figure."""
    request.allow("", "at", "and", "to")
    found = places(request, "", "at")
    return signed(
        request, Spot.PUSH, found, phrase("Push with a finger at {what}.", what=listed(found)),
        toward=aim(request),
    )  # fmt: skip


MOVE = Move(
    "push",
    "show where a finger presses; the paper stays",
    ("push A", "push A and B", "push A to B"),
    make,
    flat=False,
    folds=False,
)
