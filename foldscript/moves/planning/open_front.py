"""Whether a flap that is to be raised lies free in front."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ...paper.state import State
from ...source.diagnostics import Refusal
from .request import Request


def refuse_covered(
    request: Request,
    state: State,
    origin: Sequence[int],
    moved: Iterable[int],
    named: Iterable[int] | None = None,
) -> None:
    """Refuses when paper that stays lies over the pieces that are raised.

    `state` is the divided paper; `origin` gives for each of its pieces the facet of the request's.
    `named` are those facets of the latter that were pointed at: the others only come along.
    """
    moving = set(moved)
    pointed = None if named is None else set(named)
    covered = [(i, k) for i in sorted(moving) for k in sorted(state.neighbours[i] - moving)]
    held = [(origin[i], origin[k]) for i, k in covered if state.above(k, i)]
    if not held:
        return
    i, k = next(((i, k) for i, k in held if pointed is None or i in pointed), held[0])
    if pointed is not None and i not in pointed:
        raise Refusal(
            "blocked",
            f"this flap hangs together with {request.describe(i)}, which would be raised too "
            f"but lies under {request.describe(k)}",
            "choose another line, so that the flap can move alone",
            "or fold or unfold what holds it first",
            span=request.span,
        )
    raise Refusal(
        "blocked",
        f"{request.describe(i)} cannot be raised: it lies under {request.describe(k)}",
        "fold or unfold what lies over it first",
        "or turn the model over, if the flap lies free on the other side",
        span=request.span,
    )
