"""What the words of a single fold, or of a point that moves, claim of the paper after it.

In: the words, looked up, and the line they fix. Out: claims (see `claims`).
"""

from __future__ import annotations

from collections.abc import Iterator

from ...geometry.isometries import inverse
from ...geometry.lines import Line, Point, mirrored, signed_distance
from ...geometry.polygons import inside
from ...geometry.tolerance import EPS
from ...paper.state import State
from .claims import Claim, Lands, Moves, OnlyBeyond, Onto, Reaches, Stays, segments_of
from .fold_clauses import FoldClauses
from .request import LineValue, PointValue, Value


def places(state: State, p: PointValue) -> tuple[Point, ...]:
    """The places on the sheet that a point may stand for: of what was found by eye, one on each layer."""
    return tuple(inverse(state.facets[i].place)(p.at) for i in p.facets)


def lands(state: State, p: PointValue, at: Point, within: float = 0.0) -> Lands:
    """The point comes to a place."""
    return Lands(places(state, p), at, within)


def comes_onto(
    state: State, moved: PointValue | LineValue, goal: Line, within: float = 0.0
) -> Onto | Reaches:
    """The point, or the line where it lies on paper, comes onto a line."""
    if isinstance(moved, PointValue):
        return Reaches(places(state, moved), goal, within)
    there = () if moved.segment is None else segments_of(state, moved.segment, moved.facets)
    return Onto(there, goal, within)


def fold_claims(
    state: State, clauses: FoldClauses, line: Line, within: float = 0.0
) -> tuple[Claim, ...]:
    """Of a fold about a line, what moves on its left.

    The words are kept `within` a length (sheet units) where the line was drawn aside to meet a corner.
    """
    return (OnlyBeyond((line,), mirrored=True), *_of_words(state, clauses, line, within))


def _of_words(state: State, clauses: FoldClauses, line: Line, within: float) -> Iterator[Claim]:
    for moved, goal in clauses.pairs:
        yield from _of_pair(state, moved, goal, line, within)
    for p in clauses.moving:
        yield Moves(places(state, p))
    for p in clauses.through:
        if isinstance(p, PointValue):
            yield Stays(places(state, p), within)


def _of_pair(state: State, moved: Value, goal: Value, line: Line, within: float) -> Iterator[Claim]:
    if isinstance(moved, PointValue) and isinstance(goal, PointValue):
        yield lands(state, moved, goal.at, within)
    elif isinstance(moved, LineValue) and isinstance(goal, LineValue):
        yield comes_onto(state, moved, goal.line, within)
    elif isinstance(moved, PointValue) and isinstance(goal, LineValue):
        if signed_distance(line, moved.at) >= -EPS:
            yield comes_onto(state, moved, goal.line, within)
        else:  # the point stays, and the line comes onto it
            image = mirrored(line, moved.at)
            there = [i for i in goal.facets if inside(state.placed[i], image)]
            yield Lands(
                tuple(inverse(state.facets[i].place)(image) for i in there), moved.at, within
            )
