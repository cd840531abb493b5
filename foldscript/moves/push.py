"""Push: a sign that tells where a finger presses. The paper stays as it is."""

from __future__ import annotations

from ..languages.wording import phrase
from .planning.at_points import aim, listed, places, signed
from .planning.request import Move, Outcome, Request


def make(request: Request) -> Outcome:
    """Shows the sign; `to` gives its direction, else it points into the figure."""
    request.allow("", "at", "and", "to")
    found = places(request, "", "at")
    return signed(
        request,
        "push",
        found,
        phrase("Push with a finger at {what}.", what=listed(found)),
        toward=aim(request),
    )


MOVE = Move(
    "push",
    "show where a finger presses; the paper stays",
    ("push A", "push A and B", "push A to B"),
    make,
    flat=False,
    folds=False,
)
