"""Corners in use: a new point near one of them becomes that very point.

In: points from any computation. Out: one representative for all points that coincide within
tolerance, so that facets share corners to the last bit.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product

from ..geometry.lines import Point, distance
from ..geometry.polygons import Polygon
from ..geometry.tolerance import EPS

#: Cell width in which corners are looked up; far above the tolerance.
GRAIN = 1e-7
_AROUND = tuple(product((0, -1, 1), repeat=2))


class Corners:
    """Known points, numbered in the order in which they came."""

    def __init__(self, points: Iterable[Point] = ()) -> None:
        self.points: list[Point] = []
        self._cells: dict[tuple[int, int], list[int]] = {}
        for p in points:
            self.index(p)

    def index(self, p: Point) -> int:
        """Number of the known point that p coincides with; p becomes known when there is none."""
        x, y = p[0] / GRAIN, p[1] / GRAIN
        cx, cy = round(x), round(y)
        amid = abs(x - cx) < 0.45 and abs(y - cy) < 0.45
        for dx, dy in _AROUND[:1] if amid else _AROUND:
            for k in self._cells.get((cx + dx, cy + dy), ()):
                if distance(p, self.points[k]) <= EPS:
                    return k
        self._cells.setdefault((cx, cy), []).append(len(self.points))
        self.points.append(p)
        return len(self.points) - 1

    def one(self, p: Point) -> Point:
        """The known point that p coincides with."""
        return self.points[self.index(p)]

    def snap(self, poly: Polygon) -> Polygon:
        """The polygon with known corners."""
        return tuple(self.one(p) for p in poly)
