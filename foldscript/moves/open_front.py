"""Whether a flap that is to be raised lies free in front."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..paper.flap import Blocked
from ..paper.state import State


def refuse_covered(state: State, origin: Sequence[int], moved: Iterable[int]) -> None:
    """Raises Blocked (facets by `origin`, of the undivided state) when other paper lies over it."""
    moving = set(moved)
    for i in sorted(moving):
        for k in sorted(state.neighbours[i] - moving):
            if state.above(k, i):
                raise Blocked(origin[i], origin[k])
