"""Edges of the paper that the reader sees, and how strongly each is drawn.

In: what is visible, and which edges lie in the same place. Out: raw edges, folded edges, and edges
of layers that come out from behind the edge of a layer over them. Those are drawn finer, so that a
stack stays quiet and its top layer stands out; where the layers run together they are not drawn at
all, so that no lines pile up into a black bar.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING, NamedTuple, Protocol, cast

from ...geometry.lines import Point, dot, subtract
from ...paper.state import State
from ..offsets.half_edges import HalfEdge, is_upper
from ..offsets.spreads import Spread
from ..scene.view import View

if TYPE_CHECKING:
    import numpy
    import shapely
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

#: An edge nearer than this to one over it runs together with it: its ink would not show (points).
_CLEAR = 0.23
#: And so it does where it is nowhere farther from it than this (points).
_ONE = 0.5
#: Visible specks of lines below this are dropped (points).
_SPECK = 0.5
#: A facet whose width is less than this in the mean has fine edges only (points).
_NARROW = 1.5

#: From and to, as parts of the way along an edge.
Interval = tuple[float, float]


class Sight(Protocol):
    """What must be known of the paper in sight (see `visible`)."""

    state: State
    spread: Spread
    view: View
    shapes: NDArray[numpy.object_]

    def seen(
        self, facets: Sequence[int], geometries: NDArray[numpy.object_]
    ) -> NDArray[numpy.object_]:
        """What is visible of areas or lines on the page, each lying on its facet."""
        ...


class Edges(NamedTuple):
    """Visible edges, each kind as one shapely geometry of merged lines."""

    raw: shapely.MultiLineString
    folded: shapely.MultiLineString
    under: shapely.MultiLineString


def visible_edges(visible: Sight, shown: Collection[int]) -> Edges:
    """What is seen of every edge; `shown` are the facets of which something may be seen."""
    half_edges = visible.spread.half_edges
    drawn = [
        k
        for k, r in enumerate(half_edges)
        if r.facet in shown and (r.mate is None or is_upper(visible.state, r))
    ]
    runs = _runs(visible, drawn)
    narrow = _narrow(visible, drawn)
    lines: list[tuple[Point, Point]] = []
    owners: list[int] = []
    kinds: list[int] = []
    for k in drawn:
        ends = _ends(visible, half_edges[k])
        for lo, hi, fine in runs[k]:
            lines.append((_on(ends, lo), _on(ends, hi)))
            owners.append(half_edges[k].facet)
            fine = fine or half_edges[k].facet in narrow
            kinds.append(2 if fine else 0 if half_edges[k].mate is None else 1)
    import shapely

    seen = visible.seen(owners, shapely.linestrings(lines)) if lines else ()
    return Edges(
        *(_merged([g for g, k in zip(seen, kinds, strict=True) if k == kind]) for kind in range(3))
    )


def _narrow(visible: Sight, drawn: Sequence[int]) -> set[int]:
    """Facets so narrow that heavy lines along them would leave no paper between."""
    facets = sorted({visible.spread.half_edges[k].facet for k in drawn})
    shapes = visible.shapes[facets]
    import shapely

    long = shapely.length(shapes)
    thick = 2.0 * shapely.area(shapes) < _NARROW * long
    return {i for i, is_narrow in zip(facets, thick.tolist(), strict=True) if is_narrow}


def _runs(visible: Sight, drawn: Sequence[int]) -> dict[int, list[tuple[float, float, bool]]]:
    """For every edge the parts to draw: from, to, and whether it comes out from behind another."""
    half_edges = visible.spread.half_edges
    over: dict[int, list[tuple[int, Interval]]] = defaultdict(list)
    for upper, lower, seg in visible.spread.stacked:
        over[lower].append((upper, _along(half_edges[lower], seg)))
    kept: dict[int, list[Interval]] = {}
    out: dict[int, list[tuple[float, float, bool]]] = {}
    for k in sorted(drawn, key=lambda k: (len(over[k]), k)):
        fine: list[Interval] = []
        merged: list[Interval] = []
        for upper, common in over[k]:
            if upper not in kept:
                continue
            fine.append(common)
            merged += _close(visible, half_edges[k], half_edges[upper], common, kept[upper])
        kept[k] = _less([(0.0, 1.0)], merged)
        out[k] = [(lo, hi, False) for lo, hi in _less(kept[k], fine)]
        out[k] += [(lo, hi, True) for lo, hi in _less(kept[k], _less([(0.0, 1.0)], fine))]
    return out


def _close(
    visible: Sight, lower: HalfEdge, upper: HalfEdge, common: Interval, kept: Sequence[Interval]
) -> list[Interval]:
    """Where an edge as drawn runs together with one over it; both run straight."""
    low, high = _ends(visible, lower), _ends(visible, upper)
    first, last = _along(upper, lower.segment)  # of the lower edge, measured on the upper one
    if abs(last - first) < 1e-9:
        return []
    long = max(1e-9, ((low[1][0] - low[0][0]) ** 2 + (low[1][1] - low[0][1]) ** 2) ** 0.5)
    ux, uy = (low[1][0] - low[0][0]) / long, (low[1][1] - low[0][1]) / long

    def apart(t: float) -> float:
        p, q = _on(low, t), _on(high, first + t * (last - first))
        return (q[1] - p[1]) * ux - (q[0] - p[0]) * uy

    at0, at1 = apart(0.0), apart(1.0)
    far = max(abs(at0 + t * (at1 - at0)) for t in common)
    reach = _between(at0, at1, _CLEAR if far > _ONE else _ONE)
    if reach is None:
        return []
    # moved along its own line, the lower edge may reach beyond the end of the upper one
    ends = sorted(((x - low[0][0]) * ux + (y - low[0][1]) * uy) / long for x, y in high)
    out: list[Interval] = []
    for s, e in kept:
        lo, hi = sorted(((s - first) / (last - first), (e - first) / (last - first)))
        lo, hi = max(lo, common[0], reach[0], ends[0]), min(hi, common[1], reach[1], ends[1])
        if hi > lo:
            out.append((lo, hi))
    return out


def _between(start: float, end: float, most: float) -> Interval | None:
    """Where a value that runs evenly from `start` to `end` lies within `most` of zero."""
    if abs(end - start) < 1e-9:
        return (0.0, 1.0) if abs(start) < most else None
    one, two = sorted((m - start) / (end - start) for m in (-most, most))
    lo, hi = max(0.0, one), min(1.0, two)
    return (lo, hi) if hi > lo else None


def _along(half_edge: HalfEdge, seg: tuple[Point, Point]) -> Interval:
    """Where a segment on a half-edge's line begins and ends, as parts of the way along the half-edge."""
    start, end = half_edge.segment
    run = subtract(end, start)
    n = dot(run, run)
    one, two = (dot(subtract(p, start), run) / n for p in seg)
    return (one, two)


