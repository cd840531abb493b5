"""Pull: a sign that tells where fingers pull gently, and which way. The paper stays as it is."""

from __future__ import annotations

from dataclasses import replace

from ..geometry.lines import add, subtract
from ..languages.wording import phrase
from ..paper.signs import PointSign, Sign
from ..paper.silhouette import centre
from .planning.at_points import listed, places, signed, spot_of
from .planning.request import Move, Outcome, Request


def make(request: Request) -> Outcome:
    """Shows the sign; it leads away from what `from` names, else from the middle of the model."""
    request.allow("", "at", "and", "from")
    found = places(request, "", "at")
    held = spot_of(places(request, "from")[0]) if request.clause("from") else centre(request.state)

    def away(sign: Sign) -> Sign:
        assert isinstance(sign, PointSign)
        return replace(sign, toward=add(sign.at, subtract(sign.at, held)))

    done = signed(request, "pull", found, phrase("Pull gently at {what}.", what=listed(found)))
    return replace(done, signs=tuple(away(sign) for sign in done.signs))


MOVE = Move(
    "pull",
    "show where fingers pull, and which way; the paper stays",
    ("pull A", "pull A and B", "pull A from C"),
    make,
    flat=False,
    folds=False,
)
