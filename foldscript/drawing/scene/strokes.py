"""Strokes of paths as points along them, and the places that closed outlines cover.

In: paths. Out: polylines close enough to every curve for measuring, and shapely geometries.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import reduce
from typing import TYPE_CHECKING

from .outlines import samples, subpaths, walk
from .scene import Close, Curve, Draw, Move, Path, Point, Segment

if TYPE_CHECKING:
    import shapely
    from shapely.geometry.base import BaseGeometry

#: A crease that comes nearer to an edge than this ends at it (points).
_AT_EDGE = 0.9
#: Shorter creases are left out (points); between two edges they look like pinches sooner.
_SHORT, _SHORT_BETWEEN = 1.5, 3.0
#: Pieces that a curve is cut into.
_PIECES = 24


def polylines(items: Iterable[Path]) -> list[list[Point]]:
    """Every stroke of paths as points along it."""
    out: list[list[Point]] = []
    for item in items:
        for piece in subpaths(item.segments):
            points: list[Point] = []
            for segment, here, start in walk(piece):
                if isinstance(segment, Move | Draw):
                    points.append(segment.to)
                elif isinstance(segment, Curve):
                    curve = (here, segment.first, segment.second, segment.to)
                    points += samples(curve, _PIECES)[1:]
                elif isinstance(segment, Close):
                    points.append(start)
            out.append(points)
    return out


def along(items: Iterable[Path]) -> list[Point]:
    """Points along every stroke of paths."""
    return [p for line in polylines(items) for p in line]


def covered(outlines: Iterable[Sequence[Point]]) -> shapely.Polygon | shapely.MultiPolygon:
    """The place that an area of these closed outlines covers, without its holes."""
    import shapely

    rings = [shapely.Polygon(ring) for ring in outlines if len(ring) > 3]
    sound = [r if shapely.is_valid(r) else shapely.buffer(r, 0) for r in rings]
    area = reduce(shapely.symmetric_difference, sound, shapely.Polygon())
    assert isinstance(area, shapely.Polygon | shapely.MultiPolygon)
    return area


def kept_short(
    runs: Sequence[tuple[Point, Point]], edges: BaseGeometry, inset: float
) -> tuple[Segment, ...]:
    """Straight creases, each ending so far short of the edges that it meets (points); () for none."""
    if not runs:
        return ()
    import numpy
    import shapely

    near = numpy.asarray(shapely.distance(shapely.points(runs), edges) < _AT_EDGE)
    strokes: list[Segment] = []
    for (start, end), (at_start, at_end) in zip(runs, near, strict=True):
        n = math.dist(start, end)
        lo, hi = (inset if at_start else 0.0), (inset if at_end else 0.0)
        if n - lo - hi < (_SHORT_BETWEEN if at_start and at_end else _SHORT):
            continue
        ux, uy = (end[0] - start[0]) / n, (end[1] - start[1]) / n
        strokes.append(Move((start[0] + ux * lo, start[1] + uy * lo)))
        strokes.append(Draw((end[0] - ux * hi, end[1] - uy * hi)))
    return tuple(strokes)
