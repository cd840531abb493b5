"""Where what moves comes to lie: on the paper of its goal, or only on the goal's line.

In: an alignment and the words it came from. Out: whether the fold does what the words say to the eye;
of several folds that fit, those are meant; how near to a place it comes, and what tells it from others.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...geometry.isometries import map_segment, reflection
from ...geometry.lines import (
    Point,
    Segment,
    distance,
    line_through,
    meet,
    midpoint,
    mirrored,
    overlap_of,
    segment_distance,
    signed_distance,
)
from ...geometry.tolerance import EPS, FOLDED, sign
from ...paper.flap import Flap, far_point
from .alignment import Alignment
from .fold_clauses import FoldClauses
from .request import LineValue, PointValue, Request

#: A landing is nearer by far than another at this share of its distance.
_BY_FAR = 0.5


def _left_part(found: Alignment, segment: Segment) -> Segment | None:
    """The part of a segment that moves; all of it where the fold line does not cross it."""
    ends = [signed_distance(found.line, p) for p in segment]
    if not found.sided or ends[0] * ends[1] >= 0:
        return segment
    p, q = segment if ends[0] > 0 else segment[::-1]
    at = meet(line_through(p, q), found.line)
    return None if at is None else (p, at)


def both_move(found: Alignment, clauses: FoldClauses) -> bool:
    """Whether all points named land where they are said to; else a line comes onto a point that stays."""
    sides = {
        sign(signed_distance(found.line, moved.at))
        for moved, goal in clauses.pairs
        if isinstance(moved, PointValue) and isinstance(goal, LineValue)
    }
    return not {1, -1} <= sides


def lands_on_target(found: Alignment, clauses: FoldClauses) -> bool:
    """Whether what moves comes to lie on the paper of its goal, not only on the goal's line."""
    mirror = reflection(found.line)
    for moved, goal in clauses.pairs:
        if not isinstance(goal, LineValue) or goal.segment is None:
            continue
        if isinstance(moved, LineValue) and moved.segment is not None:
            part = _left_part(found, moved.segment)
            if part is None or overlap_of(map_segment(mirror, part), goal.segment) is None:
                return False
        elif (
            isinstance(moved, PointValue)
            and segment_distance(goal.segment, mirrored(found.line, moved.at)) > FOLDED
        ):
            return False
    return True


def nearest_to_target(folds: Sequence[Alignment], clauses: FoldClauses) -> list[Alignment]:
    """Of folds that bring a point beyond the end of its goal, the one that lands by far nearest to it.

    All of them where none does.
    """
    goals = [
        goal.segment
        for moved, goal in clauses.pairs
        if isinstance(moved, PointValue) and isinstance(goal, LineValue) and goal.segment
    ]
    heads = [one.head for one in folds if one.head is not None]
    if len(goals) != 1 or len(heads) < len(folds):
        return [*folds]
    beside = [segment_distance(goals[0], head) for head in heads]
    nearest, second = sorted(beside)[:2]
    if nearest > second * _BY_FAR or second <= EPS:  # all lie on it
        return [*folds]
    return [folds[beside.index(nearest)]]


def away(one: Alignment, moving: Flap, spot: Point) -> float:
    """How far a spot is from where the moved point or edge lands, or else from the crease on paper."""
    crease = min(segment_distance(segment, spot) for _, segment in moving.creases)
    if one.head is None or one.what is None:
        return crease
    ends = (mirrored(one.line, end) for end in one.edge) if one.edge is not None else ()
    return min(crease, distance(one.head, spot), *(distance(end, spot) for end in ends))


def told_apart(request: Request, ways: Sequence[tuple[Alignment, Flap]]) -> tuple[str, ...]:
    """'lands 12 mm from corner A': what tells each fold from the others that fit the same words.

    Where all land alike, or crease there, it is what moves.
    """
    heads = [one.head for one, _ in ways if one.head is not None]
    landing = [f"lands {request.locate(head)}" for head in heads]
    sided = [f"{words}, {side}" for words, side in zip(landing, _sides(heads), strict=True)]
    creases = [f"creases {request.locate(midpoint(*_longest(moving)))}" for _, moving in ways]
    moved = [f"moves the paper {request.locate(far_point(moving))}" for _, moving in ways]
    middles = [midpoint(*_longest(moving)) for _, moving in ways]
    lying = [f"creases {side}" for side in _sides(middles)]
    told = next(
        (words for words in (landing, sided, creases, moved, lying) if len({*words}) == len(ways)),
        [f"{crease} and {paper}" for crease, paper in zip(creases, moved, strict=True)],
    )
    return tuple(told)


def _sides(spots: Sequence[Point]) -> list[str]:
    """Of two spots, on which side each lies of the other: along the longer way between them."""
    if len(spots) != 2:
        return [""] * len(spots)
    (x, y), (u, v) = spots
    if abs(x - u) > abs(y - v):
        sides = ["on the left", "on the right"]
        return sides if x < u else sides[::-1]
    sides = ["below the other", "above the other"]
    return sides if y < v else sides[::-1]


def _longest(moving: Flap) -> Segment:
    return max((seg for _, seg in moving.creases), key=lambda seg: round(distance(*seg), 9))
