"""Areas that polygons cover together, what is left of them, and their outer boundaries.

In: polygons that may overlap. Out: areas as shapely geometries; or closed rings, counter-clockwise, without
collinear corners, their corners those of the polygons or crossings of their sides to the last bit.

Where corners all but touch, joining and cutting in floating numbers may yield an area that is none (a
hole outside its shell), or fail; on a grid it does not.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from itertools import combinations
from typing import TYPE_CHECKING

from .lines import Point, Segment, line_through, meet, point_on_segment
from .polygons import Polygon, bounds, edges, tidy
from .tolerance import EPS

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: Areas parted off by sides that all but lie on each other are smaller than this (square sheet units).
_SLIVER = 1e-7


def union(polygons: Iterable[Polygon]) -> BaseGeometry:
    """The area as a shapely geometry (tiny gaps from rounding closed)."""
    import shapely

    areas = [shapely.Polygon(p) for p in polygons]
    with suppress(shapely.errors.GEOSException):
        return shapely.union_all(areas, grid_size=EPS)
    return joined(
        areas
    )  # parts that touch at corners all round a hole: rounded, it is in none of them


def joined(areas: Sequence[BaseGeometry]) -> BaseGeometry:
    """All that some areas cover."""
    import shapely

    return _settled(lambda some, grid: shapely.union_all(some, grid_size=grid), areas)


def common(area: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """What two areas have in common."""
    import shapely

    return _settled(lambda two, grid: shapely.intersection(*two, grid_size=grid), (area, other))


def less(area: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """What another area leaves of one."""
    import shapely

    return _settled(lambda two, grid: shapely.difference(*two, grid_size=grid), (area, other))


def _settled(
    made: Callable[[Sequence[BaseGeometry], float | None], BaseGeometry],
    areas: Sequence[BaseGeometry],
) -> BaseGeometry:
    """An area in floating numbers; where these fail, or yield or were given none that is valid, on a grid."""
    import shapely

    if shapely.is_valid(areas).all():
        with suppress(shapely.errors.GEOSException):
            found = made(areas, None)
            if shapely.is_valid(found):
                return areal(found)
    return areal(made([areal(shapely.make_valid(area)) for area in areas], EPS))


def areal(geometry: BaseGeometry) -> BaseGeometry:
    """A geometry without the lines and points that came with its areas."""
    import shapely

    if geometry.geom_type in ("Polygon", "MultiPolygon"):
        return geometry
    parts = [polygon for part in shapely.get_parts(geometry) for polygon in shapely.get_parts(part)]
    polygons = [polygon for polygon in parts if polygon.geom_type == "Polygon"]
    return shapely.multipolygons(polygons) if polygons else shapely.MultiPolygon()


def cells(polygons: Iterable[Polygon]) -> list[tuple[Point, BaseGeometry]]:
    """The areas that the sides of polygons part off, without slivers, each with a point inside it.

    Their order follows from where they lie.
    """
    import shapely

    lines = [shapely.LinearRing(ring) for ring in polygons]
    found: list[tuple[Point, BaseGeometry]] = []
    for cell in shapely.polygonize([shapely.union_all(lines, grid_size=EPS)]).geoms:
        if cell.area >= _SLIVER:
            spot = cell.representative_point()
            found.append(((float(spot.x), float(spot.y)), cell))
    return sorted(found, key=lambda one: (round(one[0][0], 7), round(one[0][1], 7)))


def outlines(polygons: Sequence[Polygon]) -> tuple[Polygon, ...]:
    """Outer boundaries of the area."""
    return tuple(outer for outer, _ in rims(polygons))


def rims(polygons: Sequence[Polygon]) -> tuple[tuple[Polygon, tuple[Polygon, ...]], ...]:
    """The boundary of every part of the area: the outer one, and those of its holes, which run clockwise."""
    import shapely

    corners = list(dict.fromkeys(p for ring in polygons for p in ring))
    sides = list(dict.fromkeys(side for ring in polygons for side in edges(ring)))

    def exact(ring: BaseGeometry) -> Polygon:
        spots = shapely.get_coordinates(ring)[:-1]
        return tidy(_exact((float(x), float(y)), corners, sides) for x, y in spots)

    found: list[tuple[Polygon, tuple[Polygon, ...]]] = []
    whole = union(polygons)
    if len(shapely.get_parts(whole)) > 1:
        whole = union([_meeting(ring, corners) for ring in polygons])
    for part in shapely.get_parts(shapely.orient_polygons(whole)):
        outer = exact(part.exterior)
        if outer:
            holes = (exact(hole) for hole in part.interiors)
            found.append((outer, tuple(hole for hole in holes if hole)))
    return tuple(found)


def _meeting(ring: Polygon, corners: Sequence[Point]) -> Polygon:
    """A ring with the corners of others that lie on its sides: rounded, they could come to lie beside them,
    and what touches there would be apart."""
    found: list[Point] = []
    near = _within(corners, ring)
    for p, q in edges(ring):
        on = [
            c
            for c in _within(near, (p, q))
            if point_on_segment((p, q), c, EPS) and min(math.dist(c, p), math.dist(c, q)) > EPS
        ]
        found.extend((p, *sorted(on, key=lambda c: math.dist(c, p))))
    return tuple(found)


def _within(spots: Sequence[Point], ring: Sequence[Point]) -> list[Point]:
    """Those that lie in the box about others, or hardly outside it."""
    x0, y0, x1, y1 = bounds(ring)
    return [p for p in spots if x0 - EPS <= p[0] <= x1 + EPS and y0 - EPS <= p[1] <= y1 + EPS]


def _exact(p: Point, corners: Iterable[Point], sides: Iterable[Segment]) -> Point:
    """A point of the union, which is rounded to a grid, as the corner or the crossing that it is."""
    near = min(corners, key=lambda q: math.dist(p, q))
    if math.dist(p, near) <= 4 * EPS:
        return near
    (x, y), slack, wide = p, 4 * EPS, 8 * EPS
    lines = [
        line_through(*side)
        for side in sides
        if min(side[0][0], side[1][0]) - wide <= x <= max(side[0][0], side[1][0]) + wide
        and min(side[0][1], side[1][1]) - wide <= y <= max(side[0][1], side[1][1]) + wide
        and point_on_segment(side, p, slack)
    ]
    # the two that cross most squarely
    crossings = [(abs(a.nx * b.ny - a.ny * b.nx), a, b) for a, b in combinations(lines, 2)]
    if not crossings:
        return p
    _, one, other = max(crossings, key=lambda item: round(item[0], 9))
    return meet(one, other) or p
