"""Layers pinched together along two lines, and rounded to both sides between them.

In: a `Pose` without it, and the goal. Out: the `Pose` with it, proved as any other. What is between the lines
is told by the paper: what hangs together with both of them. Half of its layers go to either side; what hangs
beyond a line goes with that line, and stays as it is.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

import numpy as np

from ..geometry import polygons
from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    line_through,
    midpoint,
    point_on_segment,
    signed_distance,
)
from ..paper.state import State
from ..paper.union_find import UnionFind
from ..source.diagnostics import Refusal
from .curling import laid_out, lines_of
from .goals import EXACT, Goal, Round
from .lens import Lens, lens, reach_of
from .making import made
from .measuring import measured_again
from .pieces import Array, Pieces, cut_up
from .pose import Edge, Pose, Reached
from .proof import BENT, ROLLED

#: Sheet units within which a place is on a line, and within which paper lies in one plane.
_ON, _PLANE = 1e-6, 1e-5
#: Millimetres that a width may be off.
_WIDTH = 1e-3


@dataclass(frozen=True)
class Body:
    """What is between two pinched lines.

    Attributes
    ----------
    one, other : the lines in the folded plane
    inside : a place between them, on the paper
    facets : what is between them, layer upon layer
    """

    one: Line
    other: Line
    inside: Point
    facets: frozenset[int]

    def reach(self, state: State) -> float:
        """How far it reaches from where the lines meet, sheet units."""
        rings = [state.placed[k] for k in sorted(self.facets)]
        return reach_of(self.one, self.other, self.inside, rings)


def body_of(state: State, goal: Round) -> Body:
    """What a goal rounds, on the flat paper.

    Raises Refusal where nothing hangs between its lines, and 'which-opening' where it cannot be told which
    layers go to either side.
    """
    pieces = cut_up(state, [*goal.one, *goal.other])
    parts = _parted(pieces, goal)
    inside = parts.inside
    _upper(pieces, goal, parts)
    areas = pieces.areas()
    largest = max(inside, key=lambda k: (round(areas[k], 9), -k))
    spot = polygons.centroid(pieces.folded(largest))
    one, other = (_line(state, some) for some in (goal.one, goal.other))
    return Body(one, other, spot, frozenset(pieces.facets[k] for k in inside))


def rounded(state: State, base: Pose, goal: Round, done: Collection[Goal] = ()) -> Pose:
    """A pose with paper rounded between two lines; what of its goals was `done` before may be undone by it.

    Raises Refusal, 'round-bent' and those of `body_of`, where it does not lie flat between the lines.
    """
    unit_mm = state.sheet.unit_mm
    body = body_of(state, goal)
    width = goal.width / unit_mm
    shape = lens(body.one, body.other, body.inside, body.reach(state), width)
    lines, bends = lines_of(base, unit_mm)
    pieces = cut_up(state, [*lines, *goal.one, *goal.other, *_cuts(state, body, shape)])
    before, places = laid_out(pieces, base)
    parts = _parted(pieces, goal)
    upper = _upper(pieces, goal, parts)
    start, *axes = _frame(pieces, places, parts.inside)
    ways = np.array(axes)
    moved = places.copy()
    for k, ring in enumerate(pieces.rings):
        here = list(ring)
        if k in parts.inside:
            local = _on_strip(shape, pieces.folded(k))
            local[:, 2] *= 1.0 if k in upper else -1.0
            moved[here] = start + local @ ways
        elif k in parts.beyond:
            local = (places[here] - start) @ ways.T
            turned = np.c_[local[:, :2], np.ones(len(local))] @ shape.beyond
            turned[:, 2] = local[:, 2]
            moved[here] = start + turned @ ways
    home = [k for k in range(len(pieces.rings)) if k not in parts.beyond and k not in parts.inside]
    still = next((k for k in home if before[k] == base.still), (home or [0])[0])
    ridges = [
        _ridge(pieces, shape, [k for k in parts.inside if (k in upper) == up]) for up in (1, 0)
    ]

    def measure(edges: Sequence[Edge], space: Array) -> list[Reached]:
        high, low = (space[some] @ ways[2] for some in ridges)
        got = float(high.max() - low.min())
        near = abs(got - goal.width) < _WIDTH
        kept = measured_again(pieces, space, base.goals, base.proof.reached, done)
        return [*kept, Reached("round", goal.width, got, "mm", near)]

    exact = all(isinstance(one, EXACT) for one in base.goals)
    stages = ((*base.goals, goal),)
    meant = pieces.on([*bends, *goal.one, *goal.other])
    return made(pieces, moved, stages, still, measure, ROLLED if exact else BENT, meant=meant)


def _line(state: State, segments: Sequence[Segment]) -> Line:
    """The line of the folded plane that segments of the sheet lie on."""
    longest = max(segments, key=lambda s: (round(distance(*s), 9), s))
    facet = state.facets_on_sheet(midpoint(*longest))[0]
    return line_through(*map_segment(state.facets[facet].place, longest))


@dataclass(frozen=True)
class _Parts:
    """What two lines part the sheet into.

    Attributes
    ----------
    layer : for each piece the number of the part that it is in
    inside : pieces between both lines
    beyond : pieces beyond the second line; all others are beyond the first
    """

    layer: tuple[int, ...]
    inside: tuple[int, ...]
    beyond: frozenset[int]


def _parted(pieces: Pieces, goal: Round) -> _Parts:
    """The parts of the sheet.

    Raises Refusal, 'round-lines' where nothing is between the lines, 'round-over' where what hangs together
    with both of them reaches over one.
    """
    on = [_along(pieces, goal.one), _along(pieces, goal.other)]
    joined = UnionFind(len(pieces.rings))
    for k, seam in enumerate(pieces.seams):
        if seam.right >= 0 and k not in on[0] | on[1]:
            joined.unite(seam.left, seam.right)
    layer = tuple(joined.find(k) for k in range(len(pieces.rings)))
    touched: dict[int, set[int]] = defaultdict(set)
    for n, seams in enumerate(on):
        for k in seams:
            for piece in (pieces.seams[k].left, pieces.seams[k].right):
                if piece >= 0:
                    touched[layer[piece]].add(n)
    both = {one for one, lines in touched.items() if len(lines) == 2}
    if not both:
        raise Refusal(
            "round-lines",
            "no paper hangs between the two lines that it is to be rounded between",
            "name two creases, folds or edges, one at each end of what is rounded",
        )
    between = _between(pieces, goal, layer, both)
    side: dict[int, int] = {}
    for _ in range(len(both) + len(touched)):
        for n, seams in enumerate(on):
            for seam in (pieces.seams[k] for k in sorted(seams)):
                ends = [layer[k] for k in (seam.left, seam.right) if k >= 0]
                for one, other in (ends, ends[::-1]) if len(ends) == 2 else ():
                    if one not in between and one not in side:
                        side |= {one: n} if other in between else {}
                        side |= {one: side[other]} if other in side else {}
    inside = tuple(k for k, one in enumerate(layer) if one in between)
    return _Parts(layer, inside, frozenset(k for k, one in enumerate(layer) if side.get(one)))


def _between(pieces: Pieces, goal: Round, layer: Sequence[int], both: Collection[int]) -> set[int]:
    """Of the parts that reach from line to line those that lie between them."""
    lines = [_line(pieces.state, some) for some in (goal.one, goal.other)]
    ways: dict[int, list[set[int]]] = {one: [set(), set()] for one in both}
    areas: dict[tuple[int, ...], float] = defaultdict(float)
    sizes = pieces.areas()
    for k, one in enumerate(layer):
        if one in both:
            for n, line in enumerate(lines):
                away = [signed_distance(line, p) for p in pieces.folded(k)]
                ways[one][n] |= {1 if d > 0 else -1 for d in away if abs(d) > _ON}
    alone = {one: tuple(min(w) for w in some) for one, some in ways.items() if _one_way(some)}
    for k, one in enumerate(layer):
        if one in alone:
            areas[alone[one]] += sizes[k]
    if not areas:
        raise Refusal(
            "round-over",
            "paper that is to be rounded reaches over the line where it is pinched",
            "pinch it where all its layers end, or at a line beyond them",
        )
    best = max(areas, key=lambda way: (round(areas[way], 9), way))
    return {one for one, way in alone.items() if way == best}


def _one_way(some: Sequence[Collection[int]]) -> bool:
    return all(len(ways) == 1 for ways in some)


def _along(pieces: Pieces, segments: Sequence[Segment]) -> set[int]:
    """Seams and free edges along segments of the sheet."""
    spots = [(float(x), float(y)) for x, y in pieces.points]
    return {
        k
        for k, seam in enumerate(pieces.seams)
        for segment in segments
        if all(point_on_segment(segment, spots[v], _ON) for v in (seam.start, seam.end))
    }


def _cuts(state: State, body: Body, shape: Lens) -> list[Segment]:
    """The lines of its strips on the sheet."""
    out: list[Segment] = []
    for facet in sorted(body.facets):
        back = inverse(state.facets[facet].place)
        for cut in shape.cuts[1:-1]:
            part = polygons.clip_line(state.placed[facet], cut)
            if part is not None and shape.strip_of(midpoint(*part)) is not None:
                out.append(map_segment(back, part))
    return out


def _on_strip(shape: Lens, flat: Sequence[Point]) -> Array:
    """Where the upper half of a piece lies."""
    strip = shape.strip_of(polygons.centroid(tuple(flat)))
    assert strip is not None  # told already of all that is between the lines
    return np.c_[np.array(flat), np.ones(len(flat))] @ shape.strips[strip]


def _ridge(pieces: Pieces, shape: Lens, some: Sequence[int]) -> list[int]:
    """Points of pieces that lie in the middle between both lines."""
    middle = shape.cuts[len(shape.cuts) // 2]
    return sorted(
        {
            v
            for k in some
            for v, p in zip(pieces.rings[k], pieces.folded(k), strict=True)
            if abs(signed_distance(middle, p)) < _ON
        }
    )


def _upper(pieces: Pieces, goal: Round, parts: _Parts) -> set[int]:
    """The pieces that go to the reader's side.

    Raises Refusal, 'which-opening', where it cannot be told how many of the layers do.
    """
    facets: dict[int, set[int]] = defaultdict(set)
    for k in parts.inside:
        facets[parts.layer[k]].add(pieces.facets[k])
    below = {one: _under(pieces.state, one, facets) for one in sorted(facets)}
    height: dict[int, int] = {}
    try:
        for one in TopologicalSorter(below).static_order():
            height[one] = 1 + max((height[other] for other in below[one]), default=-1)
    except CycleError:
        raise _which() from None
    by_piece = {k: height[parts.layer[k]] for k in parts.inside}
    cut = _cut(pieces, goal, by_piece)
    return {k for k, high in by_piece.items() if high >= cut}


def _under(state: State, one: int, facets: Mapping[int, Collection[int]]) -> set[int]:
    """The layers that lie under one."""
    return {
        other
        for other, some in facets.items()
        if other != one and any(state.above(i, j) for i in facets[one] for j in some)
    }


def _cut(pieces: Pieces, goal: Round, height: Mapping[int, int]) -> int:
    """How many layers lie under the lowest one that goes up."""
    count, part = 1 + max(height.values()), goal.parts
    if part is not None:
        deep = {k: polygons.depth(pieces.polygon(k), part.at) for k in height}
        named = max(deep, key=lambda k: (deep[k], -k))
        up = pieces.state.facets[pieces.facets[named]].shows_front == part.front
        cut = height[named] + (1 if up else 0)
        if deep[named] > 0 and 0 < cut < count:
            return cut
    elif count % 2 == 0:
        return count // 2
    raise _which()


def _which() -> Refusal:
    return Refusal(
        "which-opening",
        "it cannot be told which layers go to either side when the paper is rounded",
        "say it with 'opening' and a point of the pocket that fingers go into",
    )


def _frame(pieces: Pieces, places: Array, inside: Sequence[int]) -> Array:
    """4 × 3: where (x, y, 0) of the folded plane lies in space: its beginning, and the ways of x, y and z.

    Raises Refusal, 'round-bent', where the paper does not lie in one plane as it does when it is flat.
    """
    flat = [p for k in inside for p in pieces.folded(k)]
    image = np.vstack([places[list(pieces.rings[k])] for k in inside])
    known = np.c_[np.array(flat), np.ones(len(flat))]
    affine, *_ = np.linalg.lstsq(known, image, rcond=None)
    if float(np.abs(known @ affine - image).max()) > _PLANE:
        raise Refusal(
            "round-bent",
            "the paper does not lie flat where it is to be rounded",
            "round it before other parts are raised or opened",
        )
    return np.array([affine[2], affine[0], affine[1], np.cross(affine[0], affine[1])])
