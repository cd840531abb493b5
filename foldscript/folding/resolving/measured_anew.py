"""How a named point is found whose landmarks have been folded away: from what is seen beside it.

In: the paper as it lies, the point there, and guide lines that still lead to it. Out: on an edge or a crease
in sight, the two halves between the nearest places that can be pointed at (corners, crossings, ends of
creases), or else its length from one of them, where a ruler shows that.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations, pairwise

from ...geometry import polygons
from ...geometry.lines import (
    Point,
    add,
    cross,
    distance,
    dot,
    line_at,
    line_through,
    midpoint,
    point_on_segment,
    scale,
    subtract,
)
from ...geometry.tolerance import EPS, is_zero, same
from ...paper.in_sight import is_marked, seen_ways
from ...paper.signs import EqualLengths, GuideLine, Landmark, Measure
from ...paper.state import State

#: Two ways that differ by less (radians) are one.
_APART = 1e-4
#: A length that is a whole number of millimetres but for so much can be read off a ruler.
_READ_MM = 0.05


def millimetres(start: Point, end: Point, unit_mm: float) -> Measure:
    """The length between two places of the figure."""
    return Measure(start, end, f"{distance(start, end) * unit_mm:.1f}".removesuffix(".0"), "mm")


def measured_anew(state: State, at: Point, kept: Sequence[Landmark] = ()) -> tuple[Landmark, ...]:
    """A landmark for a point in folded coordinates; () where lines in sight or `kept` guides cross in it, or
    where it lies on no line in sight.
    """
    ways = seen_ways(state, at)
    guides = [s.segment for s in kept if isinstance(s, GuideLine) and s.through is not None]
    led = [line_through(*g).direction for g in guides if point_on_segment(g, at)]
    every = [*ways, *(math.atan2(y, x) for x, y in led)]
    if any(abs(math.sin(way - every[0])) > _APART for way in every[1:]):
        return ()
    ends = [
        end
        for way in ways
        if (end := _marked_along(state, at, (math.cos(way), math.sin(way)))) is not None
    ]
    for one, other in combinations(ends, 2):
        if same(distance(at, one), distance(at, other)):
            return (EqualLengths(((one, at), (at, other)), anew=True),)
    mm = state.sheet.unit_mm
    lengths = [(distance(end, at) * mm, end) for end in ends]
    read = [(length, end) for length, end in lengths if abs(length - round(length)) < _READ_MM]
    if not read:
        return ()
    _, nearest = min(read)
    return (replace(millimetres(nearest, at, mm), anew=True),)


def _marked_along(state: State, at: Point, way: Point) -> Point | None:
    """The nearest place that can be pointed at along a line in sight from a point, if there is one."""
    before = at
    for t in _stations(state, at, way):
        here = add(at, scale(way, t))
        if not _runs_on(state, midpoint(before, here), way):
            return None
        if is_marked(state, here):
            return here
        before = here
    return None


def _stations(state: State, at: Point, way: Point) -> Iterator[float]:
    """How far from a point, that way, edges of the paper or ends of creases lie on the line through it."""
    line = line_at(at, way)
    places = [p for ring in state.placed for p in (*ring, *(polygons.clip_line(ring, line) or ()))]
    for facet in state.facets:
        pieces = (polygons.clip_segment(facet.outline, crease) for crease in state.creases)
        places += [facet.place(p) for piece in pieces if piece is not None for p in piece]
    along = sorted(
        t
        for p in places
        if is_zero(cross(way, subtract(p, at))) and (t := dot(subtract(p, at), way)) > EPS
    )
    for before, t in pairwise((0.0, *along)):
        if t - before > EPS:
            yield t


def _runs_on(state: State, spot: Point, way: Point) -> bool:
    return any(abs(cross(way, (math.cos(w), math.sin(w)))) < _APART for w in seen_ways(state, spot))
