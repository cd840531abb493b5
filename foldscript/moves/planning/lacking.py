"""Why there is no such fold, in the craft's words.

In: what a construction says it lacks, and the words it was asked with. Out: a refusal that tells how
much is missing, in millimetres, and what to try.
"""

from __future__ import annotations

from ...geometry.constructions import Lack, NoCrease
from ...source.diagnostics import Refusal
from .fold_clauses import FoldClauses
from .request import LineValue, PointValue, Request


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
            hint = "name two points that lie apart"
        case Lack.SAME_LINE:
            message = f"{who} lies along {target} already, so there is nothing to fold"
            hint = "name two different lines"
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
