"""Which way paper rises whose crease was made to different sides: of a line that turns as one.

In: a `Request`, the segments that are raised, and which side was inside where each was made. Out: sides on
which its parts agree. Paper that was creased while it was folded and has been opened since bends to the other
side there: hands raise such a line towards them, all along.
"""

from __future__ import annotations

from itertools import combinations

from ...geometry.isometries import map_segment
from ...geometry.lines import (
    Line,
    Point,
    Segment,
    line_through,
    midpoint,
    point_on_segment,
    same_line,
)
from ...geometry.polygons import clip_segment
from ...geometry.tolerance import same_point
from ...paper.state import State
from ...paper.union_find import UnionFind
from ...pose.goals import Raise
from ...pose.pieces import NEAR
from .request import LineValue, Request


def rising_as_one(
    request: Request, creases: tuple[Segment, ...], senses: tuple[int, ...]
) -> tuple[int, ...]:
    """The senses, of which those of a line that turns as one agree: where they did not, it is a valley as the
    reader sees it.

    Two parts turn as one where they meet in line and no crease across is raised: where one is, either may
    turn to a side of its own, as the crease of a floor and its end in the wall do. A part that is itself
    bent by a fold has no one side that the reader sees.
    """
    state = request.state
    lines = [_placed(state, crease) for crease in creases]
    valley = [_valley(state, crease) for crease in creases]
    across = _raised(request)
    joined = UnionFind(len(creases))
    for i, j in combinations(range(len(creases)), 2):
        at = _meeting(creases[i], creases[j])
        if at is not None and valley[i] and valley[j] and same_line(lines[i], lines[j]):
            crossed = (
                point_on_segment(other, at, NEAR) and not same_line(_placed(state, other), lines[i])
                for other in across
            )
            if not any(crossed):
                joined.unite(i, j)
    agreed = list(senses)
    for some in joined.sets():
        if len({senses[k] * valley[k] for k in some} - {0}) > 1:
            for k in some:
                agreed[k] = valley[k]
    return tuple(agreed)


def _placed(state: State, crease: Segment) -> Line:
    """The line of the folded plane that a segment of the sheet lies on."""
    facet = state.facets[state.facets_on_sheet(midpoint(*crease))[0]]
    return line_through(*map_segment(facet.place, crease))


def _valley(state: State, crease: Segment) -> int:
    """The side that is inside of a valley as the reader sees it: 1 the sheet's front, -1 its back; 0 where
    paper beside the crease shows both.
    """
    shown = {f.shows_front for f in state.facets if clip_segment(f.outline, crease) is not None}
    return 0 if len(shown) > 1 else 1 if True in shown else -1


def _meeting(one: Segment, other: Segment) -> Point | None:
    """The end that two segments share."""
    return next((p for p in one if any(same_point(p, q) for q in other)), None)


def _raised(request: Request) -> list[Segment]:
    """What is raised along: by moves before, and all lines of this statement."""
    before = [goal for record in request.history for goal in record.goals]
    return [
        *(crease for goal in before if isinstance(goal, Raise) for crease in goal.creases),
        *(
            crease
            for clause in request.clauses
            for value in clause.values
            if isinstance(value, LineValue)
            for crease in value.creases
        ),
    ]
