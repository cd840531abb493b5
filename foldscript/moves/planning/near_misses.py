"""Fold lines that miss a corner, an edge or a fold by less than a hand sees: they are made to meet it.

In: a fold as the words fix it, and what carries it out. Out: that fold, or the one along the line through
what the words' line all but meets, with how far the paper then lands beside what the words say. Numbers that
a teacher rounds (0.333 for a third) miss by so much, and hands fold through the corner.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from typing import TypeVar

from ...geometry.lines import Line, Point, distance, midpoint, mirrored, on_line
from ...geometry.tolerance import EPS, nearest, same
from ...paper.steady import SPREAD, drawn_through
from ...paper.too_near import TooNear
from ...source.diagnostics import Refusal
from .alignment import Alignment
from .fold_clauses import FoldClauses
from .request import PointValue, Remark, Request

Made = TypeVar("Made")

#: Lines are drawn aside so often at most: as many corners as a line can all but meet, one after the other.
_TRIES = 8


@dataclass(frozen=True)
class Met(Alignment):
    """A fold whose line was drawn aside to meet what the words' line passes.

    Attributes
    ----------
    off : how far paper that moves lands from where the words' line would bring it, at most (sheet units)
    missed : what the words' line passed, and how far away, for messages
    """

    off: float = 0.0
    missed: tuple[str, float] = ("", 0.0)


def meeting(
    request: Request,
    clauses: FoldClauses,
    one: Alignment,
    make: Callable[[Alignment], Made],
) -> Made:
    """What `make` makes of a fold, or of the fold through the corners that its line all but meets.

    Raises Refusal, as `make` does: 'too-near' where no line through all of those is near enough.
    """
    try:
        return make(one)
    except TooNear as refusal:
        told = refusal
    near = told
    corners: list[Point] = []
    for _ in range(_TRIES):
        fresh = [p for p in near.corners if p not in corners]
        corners += fresh
        line = _through(one.line, corners, _pivots(clauses))
        off = _apart(request, one.line, line)
        if not fresh or off > 2 * nearest(request.unit_mm):
            break
        try:
            return make(_drawn(one, line, off, told))
        except TooNear as refusal:
            near = refusal
        except Refusal as refusal:
            if refusal.code == "fold-misses-flap":  # along an edge of all the paper nothing folds
                break
            raise
    raise told


def slack(one: Alignment) -> float:
    """How far from the words paper may land: nothing, unless the line was drawn aside (sheet units)."""
    return one.off if isinstance(one, Met) else 0.0


def made_to_meet(one: Alignment) -> tuple[Remark, ...]:
    """That the line was drawn aside."""
    if not isinstance(one, Met):
        return ()
    beside, mm = one.missed
    return (
        Remark(
            "made-to-meet",
            f"as it is said, the line passes {mm:.2g} mm beside {beside}: it is folded through there",
        ),
    )


def end_on_line(request: Request, one: Alignment, at: Point) -> Point:
    """Where a crease that stops at a point of the words' line ends: at the corner met there, or beside it."""
    if not isinstance(one, Met):
        return at
    for ring in request.state.placed:
        for p in ring:
            if distance(p, at) <= nearest(request.unit_mm) and on_line(one.line, p):
                return p
    return midpoint(at, mirrored(one.line, at))


def _drawn(one: Alignment, line: Line, off: float, told: TooNear) -> Met:
    given = {field.name: getattr(one, field.name) for field in fields(Alignment)}
    return Met(**{**given, "line": line}, off=off, missed=(told.beside, told.miss_mm))


def _pivots(clauses: FoldClauses) -> list[Point]:
    """Points that the words' line runs through, where they leave its direction free."""
    return [] if clauses.square_to else [p.at for p in clauses.through if isinstance(p, PointValue)]


def _through(line: Line, corners: Sequence[Point], pivots: Sequence[Point]) -> Line:
    """The line through the corners; where they fix no direction, through the farthest of the pivots too."""
    along = sorted(line.ny * p[0] - line.nx * p[1] for p in corners)
    if along[-1] - along[0] < SPREAD:
        middle = (along[0] + along[-1]) / 2
        away = sorted((abs(line.ny * p[0] - line.nx * p[1] - middle), p) for p in pivots)
        if away and away[-1][0] >= SPREAD and not (len(away) > 1 and same(away[0][0], away[1][0])):
            return drawn_through(line, [*corners, away[-1][1]])
    return drawn_through(line, corners)


def _apart(request: Request, one: Line, other: Line) -> float:
    """How far apart the images of any place of the paper lie in two lines, at most."""
    return EPS + max(
        distance(mirrored(one, p), mirrored(other, p))
        for ring in request.state.placed
        for p in ring
    )
