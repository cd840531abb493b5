"""Whether a flap that is to be raised lies free in front."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..diagnostics import Refusal
from ..paper.state import State
from .request import Request


def refuse_covered(
    request: Request, state: State, origin: Sequence[int], moved: Iterable[int]
) -> None:
    """Refuses when paper that stays lies over the pieces that are raised.

    `state` is the divided paper; `origin` gives for each of its pieces the facet of the request's.
    """
    moving = set(moved)
    for i in sorted(moving):
        for k in sorted(state.neighbours[i] - moving):
            if state.above(k, i):
                raise Refusal(
                    "blocked",
                    f"{request.describe(origin[i])} cannot be raised: "
                    f"it lies under {request.describe(origin[k])}",
                    "fold or unfold what lies over it first",
                    "or turn the model over, if the flap lies free on the other side",
                    span=request.span,
                )
