"""Points that lie on each other: which of them is on top.

In: the paper, the points that have names, a place. Out: their names, the topmost first, and that in words.
"""

from __future__ import annotations

from collections.abc import Mapping

from ..geometry.lines import Point
from ..geometry.tolerance import same_point
from .state import State

#: Names that are told of one place.
_MOST = 4


def heap_at(state: State, points: Mapping[str, Point], spot: Point) -> tuple[str, ...]:
    """Names of places of the sheet that lie at a folded point, the topmost first; one for each place."""
    stack = {facet: depth for depth, facet in enumerate(state.facets_at(spot))}
    found: list[tuple[int, str, Point]] = []
    for name, at in points.items():
        depths = [stack[i] for i in state.facets_on_sheet(at) if i in stack]
        known = any(same_point(at, other) for _, _, other in found)
        if depths and not known and same_point(state.where(at), spot):
            found.append((min(depths), name, at))
    return tuple(name for _, name, _ in sorted(found, key=lambda one: one[0]))


def on_top(state: State, points: Mapping[str, Point], spot: Point) -> str:
    """'C on top of A and B': how named points lie on each other at a place; '' where less than two do."""
    top, *under = heap_at(state, points, spot) or ("",)
    if not under:
        return ""
    *some, last = under[: _MOST - 1]
    more = len(under) - len(some) - 1
    if more:
        some, last = [*some, last], f"{more} more"
    return f"{top} on top of {', '.join(some)}{' and ' if some else ''}{last}"
