"""Where the circle stands in which a part of a figure is drawn larger.

In: a `DetailPart` of the figure, and all other ink. Out: a `DetailView`, the circle in a place that all
ink leaves free, or None where no circle finds room.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..placement.obstacles import Obstacles, near
from ..scene.groups import Sketch
from ..scene.outlines import Box, item_box
from ..scene.scene import Path, Point, Text
from ..scene.strokes import polylines
from ..scene.view import View
from ..signs import families
from .detail_part import FULL, MOST, RADII, SHORT_POINTS, WORTH, DetailPart

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

#: How far the circle keeps off all ink and off the frame's edge (points).
_AIR, _EDGE = 3.0, 1.5
#: How far apart the places are that are tried (points).
_STEP = 5.0
#: Room that a letter needs beyond its point, as a part of its type size.
_LETTERED = 1.45


@dataclass(frozen=True)
class DetailView:
    """A part of a figure and the circle where it is drawn larger, about the figure's middle.

    at, radius : of the circle; view : onto the circle about its own middle, so many times larger;
    shift : how far the whole figure, with the circle, is to be moved to make room
    """

    part: DetailPart
    at: Point
    radius: float
    view: View
    larger: float
    shift: Point

    @property
    def limits(self) -> Box:
        """Where signs may go, about the circle's middle."""
        r = 0.8 * self.radius
        return (-r, -r, r, r)


def detail_view(
    chosen: DetailPart, view: View, ink: Sketch, around: Obstacles, label: float, fixed: bool
) -> DetailView | None:
    """The circle for a part, in free room; where `fixed` the figure cannot be moved aside for it.

    `label` is the type size of letters at points.
    """
    import numpy

    x0, y0, x1, y1 = _union(around.silhouette.bounds, ink)
    spot, reach = chosen.spot, chosen.reach
    far = RADII[0] + _AIR
    places = numpy.array(
        [
            (x, y)
            for x in numpy.arange(x0 - far, x1 + far, _STEP)
            for y in numpy.arange(y0 - far, y1 + far, _STEP)
        ]
    )
    least = min(RADII)
    places = places[_fitting(places, least, chosen, (x0, y0, x1, y1), around.box, fixed)[0]]
    places = places[around.off_paper(places, least + _AIR)]
    free = _distances(places, ink, around, fixed)
    for radius in RADII:
        factor = min(MOST, FULL * radius / reach)
        if factor < WORTH:
            return None
        fits, shifts = _fitting(places, radius, chosen, (x0, y0, x1, y1), around.box, fixed)
        found = numpy.flatnonzero(fits & (free > radius + _AIR))
        if not len(found):
            continue
        cost = numpy.hypot(*(places[found] - numpy.array(spot)).T)
        cost = cost + 0.8 * numpy.hypot(*shifts[found].T)
        cost = cost + _crossing(places[found], chosen, around, ink)
        best = int(found[int(numpy.argmin(numpy.round(cost, 4)))])
        at = (float(places[best][0]), float(places[best][1]))
        shift = (float(shifts[best][0]), float(shifts[best][1]))
        factor = _with_letters(chosen, radius, factor, label)
        larger = View(view.scale * factor, view.back(spot))
        return DetailView(chosen, at, radius, larger, factor, shift)
    return None


def _with_letters(chosen: DetailPart, radius: float, factor: float, label: float) -> float:
    """How many times larger, so that letters find room between their points and the circle."""
    far = max((math.dist(p, chosen.spot) for p in chosen.lettered), default=0.0)
    if far * factor <= radius - _LETTERED * label:
        return factor
    least = max(WORTH, 1.05 * SHORT_POINTS / max(math.dist(*s) for s in chosen.strokes))
    return min(factor, max(least, (radius - _LETTERED * label) / far))


