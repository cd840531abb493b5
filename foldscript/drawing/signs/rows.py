"""Rows beside a line: where marks of lengths lie, outside the paper where they can.

In: a row of parts along a line, on the page, and what lies around. Out: the side that they lie on, and how
far off the line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ..placement.obstacles import Obstacles, near
from ..scene.outlines import toward
from ..scene.scene import Point

#: Edges of the paper so near the ends of a row amid it do not hinder: corners are crossed there (points).
_AT_ENDS = 8.0
#: How far off the edge they lie: outside the paper, beyond two arrows there, and on the paper.
_OFF, _OFF_WIDE, _OFF_ON_PAPER = 6.2, 9.0, 4.6

#: How far apart rows lie beside one another, and the most of them that are tried.
_ROW, _MOST_ROWS = 8.0, 3

Row = Sequence[tuple[Point, Point]]


def side_of(drawn: Row, around: Obstacles, wide: Sequence[Point] = ()) -> tuple[Point, float]:
    """The normal of the side that a row lies on, and how far off its line, clear of rows that lie there.

    Outside the paper where there is an outside, else on the side that the fewest lines cross. `wide` are
    places where two arrows leave side by side, and need room.
    """
    (start, _), (_, end) = drawn[0], drawn[-1]
    ux, uy = toward(start, end)
    mids = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in drawn]
    sides = ((-uy, ux), (uy, -ux))
    covered = [sum(around.covers([(x + 4 * nx, y + 4 * ny) for x, y in mids])) for nx, ny in sides]
    best = sides[0] if covered[0] <= covered[1] else sides[1]
    if min(covered) == 0:
        parted = any(math.dist(p, q) < 3.0 for p in wide for q in (start, end))
        first = _OFF_WIDE if parted else _OFF
        return best, next(
            (
                first + k * _ROW
                for k in range(_MOST_ROWS)
                if _is_free(drawn, best, first + k * _ROW, around)
            ),
            first,
        )
    reach = _AT_ENDS if min(covered) == len(mids) else 2.0

    def crossed(normal: Point) -> int:
        row = [
            (x + _OFF_ON_PAPER * normal[0], y + _OFF_ON_PAPER * normal[1]) for x, y in (start, end)
        ]
        return 2 * _folds_across(row[0], row[1], around) + max(
            0, _edges_across(row[0], row[1], around, reach) - 1
        )

    return min(sides, key=lambda n: (crossed(n), n != best)), _OFF_ON_PAPER


def _is_free(drawn: Row, normal: Point, off: float, around: Obstacles) -> bool:
    """Whether no other row lies so far off."""
    (nx, ny), spots = normal, [p for part in drawn for p in part]
    return not near([(x + off * nx, y + off * ny) for x, y in spots], around.ruled, 2.0).any()


def _folds_across(start: Point, end: Point, around: Obstacles) -> int:
    """How many fold lines cross the way between two points."""
    import shapely

    if not around.strokes:
        return 0
    way = shapely.LineString([start, end])
    return int(shapely.intersects(way, shapely.linestrings(around.strokes)).sum())


def _edges_across(start: Point, end: Point, around: Obstacles, at_ends: float) -> int:
    """How many edges of the paper lie across the way between two points, but for so much at its ends."""
    import shapely

    if around.edges is None:
        return 0
    (x, y), (ux, uy) = start, toward(start, end)
    r = min(at_ends, math.dist(start, end) / 3)
    inner = [(x + r * ux, y + r * uy), (end[0] - r * ux, end[1] - r * uy)]
    meet = shapely.intersection(shapely.LineString(inner), around.edges)
    return int(shapely.get_num_geometries(meet)) if not meet.is_empty else 0
