"""The area that convex polygons cover together, as its outer boundaries.

In: polygons that may overlap. Out: closed rings, counter-clockwise, without collinear corners, their
corners those of the polygons or crossings of their sides to the last bit.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import combinations
from typing import TYPE_CHECKING

from .lines import Point, Segment, line_through, meet, point_on_segment
from .polygons import Polygon, edges, tidy
from .tolerance import EPS

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


def union(polygons: Iterable[Polygon]) -> BaseGeometry:
    """The area as a shapely geometry (tiny gaps from rounding closed)."""
    import shapely

    return shapely.union_all([shapely.Polygon(p) for p in polygons], grid_size=1e-9)


def outlines(polygons: Sequence[Polygon]) -> tuple[Polygon, ...]:
    """Outer boundaries of the area."""
    import shapely

    corners = list(dict.fromkeys(p for ring in polygons for p in ring))
    sides = list(dict.fromkeys(side for ring in polygons for side in edges(ring)))
    rings: list[Polygon] = []
    for part in shapely.get_parts(union(polygons)):
        ring = shapely.get_coordinates(shapely.orient_polygons(part).exterior)[:-1]
        rings.append(tidy(_exact((float(x), float(y)), corners, sides) for x, y in ring))
    return tuple(r for r in rings if r)


def _exact(p: Point, corners: Iterable[Point], sides: Iterable[Segment]) -> Point:
    """A point of the union, which is rounded to a grid, as the corner or the crossing that it is."""
    near = min(corners, key=lambda q: math.dist(p, q))
    if math.dist(p, near) <= 4 * EPS:
        return near
    lines = [line_through(*side) for side in sides if point_on_segment(side, p, 4 * EPS)]
    # the two that cross most squarely
    crossings = [(abs(a.nx * b.ny - a.ny * b.nx), a, b) for a, b in combinations(lines, 2)]
    if not crossings:
        return p
    _, one, other = max(crossings, key=lambda item: round(item[0], 9))
    return meet(one, other) or p
