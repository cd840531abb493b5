"""Parts of units that are bent at hinges: faces and tabs, and tabs in the pockets of faces.

In: pieces of paper in the flat plane. Out: plain values, and what segments and areas have in common.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from ..geometry.lines import Point
from .pieces import Array

#: Overlaps below this area (square sheet units) are only shared edges.
OVERLAP = 1e-5


@dataclass(frozen=True, eq=False)
class Section:
    """Pieces of one unit that no hinge parts: `hinges` are its seams, they and `outline` lie in the flat
    plane; a tab has one line of hinges, a face has several.
    """

    sheet: int
    members: tuple[int, ...]
    outline: shapely.Geometry
    hinges: tuple[tuple[Point, Point], ...]

    @property
    def tab(self) -> bool:
        """Whether it hangs at one line."""
        return len({line_of(*ends) for ends in self.hinges}) == 1

    def beside(self, other: Section) -> bool:
        """Whether it hangs at the same line as another tab, and lies on the same side of that."""
        same = line_of(*self.hinges[0]) == line_of(*other.hinges[0])
        return same and overlap(self.outline, other.outline)


@dataclass(frozen=True, eq=False)
class Tucked:
    """A tab in a pocket: of the layers of the face where it lies those below it and those over it, and its
    area in the flat plane of the face.
    """

    tab: Section
    below: frozenset[int]
    over: frozenset[int]
    area: shapely.Geometry

    def order(self, other: Tucked) -> int:
        """1 where a layer of the face tells that it lies over another tab, -1 where under it, else 0."""
        return bool(self.below & other.over) - bool(self.over & other.below)


def overlap(one: shapely.Geometry, other: shapely.Geometry) -> bool:
    """Whether two areas have more than an edge in common."""
    return bool(shapely.area(shapely.intersection(one, other)) > OVERLAP)


def line_of(p: Point, q: Point) -> tuple[float, float, float]:
    """A line, alike for all parts of it."""
    (px, py), (qx, qy) = p, q
    a, b = py - qy, qx - px
    size = math.hypot(a, b) * (1 if (round(a, 9), round(b, 9)) > (0, 0) else -1)
    return tuple(round(v / size, 6) + 0.0 for v in (a, b, -(a * px + b * py)))  # type: ignore[return-value]


def along(p: Point, q: Point, r: Point, s: Point) -> bool:
    """Whether two segments have more than a point in common."""
    one, other = shapely.LineString([p, q]), shapely.LineString([r, s])
    return float(shapely.length(shapely.intersection(shapely.buffer(one, 1e-6), other))) > 1e-4


def on_page(seat: Array, p: Point) -> Point:
    """Where a motion (4 × 4) brings a place of the flat plane, seen from above."""
    x, y, _, _ = seat @ np.array([p[0], p[1], 0.0, 1.0])
    return float(x), float(y)


def corners(outline: shapely.Geometry) -> list[Point]:
    """The corners of an outline without dents."""
    return [
        (float(x), float(y)) for x, y in shapely.get_coordinates(shapely.convex_hull(outline))[:-1]
    ]
