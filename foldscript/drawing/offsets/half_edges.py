"""Corners and sides of facets, as the drawing needs them.

In: a state. Out: corners of the sheet numbered once for all facets that meet there, and the sides of
facets that the reader may see as edges (`HalfEdge`): raw edges and folds, but not where paper goes on flat.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property

from ...geometry import polygons
from ...geometry.lines import Point, Segment, distance, point_on_segment, unit
from ...geometry.polygons import Polygon
from ...paper.state import State
from ...paper.union_find import UnionFind

#: Corners closer than this on the sheet are one (sheet units).
_GRAIN = 1e-7
#: Cells in which they are looked up.
_CELL = 1e-3


@dataclass(frozen=True)
class HalfEdge:
    """One side of a facet that the reader may see as an edge (folded coordinates).

    start, end : corner numbers; segment : where it lies; mate : the facet beyond a fold, or None
    """

    facet: int
    start: int
    end: int
    segment: Segment
    mate: int | None

    @cached_property
    def side(self) -> tuple[int, int]:
        """Its corners, the lower number first: the same for the facets on either side."""
        return (min(self.start, self.end), max(self.start, self.end))

    @cached_property
    def along(self) -> Point:
        """Unit vector from start to end."""
        (px, py), (qx, qy) = self.segment
        return unit((qx - px, qy - py))

    @cached_property
    def outward(self) -> Point:
        """Unit vector square to the side, away from its facet."""
        x, y = self.along
        return (y, -x)


def corners(state: State) -> tuple[tuple[tuple[int, ...], ...], tuple[Polygon, ...], int]:
    """Rings of corner numbers; corners of neighbours that lie on a facet's side are added to it."""
    extra: dict[int, list[Point]] = defaultdict(list)
    for joint in state.joints:
        for p in joint.segment:
            extra[joint.a].append(p)
            extra[joint.b].append(p)
    cells: dict[tuple[int, int], list[tuple[int, Point]]] = {}
    count = 0

    def number(p: Point) -> int:
        nonlocal count
        cell = (math.floor(p[0] / _CELL), math.floor(p[1] / _CELL))
        for v, q in cells.get(cell, ()):
            if distance(p, q) <= _GRAIN:
                return v
        # entered wherever a corner that is the same may be looked for
        for x in {math.floor((p[0] + off) / _CELL) for off in (-_GRAIN, 0.0, _GRAIN)}:
            for y in {math.floor((p[1] + off) / _CELL) for off in (-_GRAIN, 0.0, _GRAIN)}:
                cells.setdefault((x, y), []).append((count, p))
        count += 1
        return count - 1

    rings: list[tuple[int, ...]] = []
    spots: list[Polygon] = []
    for i, f in enumerate(state.facets):
        ring: list[int] = []
        where: list[Point] = []
        own = {(round(p[0], 6), round(p[1], 6)) for p in f.outline}
        more = [p for p in extra[i] if (round(p[0], 6), round(p[1], 6)) not in own]
        for a, b in polygons.edges(f.outline):
            inner = [p for p in more if point_on_segment((a, b), p, _GRAIN)] if more else []
            for p in (a, *sorted(inner, key=lambda q, a=a: distance(a, q))):
                v = number(p)
                if v not in ring:
                    ring.append(v)
                    where.append(f.place(p))
        if f.place.flips:
            ring.reverse()
            where.reverse()
        rings.append(tuple(ring))
        spots.append(tuple(where))
    parted, count = _parted_by_cuts(state, tuple(rings), tuple(spots), count)
    return parted, tuple(spots), count


def _parted_by_cuts(
    state: State, rings: tuple[tuple[int, ...], ...], spots: tuple[Polygon, ...], count: int
) -> tuple[tuple[tuple[int, ...], ...], int]:
    """The rings with a number of its own for a corner on either side of a cut, where no paper goes round it:
    there the two sides of the slit come apart. And how many numbers there are.
    """
    if not state.cuts:
        return rings, count
    at_corner: dict[int, list[int]] = defaultdict(list)
    sides: dict[tuple[int, int], list[int]] = defaultdict(list)
    for i, ring in enumerate(rings):
        for v, w in zip(ring, (*ring[1:], ring[0]), strict=True):
            at_corner[v].append(i)
            sides[(min(v, w), max(v, w))].append(i)
    held = {(min(j.a, j.b), max(j.a, j.b)) for j in state.joints}
    joined: dict[int, UnionFind] = {v: UnionFind(len(some)) for v, some in at_corner.items()}
    for (v, w), owners in sides.items():
        if len(owners) == 2 and (min(owners), max(owners)) in held:
            a, b = owners
            if not _is_cut(state, rings, spots, a, v, w):
                for corner in (v, w):
                    some = at_corner[corner]
                    joined[corner].unite(some.index(a), some.index(b))
    numbers: dict[tuple[int, int], int] = {}
    for v, some in at_corner.items():
        first, *others = joined[v].sets()
        del first
        for group in others:
            numbers |= {(some[k], v): count for k in group}
            count += 1
    return tuple(tuple(numbers.get((i, v), v) for v in ring) for i, ring in enumerate(rings)), count


def half_edges_of(
    state: State, rings: tuple[tuple[int, ...], ...], spots: tuple[Polygon, ...]
) -> tuple[HalfEdge, ...]:
    """Sides of facets, but for those where the paper goes on flat."""
    flat: set[tuple[int, int, int]] = set()
    bent: dict[tuple[int, int, int], int] = {}
    sides: dict[tuple[int, int], list[int]] = defaultdict(list)
    for i, ring in enumerate(rings):
        for k, v in enumerate(ring):
            w = ring[(k + 1) % len(ring)]
            sides[(min(v, w), max(v, w))].append(i)
    held = {(min(j.a, j.b), max(j.a, j.b)): j.folded for j in state.joints}
    for (v, w), owners in sides.items():
        if len(owners) != 2:
            continue
        a, b = owners
        folded = held.get((min(a, b), max(a, b)))
        if folded is None or _is_cut(state, rings, spots, a, v, w):
            continue
        for i, other in ((a, b), (b, a)):
            if folded:
                bent[(i, v, w)] = other
            else:
                flat.add((i, v, w))
    out: list[HalfEdge] = []
    for i, ring in enumerate(rings):
        for k, v in enumerate(ring):
            n = (k + 1) % len(ring)
            w = ring[n]
            key = (i, min(v, w), max(v, w))
            if key not in flat:
                out.append(HalfEdge(i, v, w, (spots[i][k], spots[i][n]), bent.get(key)))
    return tuple(out)


def _is_cut(
    state: State,
    rings: tuple[tuple[int, ...], ...],
    spots: tuple[Polygon, ...],
    facet: int,
    v: int,
    w: int,
) -> bool:
    if not state.cuts:
        return False
    place = state.facets[facet].place
    ring = rings[facet]
    p, q = spots[facet][ring.index(v)], spots[facet][ring.index(w)]
    middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
    return any(point_on_segment((place(c[0]), place(c[1])), middle, 1e-7) for c in state.cuts)


def is_upper(state: State, half_edge: HalfEdge) -> bool:
    """Whether a fold's half-edge is the one on its upper facet."""
    assert half_edge.mate is not None
    over = state.above(half_edge.facet, half_edge.mate)
    return half_edge.facet < half_edge.mate if over is None else over
