"""How far the corners of a stack are moved, so that its layers can be told apart.

In: a state, the sides of its facets, and the wanted gaps. Out: a move for every corner of the sheet.

Where several layers have an edge in the same place, each layer's edge is to lie a little inside
that of the layer below it, and the fold of an inner pair inside that of the pair around it; where
edges meet from either side they stay together. These wishes are equations in the unknown moves, and
the least squares solution is taken: wishes that contradict each other cancel, straight edges stay
straight, and a corner that all layers share stays where it is, so that stacks fan out from it. Only
the height of layers that lie on each other is asked, pair by pair, so rings of layers do no harm.
What lies open to the eye resists most, so that fold lines and landmarks stay where they truly are
and hidden layers come out from behind.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence

from ..geometry.lines import Point, Segment, cross, distance, dot, subtract, unit
from ..geometry.polygons import Polygon
from ..paper.seams import collinear_overlaps, remainder
from ..paper.state import State
from .least_squares import Row, solve
from .openness import open_corners, open_parts
from .packs import OUTWARD, STILL, ways
from .rims import Rim, outward_of
from .stacks import Stacks

#: For each edge, the edges that meet it and where.
Meeting = dict[int, list[tuple[int, Segment]]]

#: Weights of the wishes: layers apart, touching edges together, straight edges.
_APART, _TOGETHER, _STRAIGHT = 1.0, 0.5, 2.5
#: An open edge that nothing asks to move does not slant.
_TRUE = 0.6
#: An edge is moved whole rather than askew: hidden, and how much more where it lies open.
_LEVEL, _LEVEL_SEEN = 0.15, 1.5
#: A corner that touches another layer's edge from within stays within.
_WITHIN = 0.8
#: How much a corner wants to stay where it is: hidden; on the piece most open to the eye, where that
#: is pushed aside with a pack, where the corner is hidden, and where it lies open.
_REST, _REST_PUSHED, _REST_SEEN, _REST_OPEN = 0.03, 0.3, 3.0, 8.0


def settled(
    state: State,
    rings: tuple[tuple[int, ...], ...],
    spots: tuple[Polygon, ...],
    rims: tuple[Rim, ...],
    edges: list[Rim],
    stacks: Stacks,
    count: int,
    gap: float,
    most: float,
) -> tuple[Point, ...]:
    """Least squares solution of the wishes, one move a corner. `edges`: those of `stacks`."""
    rows: list[Row] = []
    meeting = _meeting(state, edges)
    parting = ways(state, edges, stacks.pairs)
    busy = _wish_apart(state, rims, edges, stacks, parting, meeting, gap, most, rows)
    if not rows:
        return ((0.0, 0.0),) * count
    seen = open_parts(state)
    _wish_together(edges, meeting, rows)
    _wish_true(edges, busy, seen, rows)
    _wish_level(edges, seen, rows)
    _wish_straight(state, rims, rows)
    _wish_within(state, rings, spots, edges, rows)
    rest = [_REST] * count
    pushed = _pushed(state, edges, stacks, parting)
    bare = open_corners(state, spots)
    for i, ring in enumerate(rings):
        hidden = _REST_PUSHED if i in pushed else _REST_SEEN
        for v, is_open in zip(ring, bare[i], strict=True):
            rest[v] = max(rest[v], (_REST_OPEN if is_open else hidden) * seen[i])
    out: list[Point] = []
    for x, y in solve(rows, rest):
        far = math.hypot(x, y)
        k = 1.0 if far <= most else most / far
        out.append((x * k, y * k))
    return tuple(out)


def _meeting(state: State, edges: list[Rim]) -> Meeting:
    """For each edge, the edges that come against it from the other side at its own height."""
    out: Meeting = defaultdict(list)
    tagged = [(k, r.segment) for k, r in enumerate(edges)]
    for (i, j), seg in collinear_overlaps(tagged, opposite=True):
        a, b = edges[i].facet, edges[j].facet
        if a == b or state.above(a, b) is not None or _parted(state, a, b):
            continue
        out[i].append((j, seg))
        out[j].append((i, seg))
    return out


def _parted(state: State, a: int, b: int) -> bool:
    """Whether some layer lies between two facets that lie beside each other."""
    return any(
        state.above(a, k) != state.above(b, k) for k in state.neighbours[a] & state.neighbours[b]
    )


def _wish_apart(
    state: State,
    rims: Sequence[Rim],
    edges: list[Rim],
    stacks: Stacks,
    parting: Sequence[float],
    meeting: Meeting,
    gap: float,
    most: float,
    rows: list[Row],
) -> set[int]:
    """Edges of layers that end in the same place: the upper one a little further in.

    Gives the edges of which something was asked.
    """
    bands = max(2, round(most / gap) + 1)
    reaches = _reaches(state, rims)
    busy: set[int] = set()
    for way, (deep, wide, seg, over) in zip(parting, stacks.pairs, strict=True):
        if way != STILL:
            busy |= {deep, wide}
        if not over:
            step = 0.2 * gap
        elif _is_stub(*(reaches[(edges[k].facet, edges[k].start)] for k in (deep, wide))):
            step = 0.0
        else:
            low, high, count = stacks.heights(deep, wide)
            step = gap * (_band(high, count, bands) - _band(low, count, bands))
        outward = outward_of(edges[deep])
        held = [s for k in (deep, wide) for _, s in meeting.get(k, ())]
        for piece in _left(seg, held):
            for p in piece:
                terms = _difference(edges[deep], edges[wide], p, outward)
                if terms:
                    rows.append((terms, -way * step, _APART))
    return busy


def _left(seg: Segment, held: Sequence[Segment]) -> Sequence[Segment]:
    """What is left of a segment beside others along its line."""
    start = seg[0]
    u = unit(subtract(seg[1], start))
    end = dot(subtract(seg[1], start), u)
    near: list[Segment] = []
    for other in held:
        lo, hi = sorted(dot(subtract(p, start), u) for p in other)
        if lo <= 0.0 and hi >= end:
            return ()
        if lo < end and hi > 0.0:
            near.append(other)
    return remainder([seg], near) if near else (seg,)


def _pushed(state: State, edges: list[Rim], stacks: Stacks, parting: Sequence[float]) -> set[int]:
    """Facets of plates that are pushed aside like a pack of cards, and of those that end with them."""
    plate = {i: k for k, group in enumerate(state.plates) for i in group}
    pairs: list[set[int]] = []
    packed: set[int] = set()
    for way, (deep, wide, _, _) in zip(parting, stacks.pairs, strict=True):
        rims = (edges[deep], edges[wide])
        pairs.append({plate[f] for r in rims for f in (r.facet, r.mate) if f is not None})
        if way == OUTWARD:
            packed |= pairs[-1]
    beside = {k for pair in pairs if pair & packed for k in pair}
    return {i for k in beside for i in state.plates[k]}


def _wish_true(edges: list[Rim], busy: set[int], seen: Sequence[float], rows: list[Row]) -> None:
    """Edges in the open that have nothing to be told apart from keep their place, and so their slant."""
    for k, rim in enumerate(edges):
        part = seen[rim.facet]
        if k in busy or part < 0.02:
            continue
        n = outward_of(rim)
        for v in (rim.start, rim.end):
            rows.append(({v: n}, 0.0, _TRUE * max(0.3, part)))


def _wish_level(edges: list[Rim], seen: Sequence[float], rows: list[Row]) -> None:
    """Both ends of an edge move out by the same."""
    for rim in edges:
        n = outward_of(rim)
        weight = _LEVEL + _LEVEL_SEEN * min(1.0, 6.0 * seen[rim.facet])
        rows.append(({rim.start: n, rim.end: (-n[0], -n[1])}, 0.0, weight))


def _reaches(state: State, rims: Sequence[Rim]) -> dict[tuple[int, int], tuple[Point, Point]]:
    """For each side (facet, start corner) the ends of the straight edge of its plate that it is part of."""
    plate = {i: k for k, group in enumerate(state.plates) for i in group}
    leaving: dict[tuple[int, int], list[Rim]] = defaultdict(list)
    arriving: dict[tuple[int, int], list[Rim]] = defaultdict(list)
    for r in rims:
        leaving[(plate[r.facet], r.start)].append(r)
        arriving[(plate[r.facet], r.end)].append(r)
    along = {id(r): unit(subtract(r.segment[1], r.segment[0])) for r in rims}
    out: dict[tuple[int, int], tuple[Point, Point]] = {}
    for r in rims:
        u = along[id(r)]
        ends: list[Point] = []
        for table, corner, k in ((arriving, r.start, 0), (leaving, r.end, 1)):
            end = r.segment[k]
            for _ in range(len(rims)):
                on = next(
                    (s for s in table[(plate[r.facet], corner)] if dot(along[id(s)], u) > 1 - 1e-9),
                    None,
                )
                if on is None:
                    break
                end, corner = on.segment[k], (on.start, on.end)[k]
            ends.append(end)
        out[(r.facet, r.start)] = (ends[0], ends[1])
    return out


def _is_stub(inner: tuple[Point, Point], outer: tuple[Point, Point]) -> bool:
    """Whether the edge that would stand out ends within the one above it."""
    u = unit(subtract(inner[1], inner[0]))
    return (
        dot(subtract(outer[0], inner[0]), u) > 1e-6 or dot(subtract(inner[1], outer[1]), u) > 1e-6
    )


def _band(rank: int, count: int, bands: int) -> int:
    """Tall stacks are drawn as a few bands, so that their lines never run into one black bar."""
    return rank if count <= bands else round(rank * (bands - 1) / (count - 1))


def _difference(a: Rim, b: Rim, p: Point, along: Point) -> dict[int, Point]:
    """Terms of (move of `a` at p - move of `b` at p) . along; {} when they cannot differ."""
    t = min(1.0, max(0.0, distance(a.segment[0], p) / distance(*a.segment)))
    terms = {a.start: 1 - t, a.end: t}
    t = min(1.0, max(0.0, distance(b.segment[0], p) / distance(*b.segment)))
    terms[b.start] = terms.get(b.start, 0.0) - (1 - t)
    terms[b.end] = terms.get(b.end, 0.0) - t
    u, v = along
    for x in terms.values():
        if abs(x) >= 1e-6:
            return {k: (x * u, x * v) for k, x in terms.items()}
    return {}


def _wish_together(edges: list[Rim], meeting: Meeting, rows: list[Row]) -> None:
    """Edges that meet from opposite sides: neither a gap nor an overlap."""
    for i, others in meeting.items():
        for j, seg in others:
            if i > j:
                continue
            outward = outward_of(edges[i])
            for p in seg:
                terms = _difference(edges[i], edges[j], p, outward)
                if terms:
                    rows.append((terms, 0.0, _TOGETHER))


def _wish_straight(state: State, rims: tuple[Rim, ...], rows: list[Row]) -> None:
    """A straight edge with corners of neighbours on it stays straight."""
    plate = {i: k for k, group in enumerate(state.plates) for i in group}
    leaving: dict[tuple[int, int], list[Rim]] = defaultdict(list)
    for r in rims:
        leaving[(plate[r.facet], r.start)].append(r)
    for r in rims:
        for onward in leaving[(plate[r.facet], r.end)]:
            u, v = (
                unit(subtract(r.segment[1], r.segment[0])),
                unit(subtract(onward.segment[1], onward.segment[0])),
            )
            if abs(cross(u, v)) > 1e-6 or dot(u, v) < 0:
                continue
            one, two = distance(*r.segment), distance(*onward.segment)
            n = outward_of(r)
            back, ahead = two / (one + two), one / (one + two)
            terms: dict[int, Point] = {r.end: n}
            for vertex, w in ((r.start, back), (onward.end, ahead)):
                x, y = terms.get(vertex, (0.0, 0.0))
                terms[vertex] = (x - w * n[0], y - w * n[1])
            rows.append((terms, 0.0, _STRAIGHT))


def _wish_within(
    state: State,
    rings: tuple[tuple[int, ...], ...],
    spots: tuple[Polygon, ...],
    edges: list[Rim],
    rows: list[Row],
) -> None:
    """A corner that reaches just to the edge of a layer over or under it does not stand out."""
    import numpy

    corners = [(a, k) for a, ring in enumerate(rings) for k in range(len(ring))]
    at = numpy.array([spots[a][k] for a, k in corners])
    start = numpy.array([r.segment[0] for r in edges])
    end = numpy.array([r.segment[1] for r in edges])
    run = end - start
    long = numpy.hypot(run[:, 0], run[:, 1])
    run /= long[:, None]
    x = at[:, None, 0] - start[None, :, 0]
    y = at[:, None, 1] - start[None, :, 1]
    along = x * run[None, :, 0] + y * run[None, :, 1]
    off = numpy.abs(x * run[None, :, 1] - y * run[None, :, 0])
    touching = (off < 1e-7) & (along > 1e-6) & (along < long[None, :] - 1e-6)
    for c, e in zip(*numpy.nonzero(touching), strict=True):
        (a, k), rim = corners[int(c)], edges[int(e)]
        if state.above(a, rim.facet) is None and (
            rim.mate is None or state.above(a, rim.mate) is None
        ):
            continue
        p, ring = spots[a][k], spots[a]
        n = outward_of(rim)
        beside = (ring[k - 1], ring[(k + 1) % len(ring)])
        if any(dot(subtract(q, p), n) > -1e-7 for q in beside):
            continue
        if any(dot(subtract(q, p), n) > 1e-7 for q in ring):
            continue
        terms: dict[int, Point] = {rings[a][k]: n}
        t = float(along[c, e]) / float(long[e])
        for v, w in ((rim.start, 1 - t), (rim.end, t)):
            was = terms.get(v, (0.0, 0.0))
            terms[v] = (was[0] - w * n[0], was[1] - w * n[1])
        rows.append((terms, 0.0, _WITHIN))
