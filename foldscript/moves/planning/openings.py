"""Which opening a tab goes into, where its unit has several at that place.

In: the paper with the tab in its place, and the way that it came. Out: an `Opening` sign in folded
coordinates; None where there is one opening only.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...geometry.lines import Point, cross, dot, midpoint, scale, subtract
from ...paper.signs import Opening
from ...paper.state import State

#: How far behind its foremost end a tab is looked at, and in what steps to where it goes in (sheet units).
_STEP = 5e-3
#: Layers that have one opening between them.
_ONE_OPENING = 2


def opening(after: State, mine: Sequence[int], tip: Point, way: Point) -> Opening | None:
    """The opening that pieces `mine` are in, their foremost end at `tip`; they came in direction `way`."""
    inside = subtract(tip, scale(way, _STEP))
    stack = after.facets_at(inside)
    own = [n for n, k in enumerate(stack) if k in mine]
    if not own:
        return None
    over, under = stack[: own[0]], stack[own[-1] + 1 :]
    near = [*over[-1:], *under[:1]]
    sheets = {after.sheets[k] for k in near}
    above = [k for k in over if after.sheets[k] in sheets]
    below = [k for k in under if after.sheets[k] in sheets]
    if not above or not below or len(above) + len(below) <= _ONE_OPENING:
        return None
    at = inside
    while all(k in after.facets_at(at) for k in near):
        at = subtract(at, scale(way, _STEP))
    return Opening(at, way, len(above), len(below), _folds(after, [*above, *below], inside, way))


def _folds(
    after: State, layers: Sequence[int], inside: Point, way: Point
) -> tuple[tuple[int, int, bool], ...]:
    """Layers that a fold across the way joins, and whether it is behind the place that is looked at."""
    row = {after.plate_of[k]: n for n, k in enumerate(layers)}
    found: set[tuple[int, int, bool]] = set()
    for joint, (p, q) in after.fold_segments:
        ends = row.get(after.plate_of[joint.a]), row.get(after.plate_of[joint.b])
        across = cross(way, subtract(p, inside)) * cross(way, subtract(q, inside)) < 0
        if ends[0] is not None and ends[1] is not None and across:
            behind = dot(way, subtract(midpoint(p, q), inside)) < 0
            found.add((min(ends[0], ends[1]), max(ends[0], ends[1]), behind))
    return tuple(sorted(found))
