"""Edges that come out from behind others do so near the corner that holds them.

In: layers moved apart. Out: the same with some edges bent. An edge with one end held and the other
moved would run askew from end to end, and the layers between it and its neighbours would be drawn as
long wedges. It is given one corner more, close to its held end, and runs true from there on: the eye
reads the bend as the thickness of the paper at a fold. All facets along an edge share the corner.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from ...geometry.lines import Point, Segment, distance, dot, subtract, unit
from ...geometry.remembered import remembered
from .half_edges import HalfEdge
from .spreads import Spread

#: An edge bends when its ends differ by more than this part of a gap; ends that differ little do not.
_ASKEW = 0.3
#: One end counts as held when it moves by less than this part of what the other does.
_HELD = 0.5
#: The bend is at least so far from the held end (gaps), and this part of the edge at most.
_REACH, _SHARE = 3.0, 0.45
#: Sides of a point of paper turn together by no more than this part of its angle.
_BLUNT = 0.25
#: Edges lie together for at least this part of their way.
_MOST = 0.6
#: Edges leave a corner in one direction when they differ by less than this (cosine).
_SAME_WAY = 0.9999

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
        bend = bends.get(half_edge.side)
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
    straight: list[set[int]] = []
    for k, low in _wedges(found, askew, gap):
        straight = straight or _run_past(found)
        half_edge = found.half_edges[k]
        if low not in straight[half_edge.facet]:
            picked.setdefault(half_edge.side, (k, low))
    out: dict[Side, _Bend] = {}
    for side, reach in _reaches(found, picked, gap).items():
        k, low = picked[side]
        out[side] = _bend(found, found.half_edges[k], low, reach, len(found.moves) + len(out))
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


def _bend(found: Spread, half_edge: HalfEdge, low: int, reach: float, corner: int) -> _Bend:
    n, (v, w) = half_edge.outward, (half_edge.start, half_edge.end)
    high = w if low == v else v
    part = reach / distance(*half_edge.segment)
    u = (-n[1], n[0])
    off = dot(found.moves[high], n)
    slid = dot(found.moves[low], u) * (1 - part) + dot(found.moves[high], u) * part
    return _Bend(low, part, (n[0] * off + u[0] * slid, n[1] * off + u[1] * slid), corner)


def _reaches(found: Spread, picked: dict[Side, tuple[int, int]], gap: float) -> dict[Side, float]:
    """How far from its held corner each side bends (sheet units), for those that can.

    Sides that bent close to a point of paper would make it blunt: they do so farther away, the sharper it is,
    and all of one place at one distance; where they are too short for that, they do not bend.
    """
    turns = _turns(found, picked)
    leaving: dict[Point, list[Side]] = defaultdict(list)
    for side, (k, low) in picked.items():
        half_edge = found.half_edges[k]
        x, y = half_edge.segment[0 if half_edge.start == low else 1]
        leaving[(round(x, 6), round(y, 6))].append(side)
    out: dict[Side, float] = {}
    for sides in leaving.values():
        here = [found.half_edges[picked[side][0]] for side in sides]
        farthest = max(_drift(found, one) for one in here)
        reach = max(_REACH * gap, farthest / math.tan(min(turns[side] for side in sides)))
        if reach <= _SHARE * min(distance(*one.segment) for one in here):
            out |= dict.fromkeys(sides, reach)
    return out


def _turns(found: Spread, picked: dict[Side, tuple[int, int]]) -> dict[Side, float]:
    """How far each side may turn (radians): its part of the angles between it and others of its plates."""
    out = dict.fromkeys(picked, _BLUNT * math.pi)
    if not picked:
        return out
    for (_, corner), ways in _leaving(found).items():
        for (v, a), (w, b) in combinations(ways, 2):
            if v == w or dot(a, b) > _SAME_WAY:
                continue  # sides of a slit
            angle = math.acos(max(-1.0, dot(a, b)))
            turning = [side for side in (v, w) if side in picked and picked[side][1] == corner]
            for side in turning:
                out[side] = min(out[side], _BLUNT * angle / len(turning))
    return out


def _drift(found: Spread, half_edge: HalfEdge) -> float:
    """How much farther one end of a side moves out than the other."""
    a, b = (dot(found.moves[v], half_edge.outward) for v in (half_edge.start, half_edge.end))
    return abs(a - b)


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


def _run_past(found: Spread) -> list[set[int]]:
    """For each facet the corners that a side of its plate runs straight past."""
    out: dict[int, set[int]] = defaultdict(set)
    for (plate, corner), ways in _leaving(found).items():
        if any(dot(a, b) < -1 + 1e-9 for (_, a), (_, b) in combinations(ways, 2)):
            out[plate].add(corner)
    return [out[found.state.plate_of[i]] for i in range(len(found.rings))]


@remembered
def _leaving(found: Spread) -> dict[tuple[int, int], list[tuple[Side, Point]]]:
    """For each plate and corner the sides that leave it there, and which way."""
    out: dict[tuple[int, int], list[tuple[Side, Point]]] = defaultdict(list)
    for half_edge in found.half_edges:
        plate, (x, y) = found.state.plate_of[half_edge.facet], half_edge.along
        out[(plate, half_edge.start)].append((half_edge.side, (x, y)))
        out[(plate, half_edge.end)].append((half_edge.side, (-x, -y)))
    return out


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
