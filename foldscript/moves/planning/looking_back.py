"""What has been folded before, on the paper as it lies now: for moves that undo a fold, or do it again.

In: records of the history and the state now. Out: how the model has been turned since, where a record's
crease lies, whether the paper lies as it lay once, which folds are open again.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from ...geometry import polygons
from ...geometry.isometries import IDENTITY, Isometry, compose, map_segment
from ...geometry.lines import (
    Line,
    Point,
    Segment,
    cross,
    distance,
    dot,
    line_through,
    on_line,
    overlap_of,
    subtract,
)
from ...geometry.tolerance import EPS, same_point
from ...paper.seams import remainder
from ...paper.state import State
from ...paper.symmetry import differences
from .request import LineValue, MoveRecord

#: Two ways go the same direction where the cosine between them is more (about 20 degrees).
_SAME_WAY = 0.94


def turn_of(records: Iterable[MoveRecord]) -> Isometry:
    """How these moves have turned the whole model."""
    turn: Isometry = IDENTITY
    for record in records:
        if record.turn is not None:
            turn = compose(record.turn, turn)
    return turn


def is_fold_along(record: MoveRecord, value: LineValue) -> bool:
    """Whether a fold made the crease named, or runs along it and nowhere else: that crease, folded again."""
    if not record.folded or not record.creases:
        return False
    named = bool(value.name) and record.name == value.name
    return named or not remainder(record.creases, value.creases)


def crease_now(state: State, record: MoveRecord) -> Line | None:
    """The one line along which the record's creases lie now, folded or flat; None when they are bent."""
    line: Line | None = None
    for seg in record.creases:
        for facet in state.facets:
            piece = polygons.clip_segment(facet.outline, seg)
            if piece is None or same_point(*piece):
                continue
            placed = map_segment(facet.place, piece)
            if line is None:
                line = line_through(*placed)
            elif not (on_line(line, placed[0]) and on_line(line, placed[1])):
                return None
    return line


def lies_as(state: State, earlier: State) -> bool:
    """Whether the paper lies as it lay once, in the same layers; creases that lie flat do not count.

    How it is divided into facets does not count either.
    """
    if state.sheet != earlier.sheet:
        return False
    spots = [(f, p) for f in state.facets for p in (*f.outline, polygons.centroid(f.outline))]
    stays = all(
        any(same_point(f.place(p), earlier.facets[i].place(p)) for i in earlier.facets_on_sheet(p))
        for f, p in spots
    )
    return stays and not differences(state, earlier, IDENTITY, behind=False)


def journeys(now: State, then: State, *, apart: bool = False) -> tuple[tuple[Point, Point], ...]:
    """From where to where paper goes, up to four ways, the farthest first; what goes together shares one.

    With `apart`, ways that would cross a longer one, or go the same direction as it, are left out.
    """
    moves: list[tuple[float, Point, Point]] = []
    for facet in now.facets:
        for other in then.facets:
            common = polygons.intersection(facet.outline, other.outline)
            if not common:
                continue
            away = [(distance(facet.place(p), other.place(p)), p) for p in common]
            far, p = max(away, key=lambda item: round(item[0], 9))
            if far > EPS:
                moves.append((far, facet.place(p), other.place(p)))
    moves.sort(key=lambda m: (-round(m[0], 9), m[1], m[2]))
    kept: list[tuple[Point, Point]] = []
    for far, tail, head in moves:
        if far < moves[0][0] * 0.5:
            break
        if apart and any(_tangled((tail, head), other) for other in kept):
            continue
        if all(distance(tail, t) > 0.25 * far and distance(head, h) > 0.25 * far for t, h in kept):
            kept.append((tail, head))
    return tuple(kept[:4])


def _tangled(way: Segment, other: Segment) -> bool:
    """Whether two ways cross, or go nearly the same direction."""
    (p, q), (r, s) = way, other
    one, two = subtract(q, p), subtract(s, r)
    if dot(one, two) > _SAME_WAY * math.hypot(*one) * math.hypot(*two):
        return True
    sides = [cross(one, subtract(at, p)) for at in other] + [
        cross(two, subtract(at, r)) for at in way
    ]
    return sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0


def laid_flat(history: Sequence[MoveRecord], after: State) -> tuple[int, ...]:
    """Which folds of the history are open again: none of what they creased is folded any longer."""
    folds = [joint.segment for joint in after.joints if joint.folded]
    return tuple(
        k
        for k, record in enumerate(history)
        if record.folded
        and not record.undone
        and record.creases
        and not any(overlap_of(crease, fold) for crease in record.creases for fold in folds)
    )
