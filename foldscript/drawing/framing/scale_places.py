"""Where the sign stands that tells of another scale: near the step's number, clear of everything.

In: the outline of the paper before anything is drawn, or all ink of a figure. Out: the top right corner
of the sign, in the frame. Its place is planned first, so that arrows and letters mind it, high on the
left, where the eye comes from the step's number; when all is drawn it is looked over, and gives way. Where
a figure leaves no room in its frame, the sign stands above it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from ...geometry.polygons import Polygon
from ..scene.groups import Sketch
from ..scene.outlines import Box, item_box
from ..scene.scene import Path, Point
from ..scene.strokes import polylines
from .corner_places import clear

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: Width at the frame's upper left that is left to the step's number (points).
_NUMBER = 24.0
#: How far the sign keeps off paper, when planned and at least, and off other ink (points).
_OFF, _AIR = 4.0, 2.0
#: How far apart the places are that are tried along a side (points).
_STEP = 3.0
#: How far the paper may be moved down for it, and how far off the frame's edge it stays (points).
_DOWN, _LOWEST = (3.0, 6.0, 9.0), 3.0


def planned(
    hull: Polygon,
    scale: float,
    spot: Point,
    taken: Iterable[Box],
    size: tuple[float, float],
    frame: tuple[float, float],
) -> tuple[Point, float]:
    """A place above the left side of the paper, else the first along the left side or the right that is free.

    `hull` is the paper about its middle `spot`, at so many points a unit; `taken` what other signs fill.
    Also how far the paper is to be moved down for it, a little at most.
    """
    wide, high = size
    top = max(1.0, spot[1] + min(p[1] for p in hull) * scale)
    low = spot[1] + max(p[1] for p in hull) * scale
    left, right = _NUMBER + wide, frame[0] - 1.0
    above = [(left, top), (left, max(0.0, top - high - 3.0)), (left, 0.0)]
    sides = [*_along(left, high, frame[1]), *_along(right, high, frame[1])]
    boxes = list(taken)

    def free(at: Point, down: float, slack: float) -> bool:
        x, y = at
        box = (x - wide, y, x, y + high)
        if any(_common(box, b) for b in boxes):
            return False
        return clear(hull, (spot[0], spot[1] + down), (box, *boxes), scale, slack)

    downs = [0.0, *(d for d in _DOWN if low + d <= frame[1] - _LOWEST)]
    for down, at in ((d, at) for d in downs for at in above):
        if free(at, down, _OFF if at[1] == top and not down else _AIR):
            return at, down
    for slack in (_OFF, _AIR):
        for at in sides:
            if free(at, 0.0, slack):
                return at, 0.0
    return (left, min([0.0, top - high - _AIR, *(b[1] - high - _AIR for b in boxes)])), 0.0


def looked_over(
    at: Point, ink: Sketch, taken: Sequence[Box], size: tuple[float, float], frame: Box
) -> Point:
    """The same place, or where ink lies there the nearest on the left that is free, else the first of the
    frame's that is, or above all ink."""
    import numpy
    import shapely

    shapes = [*_shapes(ink), *(shapely.box(*b) for b in taken)]
    wide, high = size
    x0, y0, x1, y1 = frame
    deep = y1 - y0
    left, right = x0 + _NUMBER + wide, x1 - 1.0
    across = numpy.arange(left, right, _STEP).tolist()
    down = [[(x, y0 + y) for x, y in _along(side, high, deep)] for side in (left, right)]
    near = sorted(down[0], key=lambda place: abs(place[1] - at[1]))
    tries = [at, *near, *((x, y0) for x in across), *down[1], *((x, y1 - high) for x in across)]
    boxes = shapely.box(*numpy.array([(x - wide, y, x, y + high) for x, y in tries]).T)
    tree = shapely.STRtree(shapes)
    for air in (_AIR, 0.5):
        met = set(tree.query(boxes, predicate="dwithin", distance=air)[0].tolist())
        for k, place in enumerate(tries):
            if k not in met:
                return place
    top = min(float(shapely.bounds(shape)[1]) for shape in shapes)
    return left, top - _AIR - high


def _along(x: float, high: float, deep: float) -> list[Point]:
    """Places down a side: the highest first."""
    count = max(1, int((deep - high) / _STEP))
    return [(x, (deep - high) * k / count) for k in range(count + 1)]


def _shapes(ink: Sketch) -> list[BaseGeometry]:
    """What the sign must not touch: areas of paper, strokes, letters' boxes."""
    import shapely

    out: list[BaseGeometry] = []
    for group in ink.groups:
        for item in group.items:
            if isinstance(item, Path):
                area = group.kind == "paper" or item.role in ("sign.open", "arrow.head")
                strokes = [p for p in polylines([item]) if len(p) > (3 if area else 1)]
                out += [shapely.Polygon(p) if area else shapely.LineString(p) for p in strokes]
            elif (box := item_box(item)) is not None:
                out.append(shapely.box(*box))
    return out


def _common(a: Box, b: Box) -> bool:
    """Whether two boxes meet."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
