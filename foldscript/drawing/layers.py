"""Coincident layers drawn slightly apart.

In: a state and how far apart two layers that end in the same place may be drawn. Out: a `Spread`:
every facet's outline with its corners moved a little. The moves belong to the corners of the
*sheet*, one for all facets that meet there, so no joint opens; how large they are is settled in
`fanning`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..geometry import polygons
from ..geometry.lines import Point, Segment, cross, distance, dot, point_on_segment, subtract
from ..geometry.polygons import Polygon
from ..paper.state import State
from .bends import bent
from .fanning import settled
from .rims import Rim, corners, is_upper, rims_of
from .stacks import Stacks

#: Where there are more facets than this they are small, and layers are drawn closer together.
_MANY = 30


@dataclass(frozen=True)
class Spread:
    """Facets with their corners moved a little apart.

    Attributes
    ----------
    rings : corner numbers around each facet, in the order of its placed outline (more corners than
        the outline where a neighbour has a corner on its side)
    spots : for each facet, the true folded place of those corners
    moves : how far each corner is moved, in folded coordinates
    rims : sides that may be seen as edges
    stacked : (rim of an upper layer, rim of a lower one, where they share a place); rims by index
    """

    state: State
    rings: tuple[tuple[int, ...], ...]
    spots: tuple[Polygon, ...]
    moves: tuple[Point, ...]
    rims: tuple[Rim, ...]
    stacked: tuple[tuple[int, int, Segment], ...] = ()

    def shape(self, facet: int) -> Polygon:
        """Outline of a facet as drawn (folded coordinates)."""
        return tuple(
            (p[0] + self.moves[v][0], p[1] + self.moves[v][1])
            for v, p in zip(self.rings[facet], self.spots[facet], strict=True)
        )

    def at(self, facet: int, p: Point) -> Point:
        """Where a point of a facet is drawn; both in folded coordinates."""
        dx, dy = self._move_at(facet, p)
        return (p[0] + dx, p[1] + dy)

    def _move_at(self, facet: int, p: Point) -> Point:
        ring, spots = self.rings[facet], self.spots[facet]
        n = len(ring)
        corner = [self.moves[v] for v in ring]
        if all(math.hypot(*m) <= 1e-12 for m in corner):
            return (0.0, 0.0)
        for i in range(n):
            a, b = spots[i], spots[(i + 1) % n]
            if point_on_segment((a, b), p, 1e-7):
                t = distance(a, p) / distance(a, b)
                return _mix(((corner[i], 1 - t), (corner[(i + 1) % n], t)))
        middle = (sum(q[0] for q in spots) / n, sum(q[1] for q in spots) / n)
        mean = _mix(tuple((m, 1 / n) for m in corner))
        for i in range(n):
            a, b = spots[i], spots[(i + 1) % n]
            whole = cross(subtract(b, a), subtract(middle, a))
            u = cross(subtract(b, p), subtract(middle, p)) / whole
            v = cross(subtract(middle, p), subtract(a, p)) / whole
            if u >= -1e-9 and v >= -1e-9 and u + v <= 1 + 1e-9:
                return _mix(((corner[i], u), (corner[(i + 1) % n], v), (mean, 1 - u - v)))
        near = min(range(n), key=lambda i: distance(spots[i], p))
        return corner[near]


def _mix(parts: tuple[tuple[Point, float], ...]) -> Point:
    return (sum(m[0] * w for m, w in parts), sum(m[1] * w for m, w in parts))


def spread(state: State, gap: float, most: float) -> Spread:
    """Moves the corners of a state: layers `gap` apart, a whole stack at most `most` (sheet units)."""
    rings, spots, count = corners(state)
    rims = rims_of(state, rings, spots)
    still = Spread(state, rings, spots, ((0.0, 0.0),) * count, rims)
    if len(state.facets) < 2:
        return still
    picked = [k for k, r in enumerate(rims) if r.mate is None or is_upper(state, r)]
    edges = [rims[k] for k in picked]
    stacks = Stacks(state, edges)
    stacked = tuple((picked[a], picked[b], seg) for a, b, seg, over in stacks.pairs if over)
    still = replace(still, stacked=stacked)
    if gap <= 0:
        return still
    closer = min(1.0, math.sqrt(_MANY / len(state.facets)))
    gap, most = closer * gap, closer * most
    moves = settled(state, rings, spots, rims, edges, stacks, count, gap, most)
    for _ in range(6):
        found = replace(still, moves=moves)
        if all(_sound(found, i) for i in range(len(rings))) and _simple(found):
            bowed = bent(found, gap)
            if all(_sound(bowed, i) for i in range(len(rings))) and _simple(bowed):
                return bowed
            return found
        moves = tuple((m[0] / 2, m[1] / 2) for m in moves)
    return still


def _simple(found: Spread) -> bool:
    """Whether no outline crosses itself."""
    import shapely

    points = [p for i in range(len(found.rings)) for p in found.shape(i)]
    owners = [i for i, ring in enumerate(found.rings) for _ in ring]
    outlines = shapely.polygons(shapely.linearrings(points, indices=owners))
    return bool(shapely.is_valid(outlines).all())


def _sound(found: Spread, facet: int) -> bool:
    """Whether a facet, its corners moved, has kept its shape (a sliver must not turn inside out)."""
    before, after = found.spots[facet], found.shape(facet)
    if polygons.area(after) < 0.35 * polygons.area(before):
        return False
    n = len(after)
    return all(
        dot(subtract(after[(i + 1) % n], after[i]), subtract(before[(i + 1) % n], before[i])) > 0
        for i in range(n)
    )
