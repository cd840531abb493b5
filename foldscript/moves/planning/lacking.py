"""Why there is no such fold, in the craft's words.

In: what a construction says it lacks, and the words it was asked with. Out: a refusal that tells how
much is missing, in millimetres, and what to try.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...geometry.constructions import Lack, NoCrease
from ...geometry.isometries import inverse, map_line
from ...geometry.lines import Line, Point, on_line
from ...geometry.polygons import depth
from ...geometry.tolerance import same_point
from ...paper.silhouette import ACROSS
from ...paper.state import State
from ...source.diagnostics import Hint, Refusal, write
from .called import Called
from .fold_clauses import FoldClauses
from .request import LineValue, PointValue, Request, Value


def no_crease(request: Request, clauses: FoldClauses, none: NoCrease) -> Refusal:
    """The refusal for a construction that has no crease, pointing at the goal."""
    mm = none.gap * request.unit_mm
    gap = f"{mm:.0f} mm" if mm >= 1 else f"{mm:.2f} mm"
    who = target = "it"
    span = request.span
    if clauses.pairs:
        moved, goal = clauses.pairs[min(none.mover, len(clauses.pairs) - 1)]
        if isinstance(moved, PointValue | LineValue) and isinstance(goal, PointValue | LineValue):
            who, target, span = moved.words.render(), goal.words.render(), goal.span
    match none.lack:
        case Lack.SAME_POINT:
            message = (
                f"{who} lies on {target} already"
                if clauses.pairs
                else "the two points lie on each other"
            )
            if clauses.pairs:
                return Refusal(
                    "cannot-reach", message, *_done_before(request, *clauses.pairs[0]), span=span
                )
            hint = "name two points that lie apart"
        case Lack.SAME_LINE:
            return _one_line(request, *clauses.pairs[0])
        case Lack.TOO_SHORT if mm < 0.005:
            message = f"{who} comes ever nearer to {target} but never reaches it"
            hint = "let the crease pass through another point, or bring it to another line"
        case Lack.TOO_SHORT:
            message = f"{who} is {gap} too short to reach {target}"
            hint = "let the crease pass through another point, or bring it to another line"
        case Lack.PARALLEL:
            message = f"{who} moves alongside {target} and stays {gap} away from it"
            hint = "make the crease perpendicular to another line"
        case _:
            message = "too many folds do this: the words do not fix one"
            hint = "name another point or line"
    return Refusal("cannot-reach", message, hint, span=span)


def _one_line(request: Request, moved: Value, goal: Value) -> Refusal:
    """Two names that are of one line as the paper lies: since when, and what to name instead."""
    assert isinstance(moved, LineValue)
    assert isinstance(goal, LineValue)
    who, target = (f"'{v.name}'" if v.name else v.words.render() for v in (moved, goal))
    hints: list[str | Hint] = []
    toward = goal.words.toward if isinstance(goal.words, Called) else ()
    if who == target:
        message = f"{who} is named twice: a line lies along itself already"
        if toward:
            across = f"{' '.join(ACROSS[way] for way in toward)} edge"
            hints.append(write(goal.span, across, f"say '{across}' for the one across from it"))
    else:
        message = (
            f"{who} and {target} are the same line as the paper lies, so there is nothing to fold"
        )
        if moved.segment is not None and moved.facets:
            ends = [_on_sheet(request.state, moved.facets, p) for p in moved.segment]
            hints.extend(_brought_there(request, ends, moved.line))
    hints.append("name a line that lies elsewhere: where what moves is to go to")
    return Refusal("cannot-reach", message, *hints, span=goal.span)


def _on_sheet(state: State, facets: Sequence[int], p: Point) -> Point:
    """The point of the sheet that lies at a place of the folded plane on one of these facets."""
    facet = max(facets, key=lambda k: depth(state.placed[k], p))
    return inverse(state.facets[facet].place)(p)


def _done_before(request: Request, moved: Value, goal: Value) -> tuple[str, ...]:
    """What to try where a point lies where it should go: since when it does, and that others are named."""
    place = moved.sheet if isinstance(moved, PointValue) else None
    there = (
        _brought_there(request, [place], goal.at) if place and isinstance(goal, PointValue) else []
    )
    return (*there, "name two points that lie apart")


def _brought_there(request: Request, places: list[Point], at: Line | Point) -> list[str]:
    """The step whose fold has brought places of the sheet onto a line or a point; none where no fold has."""
    for record in reversed(request.history):
        if record.turn is not None:
            back = inverse(record.turn)
            at = map_line(back, at) if isinstance(at, Line) else back(at)
            continue
        lie = [record.before.where(p) for p in places]
        if not all(on_line(at, p) if isinstance(at, Line) else same_point(at, p) for p in lie):
            return [
                f"step {record.step} has brought it there: leave this out if that fold is meant"
            ]
    return []


def unclear_fold(request: Request, *, one_point: bool) -> Refusal:
    """The words fit none of the ways to place a fold; `one_point` of it is all that they say."""
    more = ["name a second point that it runs through: 'through P Q'"] if one_point else []
    return Refusal(
        "unclear-fold",
        "these words do not fix one fold line",
        *more,
        *(f"write it like: {form}" for form in request.forms),
        span=request.span,
    )
