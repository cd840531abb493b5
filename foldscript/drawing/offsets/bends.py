"""Edges that come out from behind others do so near the corner that holds them.

In: layers moved apart. Out: the same with some edges bent. An edge with one end held and the other
moved would run askew from end to end, and the layers between it and its neighbours would be drawn as
long wedges. It is given one corner more, close to its held end, and runs true from there on: the eye
reads the bend as the thickness of the paper at a fold. All facets along an edge share the corner.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from ...geometry.lines import Point, Segment, distance, dot, subtract, unit
from .half_edges import HalfEdge
from .spreads import Spread

#: An edge bends when its ends differ by more than this part of a gap; ends that differ little do not.
_ASKEW = 0.3
#: One end counts as held when it moves by less than this part of what the other does.
_HELD = 0.5
#: How far from the held end the bend is: gaps, and the most of the edge.
_REACH, _SHARE = 3.0, 0.25
#: Edges lie together for at least this part of their way.
_MOST = 0.6
#: Points of paper sharper than this (cosine) would look blunt.
_SHARP = 0.75
#: Edges leave a corner in one direction when they differ by less than this (cosine).
_SAME_WAY = 0.98

#: A side of facets by its corners, the lower number first.
Side = tuple[int, int]


@dataclass(frozen=True)
class _Bend:
    """A corner more on the side between corners `low` and `high`: its part of the way, and its move."""

    low: int
    part: float
    move: Point
    corner: int


def bent(found: Spread, gap: float) -> Spread:
    """The same layers, edges askew bent near their held ends. `gap` in sheet units."""
    bends = _bends(found, gap)
    if not bends:
        return found
    rings: list[tuple[int, ...]] = []
    spots: list[tuple[Point, ...]] = []
    for ring, places in zip(found.rings, found.spots, strict=True):
        corners: list[int] = []
        where: list[Point] = []
        for k, v in enumerate(ring):
            w, p, q = ring[(k + 1) % len(ring)], places[k], places[(k + 1) % len(ring)]
            corners.append(v)
            where.append(p)
            bend = bends.get((min(v, w), max(v, w)))
            if bend is not None:
                corners.append(bend.corner)
                where.append(_on((p, q), bend.part if v == bend.low else 1.0 - bend.part))
        rings.append(tuple(corners))
        spots.append(tuple(where))
    half_edges: list[HalfEdge] = []
    pieces: dict[int, list[int]] = defaultdict(list)
    for k, half_edge in enumerate(found.half_edges):
        bend = bends.get((min(half_edge.start, half_edge.end), max(half_edge.start, half_edge.end)))
        for piece in (half_edge,) if bend is None else _halves(half_edge, bend):
            pieces[k].append(len(half_edges))
            half_edges.append(piece)
    stacked = tuple(
        (i, j, common)
        for upper, lower, seg in found.stacked
        for i in pieces[upper]
        for j in pieces[lower]
        if (common := _common(seg, half_edges[i].segment, half_edges[j].segment)) is not None
    )
    more = tuple(b.move for b in bends.values())
    return replace(
        found,
        rings=tuple(rings),
        spots=tuple(spots),
        moves=found.moves + more,
        half_edges=tuple(half_edges),
        stacked=stacked,
    )


def _bends(found: Spread, gap: float) -> dict[Side, _Bend]:
    """Bends by the corners of their side, in the order in which their corners are numbered."""
    askew = _askew(found, gap)
    picked: dict[Side, tuple[int, int]] = {}
    whole: list[tuple[set[int], set[int]]] = []
    for k, low in _wedges(found, askew, gap):
        whole = whole or _kept_whole(found)
        half_edge = found.half_edges[k]
        sharp, straight = whole[half_edge.facet]
        if low not in sharp and not {half_edge.start, half_edge.end} & straight:
            picked.setdefault(
                (min(half_edge.start, half_edge.end), max(half_edge.start, half_edge.end)), (k, low)
            )
    out: dict[Side, _Bend] = {}
    for side, (k, low) in _pointed(found, picked).items():
        out[side] = _bend(found, found.half_edges[k], low, gap, len(found.moves) + len(out))
    return out


def _askew(found: Spread, gap: float) -> dict[int, int]:
    """Edges held at one corner and moved at the other, and the corner that holds each."""
    out: dict[int, int] = {}
    for k, half_edge in enumerate(found.half_edges):
        n = half_edge.outward
        off = [dot(found.moves[v], n) for v in (half_edge.start, half_edge.end)]
        held, moved = sorted(off, key=abs)
        if abs(held - moved) >= _ASKEW * gap and abs(held) <= _HELD * abs(moved):
            out[k] = half_edge.start if abs(off[0]) <= abs(off[1]) else half_edge.end
    return out


def _bend(found: Spread, half_edge: HalfEdge, low: int, gap: float, corner: int) -> _Bend:
    n, (v, w) = half_edge.outward, (half_edge.start, half_edge.end)
    high = w if low == v else v
    part = min(_REACH * gap / distance(*half_edge.segment), _SHARE)
    u = (-n[1], n[0])
    off = dot(found.moves[high], n)
    slid = dot(found.moves[low], u) * (1 - part) + dot(found.moves[high], u) * part
    return _Bend(low, part, (n[0] * off + u[0] * slid, n[1] * off + u[1] * slid), corner)


def _pointed(found: Spread, picked: dict[Side, tuple[int, int]]) -> dict[Side, tuple[int, int]]:
    """Without sides that leave a held corner in different directions: bent all, they would be blunt.

    First those of one corner of the sheet, then of what is left those of corners in one place.
    """
    for of_sheet in (True, False):
        leaving: dict[object, list[tuple[Side, Point]]] = defaultdict(list)
        for side, (k, low) in picked.items():
            half_edge = found.half_edges[k]
            first, last = half_edge.segment if half_edge.start == low else half_edge.segment[::-1]
            corner = low if of_sheet else (round(first[0], 6), round(first[1], 6))
            leaving[corner].append((side, unit(subtract(last, first))))
        blunt = {
            side
            for ways in leaving.values()
            for side, a in ways
            if any(dot(a, b) < _SAME_WAY for _, b in ways)
        }
        picked = {side: where for side, where in picked.items() if side not in blunt}
    return picked


def _wedges(found: Spread, askew: dict[int, int], gap: float) -> Iterator[tuple[int, int]]:
    """(edge, its held corner) where another edge lies beside it from there on, most of its way, and parts."""
    for upper, lower, seg in found.stacked:
        for k, other in ((upper, lower), (lower, upper)):
            if k not in askew:
                continue
            half_edge, corner = found.half_edges[k], askew[k]
            at = half_edge.segment[0] if corner == half_edge.start else half_edge.segment[1]
            if distance(*seg) < _MOST * distance(*half_edge.segment):
                continue
            near, far = sorted(seg, key=lambda q, at=at: distance(at, q))
            if distance(at, near) >= 1e-7:
                continue
            n, beside = half_edge.outward, found.half_edges[other]
            if abs(_off(found, half_edge, far, n) - _off(found, beside, far, n)) > _ASKEW * gap:
                yield k, corner


def _off(found: Spread, half_edge: HalfEdge, p: Point, n: Point) -> float:
    """How far an edge is moved along `n` at a place on it."""
    part = min(1.0, distance(half_edge.segment[0], p) / distance(*half_edge.segment))
    first, last = (dot(found.moves[v], n) for v in (half_edge.start, half_edge.end))
    return first + part * (last - first)


def _kept_whole(found: Spread) -> list[tuple[set[int], set[int]]]:
    """For each facet the corners where its plate is too sharp for a bend, and those it runs straight past."""
    plate = found.state.plate_of
    ends: dict[tuple[int, int], list[Point]] = defaultdict(list)
    for half_edge in found.half_edges:
        u = half_edge.along
        ends[(plate[half_edge.facet], half_edge.start)].append(u)
        ends[(plate[half_edge.facet], half_edge.end)].append((-u[0], -u[1]))
    sharp: dict[int, set[int]] = defaultdict(set)
    straight: dict[int, set[int]] = defaultdict(set)
    for (k, v), ways in ends.items():
        for a, b in combinations(ways, 2):
            if dot(a, b) > _SHARP:
                sharp[k].add(v)
            elif dot(a, b) < -1 + 1e-9:
                straight[k].add(v)
    return [(sharp[plate[i]], straight[plate[i]]) for i in range(len(found.rings))]


def _halves(half_edge: HalfEdge, bend: _Bend) -> tuple[HalfEdge, HalfEdge]:
    part = bend.part if half_edge.start == bend.low else 1.0 - bend.part
    at = _on(half_edge.segment, part)
    return (
        replace(half_edge, end=bend.corner, segment=(half_edge.segment[0], at)),
        replace(half_edge, start=bend.corner, segment=(at, half_edge.segment[1])),
    )


def _on(seg: Segment, part: float) -> Point:
    (px, py), (qx, qy) = seg
    return (px + (qx - px) * part, py + (qy - py) * part)


def _common(seg: Segment, *others: Segment) -> Segment | None:
    """The part of a segment that lies beside others along its line."""
    u = unit(subtract(seg[1], seg[0]))
    lo, hi = 0.0, distance(*seg)
    for other in others:
        first, last = sorted(dot(subtract(p, seg[0]), u) for p in other)
        lo, hi = max(lo, first), min(hi, last)
    if hi - lo <= 1e-9:
        return None
    x, y = seg[0]
    return ((x + u[0] * lo, y + u[1] * lo), (x + u[0] * hi, y + u[1] * hi))
