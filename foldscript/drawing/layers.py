"""Coincident layers drawn slightly apart.

In: a state and how many points apart two layers that end in the same place may be drawn. Out: a
`Spread`: every facet's outline with its corners moved a little.

Where several layers have an edge in the same place, each layer's edge is to lie a little inside
that of the layer below it, and the fold of an inner pair inside that of the pair around it; where
layers only touch they are to stay together. The moves of the corners of the *sheet* are the
unknowns (one for all facets that meet there, so no joint opens), the wishes are equations, and the
least squares solution is taken: wishes that contradict each other cancel, straight edges stay
straight, and a corner that all layers share stays where it is, so that stacks fan out from it. Only
the height of layers that lie on each other is asked, pair by pair, so rings of layers do no harm.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass

from ..geometry import polygons
from ..geometry.lines import Point, Segment, cross, distance, dot, point_on_segment, subtract, unit
from ..geometry.polygons import Polygon
from ..paper.seams import collinear_overlaps
from ..paper.state import State

#: Weights of the wishes: layers apart, touching edges together, straight edges, corners at rest.
_APART, _TOGETHER, _STRAIGHT, _REST = 1.0, 0.4, 2.5, 0.03
_GRAIN = 1e-7


@dataclass(frozen=True)
class Rim:
    """One side of a facet that the reader may see as an edge (folded coordinates).

    start, end : corner numbers; segment : where it lies; mate : the facet beyond a fold, or None
    """

    facet: int
    start: int
    end: int
    segment: Segment
    mate: int | None


@dataclass(frozen=True)
class Spread:
    """Facets with their corners moved a little apart.

    Attributes
    ----------
    rings : corner numbers around each facet, in the order of its placed outline (more corners than
        the outline where a neighbour has a corner on its side)
    spots : for each facet, the true folded place of those corners
    moves : how far each corner is moved, in folded coordinates
    rims : sides that may be seen as edges
    """

    state: State
    rings: tuple[tuple[int, ...], ...]
    spots: tuple[Polygon, ...]
    moves: tuple[Point, ...]
    rims: tuple[Rim, ...]

    def shape(self, facet: int) -> Polygon:
        """Outline of a facet as drawn (folded coordinates)."""
        return tuple(
            (p[0] + self.moves[v][0], p[1] + self.moves[v][1])
            for v, p in zip(self.rings[facet], self.spots[facet], strict=True)
        )

    def at(self, facet: int, p: Point) -> Point:
        """Where a point of a facet is drawn; both in folded coordinates."""
        dx, dy = self._move_at(facet, p)
        return (p[0] + dx, p[1] + dy)

    def _move_at(self, facet: int, p: Point) -> Point:
        ring, spots = self.rings[facet], self.spots[facet]
        n = len(ring)
        corner = [self.moves[v] for v in ring]
        if all(math.hypot(*m) <= 1e-12 for m in corner):
            return (0.0, 0.0)
        for i in range(n):
            a, b = spots[i], spots[(i + 1) % n]
            if point_on_segment((a, b), p, 1e-7):
                t = distance(a, p) / distance(a, b)
                return _mix(((corner[i], 1 - t), (corner[(i + 1) % n], t)))
        middle = (sum(q[0] for q in spots) / n, sum(q[1] for q in spots) / n)
        mean = _mix(tuple((m, 1 / n) for m in corner))
        for i in range(n):
            a, b = spots[i], spots[(i + 1) % n]
            whole = cross(subtract(b, a), subtract(middle, a))
            u = cross(subtract(b, p), subtract(middle, p)) / whole
            v = cross(subtract(middle, p), subtract(a, p)) / whole
            if u >= -1e-9 and v >= -1e-9 and u + v <= 1 + 1e-9:
                return _mix(((corner[i], u), (corner[(i + 1) % n], v), (mean, 1 - u - v)))
        near = min(range(n), key=lambda i: distance(spots[i], p))
        return corner[near]


def _mix(parts: tuple[tuple[Point, float], ...]) -> Point:
    return (sum(m[0] * w for m, w in parts), sum(m[1] * w for m, w in parts))


def spread(state: State, gap: float, most: float) -> Spread:
    """Moves the corners of a state: layers `gap` apart, a whole stack at most `most` (sheet units)."""
    rings, spots, count = _corners(state)
    rims = _rims(state, rings, spots)
    still = Spread(state, rings, spots, ((0.0, 0.0),) * count, rims)
    if len(state.facets) < 2 or gap <= 0:
        return still
    moves = _settled(state, rims, count, gap, most)
    for _ in range(6):
        found = Spread(state, rings, spots, moves, rims)
        if all(_sound(found, i) for i in range(len(rings))):
            return found
        moves = tuple((m[0] / 2, m[1] / 2) for m in moves)
    return still


def _sound(found: Spread, facet: int) -> bool:
    """Whether a facet, its corners moved, has kept its shape (a sliver must not turn inside out)."""
    before, after = found.spots[facet], found.shape(facet)
    if polygons.area(after) < 0.35 * polygons.area(before):
        return False
    n = len(after)
    return all(
        dot(
            subtract(after[(i + 1) % n], after[i]), subtract(before[(i + 1) % n], before[i])
        )
        > 0
        for i in range(n)
    )


def _corners(state: State) -> tuple[tuple[tuple[int, ...], ...], tuple[Polygon, ...], int]:
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
        cx, cy = round(p[0] / _GRAIN), round(p[1] / _GRAIN)
        for dx in (0, -1, 1):
            for dy in (0, -1, 1):
                for v, q in cells.get((cx + dx, cy + dy), ()):
                    if distance(p, q) <= _GRAIN:
                        return v
        cells.setdefault((cx, cy), []).append((count, p))
        count += 1
        return count - 1

    rings: list[tuple[int, ...]] = []
    spots: list[Polygon] = []
    for i, f in enumerate(state.facets):
        ring: list[int] = []
        where: list[Point] = []
        for a, b in polygons.edges(f.outline):
            inner = [p for p in extra[i] if point_on_segment((a, b), p, _GRAIN)]
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
    return tuple(rings), tuple(spots), count


def _rims(
    state: State, rings: tuple[tuple[int, ...], ...], spots: tuple[Polygon, ...]
) -> tuple[Rim, ...]:
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
    out: list[Rim] = []
    for i, ring in enumerate(rings):
        for k, v in enumerate(ring):
            n = (k + 1) % len(ring)
            w = ring[n]
            key = (i, min(v, w), max(v, w))
            if key not in flat:
                out.append(Rim(i, v, w, (spots[i][k], spots[i][n]), bent.get(key)))
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


def _settled(
    state: State, rims: tuple[Rim, ...], count: int, gap: float, most: float
) -> tuple[Point, ...]:
    """Least squares solution of the wishes, one move a corner."""
    import numpy

    rows: list[tuple[dict[int, Point], float, float]] = []
    _wish_apart(state, rims, gap, most, rows)
    if not rows:
        return ((0.0, 0.0),) * count
    _wish_together(state, rims, rows)
    _wish_straight(state, rims, rows)
    matrix = numpy.zeros((len(rows), 2 * count))
    wanted = numpy.zeros(len(rows))
    for r, (terms, value, weight) in enumerate(rows):
        for v, (x, y) in terms.items():
            matrix[r, 2 * v] = weight * x
            matrix[r, 2 * v + 1] = weight * y
        wanted[r] = weight * value
    normal = matrix.T @ matrix + _REST * _REST * numpy.eye(2 * count)
    found = numpy.linalg.solve(normal, matrix.T @ wanted)
    out: list[Point] = []
    for v in range(count):
        x, y = float(found[2 * v]), float(found[2 * v + 1])
        far = math.hypot(x, y)
        k = 1.0 if far <= most else most / far
        out.append((x * k, y * k))
    return tuple(out)


Row = tuple[dict[int, Point], float, float]


def _wish_apart(
    state: State, rims: tuple[Rim, ...], gap: float, most: float, rows: list[Row]
) -> None:
    """Edges of layers that end in the same place: the upper one a little further in."""
    pairs: list[tuple[int, int, Segment]] = []
    beside: dict[int, set[int]] = defaultdict(set)
    for (i, j), seg in collinear_overlaps([(k, r.segment) for k, r in enumerate(rims)]):
        a, b = rims[i], rims[j]
        same_way = dot(subtract(*a.segment[::-1]), subtract(*b.segment[::-1])) > 0
        if same_way and a.facet != b.facet and a.mate != b.facet:
            pairs.append((i, j, seg))
            beside[i].add(j)
            beside[j].add(i)
    for i, j, seg in pairs:
        inner = _inner(state, rims[i], rims[j])
        if inner is None:
            continue
        deep, wide = (i, j) if inner else (j, i)
        stack = beside[i] & beside[j]
        between = sum(
            1
            for k in stack
            if _inner(state, rims[deep], rims[k]) is True
            and _inner(state, rims[k], rims[wide]) is True
        )
        step = min(gap, most / (len(stack) + 1))
        outward = _outward(rims[i])
        for p in seg:
            terms = _difference(rims[deep], rims[wide], p, outward)
            if terms:
                rows.append((terms, -step * (between + 1), _APART))


def _inner(state: State, a: Rim, b: Rim) -> bool | None:
    """Whether `a` is to lie further in than `b`; None when nothing asks for it."""
    first = [state.above(f, b.facet) for f in (a.facet, a.mate) if f is not None]
    if b.mate is not None:
        first += [state.above(f, b.mate) for f in (a.facet, a.mate) if f is not None]
    known = [x for x in first if x is not None]
    if not known:
        return None
    if all(known) or not any(known):
        return known[0]
    # one fold goes round the other's layers: the inner fold lies further in
    if b.mate is not None and state.above(a.facet, b.facet) != state.above(a.facet, b.mate):
        return True
    if a.mate is not None:
        return False
    return None


def _outward(rim: Rim) -> Point:
    (px, py), (qx, qy) = rim.segment
    ux, uy = unit((qx - px, qy - py))
    return (uy, -ux)


def _difference(a: Rim, b: Rim, p: Point, along: Point) -> dict[int, Point]:
    """Terms of (move of `a` at p - move of `b` at p) . along; {} when they cannot differ."""
    terms: dict[int, float] = defaultdict(float)
    for rim, sign in ((a, 1.0), (b, -1.0)):
        s, e = rim.segment
        t = min(1.0, max(0.0, distance(s, p) / distance(s, e)))
        terms[rim.start] += sign * (1 - t)
        terms[rim.end] += sign * t
    if all(abs(x) < 1e-6 for x in terms.values()):
        return {}
    return {v: (x * along[0], x * along[1]) for v, x in terms.items()}


def _wish_together(state: State, rims: tuple[Rim, ...], rows: list[Row]) -> None:
    """Edges that touch from opposite sides: neither a gap nor an overlap."""
    tagged = [(k, r.segment) for k, r in enumerate(rims)]
    for (i, j), seg in collinear_overlaps(tagged, opposite=True):
        a, b = rims[i], rims[j]
        if a.facet == b.facet or a.mate == b.facet or state.above(a.facet, b.facet) is not None:
            continue
        outward = _outward(a)
        for p in seg:
            terms = _difference(a, b, p, outward)
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
            u, v = unit(subtract(r.segment[1], r.segment[0])), unit(
                subtract(onward.segment[1], onward.segment[0])
            )
            if abs(cross(u, v)) > 1e-6 or dot(u, v) < 0:
                continue
            one, two = distance(*r.segment), distance(*onward.segment)
            n = _outward(r)
            back, ahead = two / (one + two), one / (one + two)
            terms: dict[int, Point] = {r.end: n}
            for vertex, w in ((r.start, back), (onward.end, ahead)):
                x, y = terms.get(vertex, (0.0, 0.0))
                terms[vertex] = (x - w * n[0], y - w * n[1])
            rows.append((terms, 0.0, _STRAIGHT))
