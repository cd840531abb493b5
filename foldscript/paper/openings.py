"""Where a flat model opens: edges and tips at which its layers part into a front and a back.

In: a state. Out: `Opening`s in folded coordinates. At an open edge no fold joins the layers of the
front to those of the back; at an open tip the topmost and the undermost flap end in one point.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from ..geometry.lines import (
    Point,
    Segment,
    add,
    cross,
    distance,
    dot,
    line_at,
    midpoint,
    point_on_segment,
    scale,
    subtract,
    unit,
)
from ..geometry.polygons import clip_line, edges
from .silhouette import centre
from .state import State

#: How far inside an edge the layers are looked at, and how near tips are one (sheet units).
_STEP, _CLOSE = 1e-3, 1e-6
#: What an edge counts that has a twin as long: a model seldom opens on one of two sides alone.
_TWIN = 0.4
#: Parts of an edge that are looked at; not its middle, where folds end.
_PLACES = (0.15, 0.35, 0.45, 0.55, 0.65, 0.85)


@dataclass(frozen=True, slots=True)
class Opening:
    """at : its middle; outward : unit vector away from the paper; edge : what opens, None at a tip."""

    at: Point
    outward: Point
    edge: Segment | None = None


def opening_at(state: State, at: Point) -> Segment | None:
    """The open edge on which a point lies; None where the layers are joined or there is no edge."""
    for edge, outward in _sides(state):
        if point_on_segment(edge, at) and min(distance(at, p) for p in edge) > _STEP:
            inside = subtract(at, scale(outward, _STEP))
            along = scale(unit(subtract(edge[1], edge[0])), 2 * _STEP)
            places = [(add(at, way), add(inside, way)) for way in (along, scale(along, -1.0))]
            if all(_evenness(state, *place) > 0 for place in places):
                return edge
    return None


def slit_at(state: State, at: Point) -> Segment | None:
    """The slit amid the paper on which a point lies: there two flaps on top meet that are not joined.

    As far as both reach and nothing lies over it; None where there is no slit.
    """
    here = state.facets_at(at)
    sides = [side for i in here for side in edges(state.placed[i]) if point_on_segment(side, at)]
    for side in sides:
        ux, uy = way = unit(subtract(side[1], side[0]))
        tops = [state.facets_at(add(at, (s * _STEP * -uy, s * _STEP * ux))) for s in (1.0, -1.0)]
        if not all(tops):
            continue
        flaps = [state.plate(stack[0]) for stack in tops]
        if flaps[0] == flaps[1] or _joined(state, flaps, at):
            continue
        (a, b), (c, d) = (_reach(state, flap, at, way) for flap in flaps)
        lo, hi = _uncovered(state, flaps, (at, way), max(a, c), min(b, d))
        if lo < -_STEP and hi > _STEP:
            return add(at, scale(way, lo)), add(at, scale(way, hi))
    return None


def slit_ending_at(state: State, at: Point) -> Segment | None:
    """The slit that ends at a point; None where none does."""
    for i in state.facets_at(at):
        for side in edges(state.placed[i]):
            if not point_on_segment(side, at):
                continue
            for end in side:
                away = subtract(end, at)
                if dot(away, away) <= _STEP**2:
                    continue
                slit = slit_at(state, add(at, scale(unit(away), 2 * _STEP)))
                if slit is not None and point_on_segment(slit, at):
                    return slit
    return None


def _joined(state: State, flaps: list[frozenset[int]], at: Point) -> bool:
    """Whether a fold joins two flaps at a point."""
    return any(
        {joint.a, joint.b} & flaps[0] and {joint.a, joint.b} & flaps[1]
        for joint, seg in state.fold_segments
        if point_on_segment(seg, at)
    )


def _reach(state: State, flap: frozenset[int], at: Point, way: Point) -> tuple[float, float]:
    """From where to where, as seen from a point, a flap ends on the line through it; (0, 0) nowhere."""
    spans: list[tuple[float, float]] = []
    for i in flap:
        for side in edges(state.placed[i]):
            p, q = (subtract(end, at) for end in side)
            if abs(cross(p, way)) < _CLOSE and abs(cross(q, way)) < _CLOSE:
                spans.append((min(dot(p, way), dot(q, way)), max(dot(p, way), dot(q, way))))
    lo = hi = 0.0
    for a, b in sorted(spans):
        hi = max(hi, b) if a <= hi + _CLOSE else hi
    for a, b in sorted(spans, key=lambda span: -span[1]):
        lo = min(lo, a) if b >= lo - _CLOSE else lo
    return lo, hi


def _uncovered(
    state: State, flaps: Sequence[frozenset[int]], line: Segment, lo: float, hi: float
) -> tuple[float, float]:
    """What is left of a stretch of a line about its point where flaps meet there and lie on top, one to its
    left and one to its right; `line` is a point and a unit vector.
    """
    at, (ux, uy) = line
    aside = scale((-uy, ux), _STEP)
    crossed = [p for ring in state.placed for p in clip_line(ring, line_at(at, (ux, uy))) or ()]
    along = [dot(subtract(p, at), (ux, uy)) for p in crossed]
    ends: list[float] = []
    for way in (-1.0, 1.0):
        far = way * (lo if way < 0 else hi)
        marks = sorted({0.0, far, *(way * t for t in along if _STEP < way * t < far)})
        for here, there in pairwise(marks):
            spot = add(at, scale((ux, uy), way * (here + there) / 2))
            tops = (state.facets_at(add(spot, aside)), state.facets_at(subtract(spot, aside)))
            if not all(stack and stack[0] in flap for stack, flap in zip(tops, flaps, strict=True)):
                far = here
                break
        ends.append(way * far)
    return ends[0], ends[1]


def layered(state: State, tip: Point) -> bool:
    """Whether more than one flat piece ends at a tip, so that one can be drawn away from another."""
    inside = add(tip, scale(subtract(centre(state), tip), _STEP))
    return len({state.plate_of[i] for i in state.facets_at(inside)}) > 1


def likeliest(state: State) -> Opening | None:
    """The tip of two flaps, on top and underneath, or else the longest edge that opens most evenly."""
    tip = _tip(state)
    if tip is not None:
        return tip
    best: tuple[float, Opening] | None = None
    sides = list(_sides(state))
    for edge, outward in sides:
        long = distance(*edge)
        twins = sum(abs(distance(*other) - long) < _STEP for other, _ in sides) > 1
        worth = (_TWIN if twins else 1.0) * long * _openness(state, edge, outward)
        if worth > 0 and (best is None or worth > best[0] + _STEP):
            best = (worth, Opening(midpoint(*edge), outward, edge))
    return None if best is None else best[1]


def open_sides(state: State) -> tuple[tuple[Segment, Point], ...]:
    """Sides of the silhouette that open all along, with the way outward, the lowest first."""
    return tuple(
        (edge, outward) for edge, outward in _sides(state) if _openness(state, edge, outward) > 0.0
    )


def _sides(state: State) -> Iterator[tuple[Segment, Point]]:
    """Sides of the silhouette with the way outward, the lowest first."""
    found = [side for ring in state.outlines for side in edges(ring)]
    for p, q in sorted(found, key=lambda s: (round(s[0][1] + s[1][1], 6), round(s[0][0], 6))):
        ux, uy = unit(subtract(q, p))
        yield (p, q), (uy, -ux)


def _openness(state: State, edge: Segment, outward: Point) -> float:
    """How evenly an edge opens, everywhere along it; 0 where it is closed."""
    way = subtract(edge[1], edge[0])
    spots = [add(edge[0], scale(way, t)) for t in _PLACES]
    return min(_evenness(state, p, subtract(p, scale(outward, _STEP))) for p in spots)


def _evenness(state: State, on: Point, inside: Point) -> float:
    """1 where as many layers can go to the front as to the back, 0 where none can."""
    stack = state.facets_at(inside)
    level = {facet: k for k, facet in enumerate(stack)}
    joined = [
        sorted((level[joint.a], level[joint.b]))
        for joint, seg in state.fold_segments
        if joint.a in level and joint.b in level and point_on_segment(seg, on)
    ]
    count = len(stack)
    splits = [k for k in range(1, count) if not any(a < k <= b for a, b in joined)]
    return max((2 * min(k, count - k) / count for k in splits), default=0.0)


def _tip(state: State) -> Opening | None:
    """Where the flap on top and the one underneath end in one corner of the silhouette."""
    corners = [p for ring in state.outlines for p in ring]
    ends = [(c, state.where(c)) for _, c in state.sheet.all_corners]
    for (one, at), (two, spot) in combinations(ends, 2):
        if distance(at, spot) > _CLOSE or all(distance(at, c) > _CLOSE for c in corners):
            continue
        for upper, lower in ((one, two), (two, one)):
            if _bare(state, upper, over=True) and _bare(state, lower, over=False):
                way = subtract(at, centre(state))
                return Opening(at, unit(way) if distance(way, (0.0, 0.0)) > _STEP else (0.0, -1.0))
    return None


def _bare(state: State, corner: Point, over: bool) -> bool:
    """Whether nothing lies on a corner of the sheet (or under it), and something on its other side."""
    mine = state.facets_on_sheet(corner)
    others = {(i, j) for i in mine for j in state.neighbours[i] if j not in mine}
    return bool(others) and all((state.above(i, j) is True) is over for i, j in others)
