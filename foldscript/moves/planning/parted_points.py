"""Points on a cut, where the paper on either side of it goes its own way: which of the two is meant is asked.

In: the points that the words say move, and the fold that was found for them. Out: nothing, or the refusal.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...geometry import polygons
from ...geometry.lines import Point, point_on_segment
from ...paper.flap import Flap, moving_parts
from ...paper.state import State
from ...paper.union_find import UnionFind
from ...source.diagnostics import Refusal
from .request import PointValue, Request


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
