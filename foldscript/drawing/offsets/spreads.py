"""Layers moved apart: where every facet is drawn.

In: what `layers` found. Out: outlines of facets as drawn, and where any point of a facet is drawn.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from ...geometry.lines import Point, Segment, cross, distance, point_on_segment, subtract
from ...geometry.polygons import Polygon
from ...paper.state import State
from .covers import Covers
from .half_edges import HalfEdge


@dataclass(frozen=True)
class Spread:
    """Facets with their corners moved a little apart.

    Attributes
    ----------
    rings : corner numbers around each facet, in the order of its placed outline (more corners than
        the outline where a neighbour has a corner on its side)
    spots : for each facet, the true folded place of those corners
    moves : how far each corner is moved, in folded coordinates
    half_edges : sides that may be seen as edges
    stacked : (half-edge of an upper layer, half-edge of a lower one, where they share a place), by index
    covers : which layers lie over which; None where there is one alone
    """

    state: State
    rings: tuple[tuple[int, ...], ...]
    spots: tuple[Polygon, ...]
    moves: tuple[Point, ...]
    half_edges: tuple[HalfEdge, ...]
    stacked: tuple[tuple[int, int, Segment], ...] = ()
    covers: Covers | None = field(default=None, compare=False)

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
