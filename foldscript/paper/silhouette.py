"""What the eye sees: the outline of the folded model, its corners and edges by direction.

In: a state. Out: corners and sides of its silhouette in folded coordinates. Ties are given back as
several candidates, for the caller to show.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..geometry.cover import common, joined, less
from ..geometry.isometries import Isometry, reflection
from ..geometry.lines import Line, Point, Segment, distance, dot, subtract, unit
from ..geometry.polygons import Polygon, bounds
from .state import State

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

DIRECTIONS: dict[str, Point] = {
    "top": (0.0, 1.0),
    "bottom": (0.0, -1.0),
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
}

#: What lies across from a side.
ACROSS = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}

#: Corners that differ by less than this were not yet carried apart by rounding.
ROUNDING = 1e-15
#: Area that is nothing (square sheet units), and the part of some paper that must be seen to point at it.
_SPECK, _MUCH = 1e-6, 0.15


def direction(words: tuple[str, ...]) -> Point:
    """Unit vector of 'top', 'bottom left', ..."""
    x = sum(DIRECTIONS[w][0] for w in words)
    y = sum(DIRECTIONS[w][1] for w in words)
    return unit((x, y))


def corners_toward(state: State, words: tuple[str, ...]) -> tuple[Point, ...]:
    """Corners of the silhouette farthest in a direction; several when they tie."""
    d = direction(words)
    corners = [p for ring in state.placed for p in ring]
    best = max(dot(p, d) for p in corners)
    far = [p for p in corners if dot(p, d) >= best - 2e-7]
    x, y = far[0]
    if all(abs(p[0] - x) <= ROUNDING and abs(p[1] - y) <= ROUNDING for p in far):
        # one corner: of its numbers those that the outlines would take
        grid = (round(x * 1e9) / 1e9, round(y * 1e9) / 1e9)
        return (min(far, key=lambda p: distance(p, grid)),)
    points = [p for ring in state.outlines for p in ring]
    best = max(dot(p, d) for p in points)
    return tuple(p for p in points if dot(p, d) >= best - 1e-7)


def edges_toward(state: State, words: tuple[str, ...]) -> tuple[Segment, ...]:
    """Sides of the silhouette that face a direction best, outermost first; several when they tie.

    A side counts when it faces within 45 degrees of the direction. Among sides that face it equally
    well and are parallel, the outermost is meant.
    """
    d = direction(words)
    found: list[tuple[float, float, Segment]] = []
    for ring in state.outlines:
        for i in range(len(ring)):
            p, q = ring[i], ring[(i + 1) % len(ring)]
            ux, uy = unit(subtract(q, p))
            facing = dot((uy, -ux), d)
            if facing > math.cos(math.radians(45)) - 1e-9:
                found.append((facing, dot(p, (uy, -ux)), (p, q)))
    if not found:
        return ()
    best = max(f for f, _, _ in found)
    top = [item for item in found if item[0] >= best - 1e-7]
    normals: list[tuple[Point, float, Segment]] = []
    for _, reach, (p, q) in sorted(top, key=lambda item: -item[1]):
        ux, uy = unit(subtract(q, p))
        n = (uy, -ux)
        if not any(dot(n, m) > 1 - 1e-9 for m, _, _ in normals):
            normals.append((n, reach, (p, q)))
    return tuple(seg for _, _, seg in normals)


def centre(state: State) -> Point:
    """Middle of the silhouette's bounding box."""
    x0, y0, x1, y1 = bounds(p for ring in state.placed for p in ring)
    return ((x0 + x1) / 2, (y0 + y1) / 2)


def over_side_to_side(state: State) -> Isometry:
    """Turning the model over from side to side, in its place."""
    return reflection(Line(1.0, 0.0, centre(state)[0]))


def extent(state: State) -> tuple[float, float]:
    """Width and height of the folded model in sheet units."""
    x0, y0, x1, y1 = bounds(p for ring in state.placed for p in ring)
    return x1 - x0, y1 - y0


def seen_of(state: State, pieces: Sequence[Polygon]) -> Point | None:
    """A place amid what can be seen of some paper, given by outlines on the sheet; None if nearly nothing."""
    import numpy
    import shapely

    parts: list[BaseGeometry] = []
    whole = 0.0
    for i, facet in enumerate(state.facets):
        outline = shapely.Polygon(facet.outline)
        mine = joined([common(outline, shapely.Polygon(p)) for p in pieces])
        if mine.area < _SPECK:
            continue
        whole += mine.area
        placed = shapely.transform(
            mine, lambda at, place=facet.place: numpy.array([place((x, y)) for x, y in at])
        )
        over = [shapely.Polygon(state.placed[j]) for j in state.neighbours[i] if state.above(j, i)]
        parts.append(less(placed, joined(over)))
    seen = joined(parts)
    if seen.area < _MUCH * whole or seen.area < _SPECK:
        return None
    largest = max(shapely.get_parts(seen), key=lambda part: part.area)
    at = largest.centroid if largest.contains(largest.centroid) else largest.point_on_surface()
    return (float(at.x), float(at.y))