def _fitting(
    places: NDArray[numpy.float64],
    radius: float,
    chosen: DetailPart,
    taken: Box,
    frame: Box,
    fixed: bool,
) -> tuple[NDArray[numpy.bool_], NDArray[numpy.float64]]:
    """Whether a circle about each place fits the frame, and how the figure is moved aside for it."""
    import numpy

    (x0, y0, x1, y1), (fx0, fy0, fx1, fy1) = taken, frame
    r = radius + _EDGE
    lo, hi = places - r, places + r
    if fixed:
        fits = (lo > (fx0, fy0)).all(1) & (hi < (fx1, fy1)).all(1)
        shifts = numpy.zeros_like(places)
    else:
        left, right = numpy.minimum(lo[:, 0], x0), numpy.maximum(hi[:, 0], x1)
        top, low = numpy.minimum(lo[:, 1], y0), numpy.maximum(hi[:, 1], y1)
        fits = (right - left <= fx1 - fx0) & (low - top <= fy1 - fy0)
        dx = numpy.maximum(0.0, fx0 - left) - numpy.maximum(0.0, right - fx1)
        dy = numpy.maximum(0.0, fy0 - top) - numpy.maximum(0.0, low - fy1)
        shifts = numpy.stack([dx, dy], axis=1)
    away = numpy.hypot(*(places - numpy.array(chosen.spot)).T)
    return fits & (away > radius + chosen.ring + 4.0), shifts


def _union(bounds: Sequence[float], ink: Sketch) -> Box:
    boxes = [b for g in ink.groups if (b := g.box) is not None]
    every = [(float(bounds[0]), float(bounds[1]), float(bounds[2]), float(bounds[3])), *boxes]
    return (
        min(b[0] for b in every),
        min(b[1] for b in every),
        max(b[2] for b in every),
        max(b[3] for b in every),
    )


def _distances(
    places: NDArray[numpy.float64], ink: Sketch, around: Obstacles, fixed: bool
) -> NDArray[numpy.float64]:
    """How far each place lies from the paper and from the signs, in points: 0 on them."""
    import numpy
    import shapely

    shapes: list[BaseGeometry] = [around.silhouette]
    for group in ink.groups:
        if group.kind in ("paper", "crease", "edge"):
            continue
        for item in group.items:
            shapes += _shape(item)
    if fixed:
        shapes += [shapely.box(*b) for b in around.taken]
    out = numpy.full(len(places), numpy.inf)
    if not len(places):
        return out
    tree = shapely.STRtree(shapes)
    (at, _), far = tree.query_nearest(shapely.points(places), return_distance=True)
    out[at] = far
    return out


def _shape(item: Path | Text) -> list[BaseGeometry]:
    import shapely

    if isinstance(item, Path) and item.role.startswith("arrow"):
        return [shapely.LineString(p) for p in polylines([item]) if len(p) > 1]
    box = item_box(item)
    return [] if box is None else [shapely.box(*box)]


def _crossing(
    places: NDArray[numpy.float64], chosen: DetailPart, around: Obstacles, ink: Sketch
) -> NDArray[numpy.float64]:
    """What it costs the line that leads to each place to run over paper, arrows or a sign of repeats."""
    import numpy
    import shapely

    ends = numpy.broadcast_to(numpy.array(chosen.spot), places.shape)
    ways = shapely.linestrings(numpy.stack([ends, places], axis=1))
    over = numpy.asarray(shapely.length(shapely.intersection(ways, around.silhouette)))
    way = places - ends
    first = (chosen.ring + 4.0) / numpy.hypot(way[:, 0], way[:, 1])
    steps = first[:, None] + (1.0 - first[:, None]) * numpy.linspace(0.0, 0.8, 12)
    along = ends[:, None, :] + steps[:, :, None] * way[:, None, :]
    repeats = [shapely.box(*g.box) for g in ink.groups if g.kind == families.REPEAT.kind and g.box]
    across = shapely.intersects(ways, shapely.union_all(repeats))
    return 2.3 * over + 60.0 * near(along, around.arrows, 2.5).any(1) + 60.0 * across
