"""Soft constraints on edges: apart by a step, together, straight, level, within each other.

In: the edges of a state, as arrays, and how far apart they are to lie. Out: equations in the moves of their
corners (`Constraints`), for many edges at once. None must hold: the moves that come nearest to all are taken.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ...geometry.lines import Point, cross, distance, dot
from ...geometry.polygons import Polygon
from ...paper.state import State
from .covers import Covers
from .half_edges import HalfEdge
from .least_squares import Constraints

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

#: (an edge, another, a place on both, how much further out the first one is to lie there)
Offset = tuple[int, int, Point, float]

#: Where between two places is looked whether an edge shows, and how far beside it (sheet units).
PARTS, _BESIDE = (0.02, 0.25, 0.5, 0.75, 0.98), 1e-6


class Sides:
    """Edges as arrays: corners at their ends, where these lie, which way is out."""

    def __init__(self, edges: Sequence[HalfEdge]) -> None:
        import numpy

        self.corners = numpy.array([(r.start, r.end) for r in edges])
        ends = numpy.array([r.segment for r in edges])
        self.first, self.run = ends[:, 0], ends[:, 1] - ends[:, 0]
        self.long = numpy.hypot(self.run[:, 0], self.run[:, 1])
        self.out = numpy.array([r.outward for r in edges])

    def part(
        self, edges: NDArray[numpy.intp], places: NDArray[numpy.float64]
    ) -> NDArray[numpy.float64]:
        """How far along each edge a place on it lies, from 0 to 1."""
        import numpy

        off = places - self.first[edges]
        return (numpy.hypot(off[:, 0], off[:, 1]) / self.long[edges]).clip(0.0, 1.0)


def apart(sides: Sides, offsets: Sequence[Offset], weight: float) -> Constraints:
    """One edge further out than another, at a place on both; measured square to the first."""
    import numpy

    one, two = (numpy.array([o[k] for o in offsets], dtype=int) for k in (0, 1))
    places = numpy.array([o[2] for o in offsets], dtype=float).reshape(-1, 2)
    s, t = sides.part(one, places), sides.part(two, places)
    part = numpy.stack([1 - s, s, t - 1, -t], axis=1)
    return Constraints(
        numpy.concatenate([sides.corners[one], sides.corners[two]], axis=1),
        part[:, :, None] * sides.out[one][:, None],
        numpy.array([o[3] for o in offsets], dtype=float),
        numpy.full(len(offsets), weight),
    )


def shown(
    sides: Sides, owners: NDArray[numpy.intp], offsets: Sequence[Offset], covers: Covers
) -> NDArray[numpy.bool_]:
    """Whether the second edge of each offset comes to light, at `PARTS` of the way between two places.

    The places are those of offsets in twos; `owners` are the facets of the edges. Gives (offsets / 2, parts).
    """
    import numpy

    two = numpy.array([o[1] for o in offsets[::2]], dtype=int)
    places = numpy.array([o[2] for o in offsets], dtype=float).reshape(-1, 1, 2, 2)
    part = numpy.array(PARTS)[None, :, None]
    probes = places[:, :, 0] * (1 - part) + places[:, :, 1] * part
    probes = probes + _BESIDE * sides.out[two][:, None]
    whose = numpy.repeat(owners[two], len(PARTS))
    return ~covers.hidden(probes.reshape(-1, 1, 2), whose).reshape(-1, len(PARTS))


def near(
    found: Constraints,
    pairs: NDArray[numpy.intp],
    seen: NDArray[numpy.bool_],
    moves: NDArray[numpy.float64],
    least: float,
    most: float,
) -> NDArray[numpy.bool_]:
    """Which pairs of edges, as moved, are apart by `least` to `most` where this is most to be seen.

    Of edges that are to be less than that apart, either one may come out: so does the inner fold of two at an
    end where others push it.
    `pairs` : for each two constraints of `apart` the number of their pair, from 0 on; `seen` : as from
    `shown`. Gives an array of bools.
    """
    import numpy

    off = (found.coefficients * moves[found.unknowns]).sum((1, 2))
    off = numpy.where(found.target > 0, off, -off).reshape(-1, 1, 2)
    part = numpy.array(PARTS)
    along = off[:, :, 0] * (1 - part) + off[:, :, 1] * part
    wrapped = abs(found.target).reshape(-1, 2).max(1, keepdims=True) < most
    along = numpy.where(wrapped, abs(along), along)
    far = numpy.zeros(pairs.max() + 1)
    numpy.maximum.at(far, pairs, numpy.where(seen, along, 0.0).max(1))
    return (far > least) & (far < most)


def together(
    found: Constraints, some: NDArray[numpy.bool_], most: float, weight: float, less: float
) -> Constraints:
    """The same constraints, but `some` (bools) no longer apart by `most` or more, and firmly so.

    Those that were not to be have the weight `less`.
    """
    import numpy

    kept = abs(found.target) < most
    return replace(
        found,
        target=numpy.where(some & ~kept, 0.0, found.target),
        weight=numpy.where(some, numpy.where(kept, less, weight), found.weight),
    )


def true(sides: Sides, edges: Sequence[int], weight: NDArray[numpy.float64]) -> Constraints:
    """Edges keep their place: neither end moves out."""
    import numpy

    some = numpy.array(edges, dtype=int)
    return Constraints(
        sides.corners[some].reshape(-1, 1),
        numpy.repeat(sides.out[some], 2, axis=0)[:, None],
        numpy.zeros(2 * len(some)),
        numpy.repeat(numpy.asarray(weight, dtype=float), 2),
    )


def level(sides: Sides, weight: NDArray[numpy.float64]) -> Constraints:
    """Both ends of an edge move out by the same."""
    import numpy

    along = numpy.stack([sides.out, -sides.out], axis=1)
    return Constraints(sides.corners, along, numpy.zeros(len(along)), numpy.asarray(weight))


def straight(state: State, half_edges: Sequence[HalfEdge], weight: float) -> Constraints:
    """A straight edge with corners of neighbours on it stays straight."""
    plate = state.plate_of
    leaving: dict[tuple[int, int], list[HalfEdge]] = defaultdict(list)
    for r in half_edges:
        leaving[(plate[r.facet], r.start)].append(r)
    corners: list[tuple[int, int, int]] = []
    parts: list[tuple[float, float, float]] = []
    out: list[Point] = []
    for r in half_edges:
        for onward in leaving[(plate[r.facet], r.end)]:
            u, v = r.along, onward.along
            if abs(cross(u, v)) > 1e-6 or dot(u, v) < 0:
                continue
            one, two = distance(*r.segment), distance(*onward.segment)
            corners.append((r.end, r.start, onward.end))
            parts.append((1.0, -two / (one + two), -one / (one + two)))
            out.append(r.outward)
    return _in_line(corners, parts, out, weight)


def within(
    state: State,
    rings: Sequence[tuple[int, ...]],
    spots: Sequence[Polygon],
    edges: Sequence[HalfEdge],
    sides: Sides,
    weight: float,
) -> Constraints:
    """A corner that reaches just to the edge of a layer over or under it does not stand out."""
    import numpy

    at: dict[int, tuple[Point, list[tuple[int, int]]]] = {}
    for a, ring in enumerate(rings):
        for k, v in enumerate(ring):
            at.setdefault(v, (spots[a][k], []))[1].append((a, k))
    places = numpy.array([p for p, _ in at.values()])
    owners = [where for _, where in at.values()]
    run = sides.run / sides.long[:, None]
    x = places[:, None, 0] - sides.first[None, :, 0]
    y = places[:, None, 1] - sides.first[None, :, 1]
    along = x * run[None, :, 0] + y * run[None, :, 1]
    off = numpy.abs(x * run[None, :, 1] - y * run[None, :, 0])
    touching = (off < 1e-7) & (along > 1e-6) & (along < sides.long[None, :] - 1e-6)
    corners: list[tuple[int, int, int]] = []
    parts: list[tuple[float, float, float]] = []
    out: list[Point] = []
    for c, e in zip(*(x.tolist() for x in numpy.nonzero(touching)), strict=True):
        half_edge = edges[e]
        t = float(along[c, e] / sides.long[e])
        for a, k in owners[c]:
            if state.above(a, half_edge.facet) is None and (
                half_edge.mate is None or state.above(a, half_edge.mate) is None
            ):
                continue
            if _reaches_just(spots[a], k, half_edge.outward):
                corners.append((rings[a][k], half_edge.start, half_edge.end))
                parts.append((1.0, t - 1.0, -t))
                out.append(half_edge.outward)
    return _in_line(corners, parts, out, weight)


def _in_line(
    corners: Sequence[tuple[int, int, int]],
    parts: Sequence[tuple[float, float, float]],
    out: Sequence[Point],
    weight: float,
) -> Constraints:
    """Three corners each keep their places on one line: of the ways they move outward, parts make 0."""
    import numpy

    shaped = numpy.array(parts, dtype=float).reshape(-1, 3, 1)
    return Constraints(
        numpy.array(corners, dtype=int).reshape(-1, 3),
        shaped * numpy.array(out, dtype=float).reshape(-1, 1, 2),
        numpy.zeros(len(corners)),
        numpy.full(len(corners), weight),
    )


def _reaches_just(ring: Polygon, k: int, n: Point) -> bool:
    """Whether a corner of an outline is the one point of it that lies farthest along `n`."""
    far = dot(ring[k], n)
    beside = (ring[k - 1], ring[(k + 1) % len(ring)])
    return all(dot(q, n) - far <= -1e-7 for q in beside) and all(
        dot(q, n) - far <= 1e-7 for q in ring
    )
