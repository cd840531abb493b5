"""A corner held between two folded edges swings out about one of them: double boat, windmill base.

In: a point of the corner's layer and the folded edge about which it swings. Where that edge ends at another
folded edge of the same layer, the layer under that one is held there and follows: it is creased from the
point where the two edges meet, and laid flat. Out: the paper with both edges opened. It is a squash of the
second edge onto the first, with the corner's layer hinged along the first (see `opening`).
"""

from __future__ import annotations

from collections.abc import Iterator

from ...geometry.isometries import inverse
from ...geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    line_through,
    mirrored,
    on_line,
    subtract,
)
from ...geometry.tolerance import EPS, FOLDED
from ...paper.state import State
from ...source.diagnostics import Refusal
from .opening import Opened, Rays, angle_of, open_spine, same_direction
from .request import PointValue, Request


def corner_out(request: Request, corner: PointValue, hinge: Line) -> Opened | None:
    """Swings the corner out about a folded edge; None where its layer has no second edge there, or where the
    corner would not come to lie beyond the edge as far as it lies before it.

    Raises Refusal where it has one, and the paper does not allow it.
    """
    state = request.state
    problem: Refusal | None = None
    for facet in corner.facets:
        plate = state.plate(facet)
        for rays, beneath in _corners(state, plate, hinge):
            try:
                opened = open_spine(request, rays, plate, beneath)
            except Refusal as refusal:
                problem = problem or refusal
                continue
            there = inverse(state.facets[facet].place)(corner.at)
            if distance(opened.after.where(there), mirrored(hinge, corner.at)) <= FOLDED:
                return opened
    if problem is not None:
        raise problem
    return None


def _corners(
    state: State, plate: frozenset[int], hinge: Line
) -> Iterator[tuple[Rays, frozenset[int]]]:
    """Where a folded edge of a layer along the hinge meets one of it that lies over another layer; and
    the layer on the hinge, which lies over the corner.
    """
    edges = [
        (seg, state.above(joint.a, joint.b) is (joint.a in plate), {joint.a, joint.b} - plate)
        for joint, seg in state.fold_segments
        if (joint.a in plate) != (joint.b in plate)
    ]
    for held, over, others in edges:
        if over or not all(on_line(hinge, p) for p in held):
            continue
        for spine, above, _ in edges:
            apex = _meeting(held, spine)
            if not above or apex is None:
                continue
            turn, edge = (_direction(apex, seg) for seg in (held, spine))
            if not same_direction(turn, edge):
                yield Rays(apex, edge, turn, turn), _holding(state, others, (held, spine))


def _holding(state: State, others: set[int], edges: tuple[Segment, Segment]) -> frozenset[int]:
    """The layer on the hinge, and what is folded back onto it along other edges than these two."""
    layer = frozenset(i for k in others for i in state.plate(k))
    lines = [line_through(*edge) for edge in edges]
    doubled = {
        i
        for joint, seg in state.fold_segments
        if (joint.a in layer) != (joint.b in layer)
        and not any(on_line(line, seg[0]) and on_line(line, seg[1]) for line in lines)
        for k in (joint.a, joint.b)
        for i in state.plate(k)
    }
    return layer | doubled


def _meeting(one: Segment, other: Segment) -> Point | None:
    """The end that two segments share."""
    return next((p for p in one for q in other if distance(p, q) <= 4 * EPS), None)


def _direction(apex: Point, segment: Segment) -> float:
    far = max(segment, key=lambda p: round(distance(p, apex), 9))
    return angle_of(subtract(far, apex))
