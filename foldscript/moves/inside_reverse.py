"""Inside reverse fold: the tip of a flap is turned in between its own layers."""

from __future__ import annotations

from ..languages.levels import Level
from .planning.request import Move, Outcome, Request
from .reverse import reverse

VERB = "inside reverse"


def make(request: Request) -> Outcome:
    """Reflects every layer of the tip, between the layers they came from."""
    return reverse(request, inside=True)


MOVE = Move(
    VERB,
    "turn the tip of a flap in between its own layers",
    (f"{VERB} A to Q", f"{VERB} A along k", f"{VERB} A through P Q"),
    make,
    level=Level.LOW_INTERMEDIATE,
)
