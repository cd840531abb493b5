"""What fingers and eyes meet on the paper: layers, open and folded edges, the side that shows.

In: a state. Out: regions with the layers over each other in each, what each edge of the outline is
made of, the edges that lie on top inside the outline, and how deep each corner of the sheet lies.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from ..geometry import polygons
from ..geometry.cover import cells
from ..geometry.isometries import map_segment
from ..geometry.lines import (
    Point,
    Segment,
    between,
    distance,
    dot,
    line_through,
    overlap_of,
    point_on_segment,
    signed_distance,
    subtract,
    unit,
)
from ..paper.state import State
from .outline import CLOSE


@dataclass(frozen=True)
class Region:
    """A part of the folded model with the same layers everywhere; `stack` from the top down."""

    spot: Point  # a point inside
    area: float
    stack: tuple[int, ...]
    depths: tuple[float, float]  # its nearest and its farthest point (y)


def regions(state: State) -> tuple[Region, ...]:
    """The folded model divided where the number of layers may change."""
    found: list[Region] = []
    for spot, cell in cells(state.placed):
        stack = [i for i, ring in enumerate(state.placed) if polygons.strictly_inside(ring, spot)]
        if stack:
            span = (float(cell.bounds[1]), float(cell.bounds[3]))
            found.append(Region(spot, float(cell.area), state.top_down(stack), span))
    return tuple(found)


def layers_near(state: State, p: Point, toward: Point) -> tuple[int, ...]:
    """Facets just beside p in the direction of `toward`, or a little off it where an edge lies there."""
    stack: list[int] = []
    for turn in (0.0, 0.06, -0.06, 0.13, -0.13):
        spot = just_beside(p, toward, turn)
        depths = [polygons.depth(ring, spot) for ring in state.placed]
        stack = [i for i, d in enumerate(depths) if d > 1e-9]
        if stack and not any(-1e-9 <= d <= 1e-9 for d in depths):
            break
    return state.top_down(stack)


def just_beside(p: Point, toward: Point, turn: float = 0.0) -> Point:
    """A place next to p, in the direction of another point turned a little."""
    away = distance(p, toward)
    if away < CLOSE:
        return p
    k = min(0.5, 2e-4 / away)
    x, y = (toward[0] - p[0]) * k, (toward[1] - p[1]) * k
    c, s = math.cos(turn), math.sin(turn)
    return (p[0] + x * c - y * s, p[1] + x * s + y * c)


@dataclass(frozen=True)
class Depth:
    """How deep a corner of the sheet lies: layers over it and under it.

    `own` is 2 or more where the corner is the tip of a fold, so that several layers end in it.
    """

    over: int
    under: int
    own: int = 1


def depth_of(state: State, corner: Point) -> Depth:
    """Of a corner of the sheet."""
    at = state.where(corner)
    holders = state.facets_on_sheet(corner)
    best: Depth | None = None
    for k in holders:
        stack = layers_near(state, at, polygons.centroid(state.placed[k]))
        own = [place for place, i in enumerate(stack) if i in holders]
        if not own:
            continue
        found = Depth(own[0], len(stack) - own[-1] - 1, len(own))
        if best is None or (found.over, -found.own) < (best.over, -best.own):
            best = found
    return best or Depth(0, 0)


@dataclass(frozen=True)
class HalfEdge:
    """Edges of layers that lie in one place: 'raw' or 'fold', from the top down."""

    kinds: tuple[str, ...]
    start: float  # as a part of the way along the edge
    end: float


def rims(state: State, edge: Segment) -> tuple[HalfEdge, ...]:
    """What an edge of the outline is made of, along it; edges inside a fold are not felt there."""
    raw = [
        (i, seg)
        for i, s in state.raw_edges
        if (seg := overlap_of(edge, map_segment(state.facets[i].place, s))) is not None
    ]
    folds = [
        (_upper_first(state, j.a, j.b), seg)
        for j, s in state.fold_segments
        if (seg := overlap_of(edge, s)) is not None
    ]
    cuts = {0.0, 1.0}
    for _, seg in (*raw, *folds):
        cuts |= {round(_part(edge, p), 7) for p in seg}
    stops = sorted(t for t in cuts if 0 <= t <= 1)
    out: list[HalfEdge] = []
    for lo, hi in pairwise(stops):
        if hi - lo < 1e-5:
            continue
        spot = between(*edge, (lo + hi) / 2)
        kinds = _felt(
            state,
            [i for i, seg in raw if point_on_segment(seg, spot, CLOSE)],
            [pair for pair, seg in folds if point_on_segment(seg, spot, CLOSE)],
        )
        if out and out[-1].kinds == kinds:
            out[-1] = HalfEdge(kinds, out[-1].start, hi)
        else:
            out.append(HalfEdge(kinds, lo, hi))
    return tuple(out)


def _upper_first(state: State, a: int, b: int) -> tuple[int, int]:
    return (a, b) if state.above(a, b) else (b, a)


def _part(edge: Segment, p: Point) -> float:
    v = subtract(edge[1], edge[0])
    return dot(subtract(p, edge[0]), v) / dot(v, v)


def _felt(state: State, raw: list[int], folds: list[tuple[int, int]]) -> tuple[str, ...]:
    """Kinds of the edges that no fold goes round, from the top down."""

    def enclosed(i: int) -> bool:
        return any(
            i not in (upper, lower) and state.above(upper, i) and state.above(i, lower)
            for upper, lower in folds
        )

    kinds = {i: "raw" for i in raw if not enclosed(i)}
    kinds |= {a: "fold" for a, b in folds if not enclosed(a) and not enclosed(b)}
    return tuple(kinds[i] for i in state.top_down(kinds))


def upper_edges(state: State) -> tuple[tuple[str, Segment], ...]:
    """('raw' or 'fold', segment) of the edges that lie open on top, within the outline and on it."""
    bare: list[tuple[str, int, Segment]] = [
        ("raw", i, map_segment(state.facets[i].place, s)) for i, s in state.raw_edges
    ]
    bare += [("fold", _upper_first(state, j.a, j.b)[0], s) for j, s in state.fold_segments]
    return tuple(
        (kind, part) for kind, facet, seg in bare for part in open_parts(state, facet, seg)
    )


def beside_each_other(state: State, kind: str, segment: Segment) -> bool:
    """Whether edges on top of one kind lie along a line from both sides, as those of two doors do."""
    spot = between(*segment, 0.47)
    if kind == "raw":
        edges = [(i, map_segment(state.facets[i].place, s)) for i, s in state.raw_edges]
    else:
        edges = [(_upper_first(state, j.a, j.b)[0], s) for j, s in state.fold_segments]
    line = line_through(*segment)
    sides = {
        signed_distance(line, polygons.centroid(state.placed[i])) > 0
        for i, seg in edges
        if point_on_segment(seg, spot, CLOSE)
        and any(point_on_segment(part, spot, CLOSE) for part in open_parts(state, i, seg))
    }
    return len(sides) == 2


def open_parts(state: State, facet: int, seg: Segment) -> list[Segment]:
    """The parts of a segment on a facet that no layer lies over, nor ends along."""
    hidden: list[tuple[float, float]] = []
    for j in state.neighbours[facet]:
        if not state.above(j, facet):
            continue
        piece = polygons.clip_segment(state.placed[j], seg)
        if piece is not None:
            a, b = (_part(seg, p) for p in piece)
            hidden.append((min(a, b), max(a, b)))
    out: list[Segment] = []
    at = 0.0
    for lo, hi in (*sorted(hidden), (1.0, 1.0)):
        if (lo - at) * distance(*seg) > 1e-5:
            out.append((between(*seg, at), between(*seg, lo)))
        at = max(at, hi)
    return out


def joined(pieces: Iterable[Segment]) -> tuple[Segment, ...]:
    """Segments that continue each other, as one; those that share a stretch count once."""
    rows: list[tuple[Point, Point, list[tuple[float, float]]]] = []
    for p, q in pieces:
        for base, u, spans in rows:
            v = subtract(p, base)
            if abs(u[0] * v[1] - u[1] * v[0]) < CLOSE:
                w = subtract(q, base)
                if abs(u[0] * w[1] - u[1] * w[0]) < CLOSE:
                    a, b = dot(v, u), dot(w, u)
                    spans.append((min(a, b), max(a, b)))
                    break
        else:
            rows.append((p, unit(subtract(q, p)), [(0.0, distance(p, q))]))
    out: list[Segment] = []
    for base, u, spans in rows:
        at: list[list[float]] = []
        for lo, hi in sorted(spans):
            if at and lo <= at[-1][1] + 1e-5:
                at[-1][1] = max(at[-1][1], hi)
            else:
                at.append([lo, hi])
        out += [
            ((base[0] + u[0] * lo, base[1] + u[1] * lo), (base[0] + u[0] * hi, base[1] + u[1] * hi))
            for lo, hi in at
        ]
    return tuple(out)