def _less(kept: Sequence[Interval], holes: Sequence[Interval]) -> list[Interval]:
    """What is left of intervals."""
    left = list(kept)
    for hole in holes:
        lo, hi = sorted(hole)
        nxt: list[Interval] = []
        for a, b in left:
            if lo - a > 1e-6:
                nxt.append((a, min(b, lo)))
            if b - hi > 1e-6:
                nxt.append((max(a, hi), b))
        left = [(a, b) for a, b in nxt if b - a > 1e-6]
    return left


def _ends(visible: Sight, half_edge: HalfEdge) -> tuple[Point, Point]:
    moves = visible.spread.moves
    (p, q), v, w = half_edge.segment, moves[half_edge.start], moves[half_edge.end]
    return visible.view((p[0] + v[0], p[1] + v[1])), visible.view((q[0] + w[0], q[1] + w[1]))


def _on(ends: tuple[Point, Point], t: float) -> Point:
    (ax, ay), (bx, by) = ends
    return (round(ax + (bx - ax) * t, 4), round(ay + (by - ay) * t, 4))


def _merged(found: Sequence[BaseGeometry]) -> shapely.MultiLineString:
    import shapely

    pieces = _strings(found)
    if not len(pieces):
        return shapely.MultiLineString()
    whole = cast("shapely.MultiLineString", shapely.multilinestrings(pieces))
    merged = _strings([shapely.line_merge(whole)])
    kept = merged[shapely.length(merged) > _SPECK]
    if not len(kept):
        return shapely.MultiLineString()
    return cast("shapely.MultiLineString", shapely.multilinestrings(kept))


def _strings(found: Sequence[BaseGeometry]) -> NDArray[numpy.object_]:
    """All lines among geometries, none of them empty."""
    import shapely

    parts = shapely.get_parts(found)
    if (shapely.get_type_id(parts) > 3).any():
        parts = shapely.get_parts(parts)
    return parts[(shapely.get_type_id(parts) == 1) & ~shapely.is_empty(parts)]
