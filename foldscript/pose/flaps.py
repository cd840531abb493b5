"""The flap that a point of the sheet is the tip of: what goes with it, and how far it is free.

In: the flat state and a point at the rim of the sheet. Out: facets and lengths. What goes with a point
beyond a line is told by the paper: facets that hang together there, be it over folds.
"""

from __future__ import annotations

import math
from collections import defaultdict, deque
from collections.abc import Iterable, Sequence

from ..geometry import polygons
from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import Line, Point, Segment, distance, dot, signed_distance, subtract
from ..geometry.tolerance import EPS
from ..paper.state import State

#: Sheet units within which a place is on a line.
ON = 1e-6
#: Farther than any paper reaches (sheet units).
_FAR = 1e3


def own(state: State, point: Point) -> frozenset[int]:
    """Facets of the plates that meet in a point of the sheet."""
    return frozenset(k for f in state.facets_on_sheet(point) for k in state.plate(f))


def leading(state: State, point: Point, spot: Point) -> int:
    """The facet at a point of the sheet that a place of the folded plane lies on, or nearest to."""
    here = state.facets_on_sheet(point)
    return max(here, key=lambda f: (round(polygons.depth(state.placed[f], spot), 6), -f))


def on_sheet(state: State, point: Point, spot: Point) -> Point:
    """The place of the sheet that lies at a place of the folded plane, on the layer of a point."""
    return inverse(state.facets[leading(state, point, spot)].place)(spot)


def in_plane(state: State, point: Point, begins: Point) -> tuple[int, Point, Point]:
    """The facet that leads a roll, and where its point and its beginning lie in the folded plane."""
    here = state.facets_on_sheet(point)
    facet = max(here, key=lambda f: (round(polygons.depth(state.facets[f].outline, begins), 6), -f))
    place = state.facets[facet].place
    return facet, place(point), place(begins)


def beyond(state: State, point: Point, lines: Iterable[Line]) -> frozenset[int]:
    """Facets that hang together with a point of the sheet on the positive side of all these lines."""
    sides = list(lines)
    joined: dict[int, list[int]] = defaultdict(list)
    for joint in state.joints:
        ends = map_segment(state.facets[joint.a].place, joint.segment)
        if _reaches(ends, sides):
            joined[joint.a].append(joint.b)
            joined[joint.b].append(joint.a)
    found = set(state.facets_on_sheet(point))
    waiting = deque(sorted(found))
    while waiting:
        for other in joined[waiting.popleft()]:
            if other not in found:
                found.add(other)
                waiting.append(other)
    return frozenset(found)


def _reaches(ends: Segment, sides: Sequence[Line]) -> bool:
    """Whether some of a segment lies on the positive side of all lines."""
    low, high = 0.0, 1.0
    for line in sides:
        a, b = (signed_distance(line, p) - ON for p in ends)
        if a <= 0 and b <= 0:
            return False
        if a < 0 < b:
            low = max(low, a / (a - b))
        elif b < 0 < a:
            high = min(high, a / (a - b))
    return high - low > ON


def across(tip: Point, way: Point, far: float) -> Line:
    """The line across a way, so far from its tip; the tip lies on its positive side."""
    nx, ny = -way[0], -way[1]
    return Line(nx, ny, nx * tip[0] + ny * tip[1] - far)


def inward(state: State, point: Point) -> Point | None:
    """The unit way from a corner or an edge into its flap: it halves the angle. None amid the paper."""
    found: set[float] = set()
    for facet in state.facets_on_sheet(point):
        at = state.facets[facet].place(point)
        ring = [p for p in state.placed[facet] if distance(p, at) > EPS]
        found |= {round(math.atan2(*subtract(p, at)[::-1]), 9) for p in ring}
    ways = sorted(found)
    gaps = [
        ((b - a) % (2 * math.pi) or 2 * math.pi, b)
        for a, b in zip(ways, [*ways[1:], ways[0]], strict=True)
    ]
    gap, first = max(gaps)
    if gap < math.pi - ON:
        return None
    middle = first + (2 * math.pi - gap) / 2
    return (round(math.cos(middle), 12), round(math.sin(middle), 12))


def depth_along(state: State, point: Point, tip: Point, way: Point) -> float:
    """How far a point's plates reach along a way from the tip (sheet units)."""
    return max(dot(subtract(p, tip), way) for k in own(state, point) for p in state.placed[k])


def free(state: State, point: Point, tip: Point, way: Point) -> float | None:
    """How far from its tip a flap is free (sheet units): as far as nothing but its own plates hangs together
    with it. None where nothing ever does."""
    mine = own(state, point)
    ends = sorted(
        dot(subtract(p, tip), way)
        for joint in state.joints
        for p in map_segment(state.facets[joint.a].place, joint.segment)
    )
    last = 0.0
    for far in [*(e for e in ends if e > ON), _FAR]:
        if not beyond(state, point, [across(tip, way, far)]) <= mine:
            return last
        last = far
    return None
