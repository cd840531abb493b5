"""What is said to move and does not: points on a cut, and lines on another layer than the one that moves.

Where a point lies on a cut, the paper on either side of it goes its own way: which of the two is meant is
asked. In: what the words say moves, and the fold that was found for it. Out: nothing, or the refusal.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...geometry import polygons
from ...geometry.lines import Point, point_on_segment
from ...geometry.tolerance import same_point
from ...paper.flap import Flap, moving_parts
from ...paper.state import State
from ...paper.union_find import UnionFind
from ...source.diagnostics import Refusal
from .fold_clauses import FoldClauses
from .request import LineValue, PointValue, Request


def refuse_left_behind(request: Request, clauses: FoldClauses, moving: Flap) -> None:
    """Refuses a fold of the layer named after 'moving' that leaves behind what is to come to the goal."""
    for head, goal in clauses.pairs:
        if isinstance(head, PointValue):
            if not isinstance(goal, PointValue):
                continue  # of a point and a line, either may come to the other
        elif not (isinstance(head, LineValue) and isinstance(goal, LineValue)):
            continue
        if not head.facets or _goes(request.state, head, moving):
            continue
        what = head.words.render()
        if clauses.moving:
            mover = clauses.moving[0]
            named = mover.words.render()
            raise Refusal(
                "moves-another-layer",
                f"{what} would stay where it is: {named} lies on another layer, and that one would move",
                f"name a point of the layer with {what} after 'moving'",
                f"or say what of the layer with {named} comes to {goal.words.render()}",
                span=mover.span,
            )
        raise Refusal(
            "moves-another-layer",
            f"{what} would stay where it is: it lies on none of the layers that would move",
            f"name a point of the layer with {what} after 'moving'",
            "or leave the number of layers out",
            span=head.span,
        )


def _goes(state: State, head: PointValue | LineValue, moving: Flap) -> bool:
    """Whether paper on which a point or a line lies is among what moves."""
    moved = set(moving.facets).intersection(head.facets)
    if isinstance(head, PointValue) or head.segment is None or not moved:
        return bool(moved)
    parts = moving_parts(state, moving.line)
    pieces = (polygons.clip_segment(parts[i], head.segment) for i in moved if i in parts)
    return any(piece is not None and not same_point(*piece) for piece in pieces)


def refuse_parted(request: Request, movers: Iterable[PointValue], moving: Flap) -> None:
    """Refuses a fold that moves the paper on one side of a cut, where the point named lies on both."""
    state = request.state
    if not state.cuts:
        return
    parts, moved = moving_parts(state, moving.line), set(moving.facets)
    for point in movers:
        if point.sheet is None:
            continue
        sides = [
            [i for i in side if i in parts and polygons.inside(parts[i], point.at)]
            for side in _sides(state, point.sheet)
        ]
        goes = [not moved.isdisjoint(side) for side in sides if side]
        if True in goes and False in goes:
            raise Refusal(
                "parted-point",
                f"{point.words.render()} lies on a cut, and the paper on either side of it could move",
                "mark a point beside the cut on the side that is meant, say X, and add 'moving X'",
                span=point.span,
            )


def _sides(state: State, at: Point) -> tuple[tuple[int, ...], ...]:
    """The facets round a point of the sheet; those that hold together there in one row."""
    here = state.facets_on_sheet(at)
    number = {i: k for k, i in enumerate(here)}
    joined = UnionFind(len(here))
    for joint in state.joints:
        if joint.a in number and joint.b in number and point_on_segment(joint.segment, at):
            joined.unite(number[joint.a], number[joint.b])
    return tuple(tuple(here[k] for k in row) for row in joined.sets())
