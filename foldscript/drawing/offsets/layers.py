"""Coincident layers drawn slightly apart.

In: a state and how far apart two layers that end in the same place may be drawn. Out: a `Spread`:
every facet's outline with its corners moved a little. The moves belong to the corners of the
*sheet*, one for all facets that meet there, so no joint opens; how large they are is settled in
`fanning`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from ...geometry.lines import Point, Segment
from ...geometry.polygons import Polygon
from ...geometry.remembered import remembered
from ...paper.state import State
from .bends import bent
from .covers import Covers
from .fanning import settled
from .half_edges import HalfEdge, corners, half_edges_of, is_upper
from .slits import gaping
from .spreads import Spread
from .stacks import Stacks

#: Where there are more facets than this they are small, and layers are drawn closer together.
_MANY = 30
#: Layers that come out nearer than this part of the wanted gap are laid together; where they are drawn
#: closer, at most this part of their gap.
_NEAR, _NEAR_MOST = 0.75, 0.9
#: The least part of a facet's area that is left when its corners are moved.
_LEAST_LEFT = 0.35
#: How often the moves of spoilt facets are halved.
_TRIES = 10
#: To so many digits it counts how many gaps a whole stack is drawn apart.
_DIGITS = 6


@dataclass(frozen=True)
class _Layers:
    """Layers of a state, however far apart they are drawn.

    rings, spots, half_edges, stacked : as of `Spread`; count : of corners; edges, stacks : those that lie in
    the same place, None where one facet lies alone; covers : which layers lie over which; moves : of corners,
    where layers are drawn 1 apart, by how far a whole stack is drawn apart
    """

    rings: tuple[tuple[int, ...], ...]
    spots: tuple[Polygon, ...]
    count: int
    half_edges: tuple[HalfEdge, ...]
    edges: list[HalfEdge]
    stacked: tuple[tuple[int, int, Segment], ...] = ()
    stacks: Stacks | None = None
    covers: Covers | None = None
    moves: dict[float, tuple[Point, ...]] = field(default_factory=dict)


@remembered
def _layers(state: State) -> _Layers:
    rings, spots, count = corners(state)
    half_edges = half_edges_of(state, rings, spots)
    if len(state.facets) < 2:
        return _Layers(rings, spots, count, half_edges, [])
    picked = [k for k, r in enumerate(half_edges) if r.mate is None or is_upper(state, r)]
    edges = [half_edges[k] for k in picked]
    covers = Covers(state)
    stacks = Stacks(state, edges, covers)
    stacked = tuple((picked[a], picked[b], seg) for a, b, seg, over in stacks.pairs if over)
    return _Layers(rings, spots, count, half_edges, edges, stacked, stacks, covers)


def spread(state: State, gap: float, most: float) -> Spread:
    """Moves the corners of a state: layers `gap` apart, a whole stack at most `most` (sheet units)."""
    layers = _layers(state)
    rings, still = layers.rings, ((0.0, 0.0),) * layers.count
    found = Spread(
        state, rings, layers.spots, still, layers.half_edges, layers.stacked, layers.covers
    )
    if gap <= 0 or layers.stacks is None:
        return found
    closer = min(1.0, math.sqrt(_MANY / len(state.facets)))
    moves = tuple(
        (closer * gap * x, closer * gap * y) for x, y in _moves(state, most / gap, closer)
    )
    for _ in range(_TRIES):
        moved = replace(found, moves=moves)
        spoilt = _spoilt(moved)
        if not spoilt:
            bowed = bent(moved, closer * gap)
            return moved if bowed is not moved and _spoilt(bowed) else bowed
        held = {v for i in spoilt for v in rings[i]}
        moves = tuple((m[0] / 2, m[1] / 2) if v in held else m for v, m in enumerate(moves))
    return found


def _moves(state: State, most: float, closer: float) -> tuple[Point, ...]:
    """Moves of corners that draw layers 1 apart, a whole stack at most `most`: all others follow from them.

    For what is asked of layers grows with their distance, and so do the moves that come nearest to it.
    """
    layers, most = _layers(state), round(most, _DIGITS)
    if most not in layers.moves:
        assert layers.stacks is not None
        assert layers.covers is not None
        layers.moves[most] = settled(
            state,
            layers.rings,
            layers.spots,
            layers.half_edges,
            layers.edges,
            layers.stacks,
            layers.covers,
            layers.count,
            most,
            min(_NEAR / closer, _NEAR_MOST),
        )
        layers.moves[most] = gaping(state, layers.half_edges, layers.moves[most])
    return layers.moves[most]


def _spoilt(found: Spread) -> set[int]:
    """Facets that have lost their shape, their corners moved.

    Their outline crosses itself, or they are slivers that shrink away or turn inside out.
    """
    import numpy
    import shapely

    sizes = [len(ring) for ring in found.rings]
    owners = numpy.repeat(numpy.arange(len(sizes)), sizes)
    corners = [v for ring in found.rings for v in ring]
    before = numpy.array([p for ring in found.spots for p in ring])
    after = before + numpy.array(found.moves)[corners]
    ahead = numpy.arange(1, len(owners) + 1)
    ends = numpy.cumsum(sizes)
    ahead[ends - 1] = ends - sizes
    turned = ((before[ahead] - before) * (after[ahead] - after)).sum(1) <= 0
    wrong = numpy.bincount(owners, turned, len(sizes)) > 0
    areas = []
    for at in (before, after):
        x, y = at[:, 0], at[:, 1]
        areas.append(numpy.bincount(owners, x * y[ahead] - y * x[ahead]))
    wrong |= areas[1] < _LEAST_LEFT * areas[0]
    wrong |= ~shapely.is_valid(shapely.polygons(shapely.linearrings(after, indices=owners)))
    return set(numpy.flatnonzero(wrong).tolist())
