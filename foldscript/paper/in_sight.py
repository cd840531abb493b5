"""What is seen of the paper at one place: the edges and creases that run there, from the front.

In: a state and a place of the folded plane. Out: the directions in which lines are seen to leave it.
"""

from __future__ import annotations

import math

from ..geometry import polygons
from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import Point, Segment, distance, point_on_segment
from ..geometry.tolerance import FOLDED
from .state import State

#: How far beside a place its surroundings are looked at (sheet units), and how far apart ways out are.
_BESIDE, _APART = 1e-5, 1e-4
_TURN = 2 * math.pi


def is_marked(state: State, spot: Point) -> bool:
    """Whether a place can be pointed at without a landmark: a corner, a crease's end, a crossing."""
    ways = seen_ways(state, spot)
    return any(abs(math.sin(way - ways[0])) > _APART for way in ways[1:])


def seen_ways(state: State, spot: Point) -> list[float]:
    """Directions in which edges and creases leave a place, in radians, as they are seen in front."""
    here = state.facets_at(spot)
    found: dict[int, list[float]] = {i: _ways(state, i, spot) for i in here}
    every = sorted(way for ways in found.values() for way in ways)
    apart = [w for k, w in enumerate(every) if k == 0 or w - every[k - 1] > _APART]
    if len(apart) > 1 and apart[-1] - apart[0] > _TURN - _APART:
        apart.pop()
    gaps = [(a, b) for a, b in zip(apart, (*apart[1:], *(apart[:1])), strict=True)]
    tops = [_top(state, here, spot, a + ((b - a) % _TURN or _TURN) / 2) for a, b in gaps]
    out: list[float] = []
    for k, way in enumerate(apart):
        sides = {tops[k], tops[k - 1]} - {None}
        drawn = [i for i in sides if i is not None and any(_same(way, w) for w in found[i])]
        if drawn and (
            len(sides) > 1 or None in (tops[k], tops[k - 1]) or _creased(state, drawn[0], spot, way)
        ):
            out.append(way)
    return out


def _same(a: float, b: float) -> bool:
    return abs(math.remainder(a - b, _TURN)) < _APART


def _ways(state: State, facet: int, spot: Point) -> list[float]:
    """Directions in which the outline and the creases of a facet leave a place."""
    sides = [*polygons.edges(state.placed[facet]), *_creases(state, facet, spot)]
    return [
        _way(spot, p)
        for side in sides
        if point_on_segment(side, spot)
        for p in side
        if distance(p, spot) > _APART
    ]


def _creases(state: State, facet: int, spot: Point) -> list[Segment]:
    """Where the creases that run through a place lie on a facet."""
    one = state.facets[facet]
    here = inverse(one.place)(spot)
    creases = [c for c in state.creases if point_on_segment(c, here, FOLDED)]
    pieces = (polygons.clip_segment(one.outline, crease) for crease in creases)
    return [map_segment(one.place, piece) for piece in pieces if piece is not None]


def _creased(state: State, facet: int, spot: Point, way: float) -> bool:
    """Whether a crease of a facet leaves the place that way."""
    return any(
        point_on_segment(crease, spot)
        and any(distance(p, spot) > _APART and _same(_way(spot, p), way) for p in crease)
        for crease in _creases(state, facet, spot)
    )


def _way(spot: Point, p: Point) -> float:
    return math.atan2(p[1] - spot[1], p[0] - spot[0]) % _TURN


def _top(state: State, here: tuple[int, ...], spot: Point, way: float) -> int | None:
    """The facet that is seen hard by a place in a direction; None for none."""
    beside = (spot[0] + _BESIDE * math.cos(way), spot[1] + _BESIDE * math.sin(way))
    return next((i for i in here if polygons.inside(state.placed[i], beside)), None)
