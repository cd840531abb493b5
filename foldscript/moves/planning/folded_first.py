"""A tuck that goes in two statements where it does not go in one: the flap is folded over, and then slips.

In: a `Request` of a tuck with a fold line, and the words that fix that line. Out: its refusal, with these
two statements where they go: on the paper as a plain fold leaves it, a layer that the fold took along may
bend the other way, as it cannot while both are folded in one.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ...paper.layers import Collision
from ...paper.signs import Sense
from ...paper.state import State
from ...source.diagnostics import Refusal
from .fold_clauses import as_point
from .request import Clause, Outcome, PointValue, Request
from .single_fold import choose

_IN_TWO = "fold it over first, 'valley' with the same words for where; in the next line 'tuck {flap} {place}'"


def in_two(
    request: Request, rest: Request, refusal: Refusal, tucked: Callable[[Request], Outcome]
) -> Refusal:
    """The refusal of a tuck that folds, with the two statements in which it goes, if it does.

    `rest` are the words that fix the fold, without those for where the flap goes.
    """
    folds = any(c.word not in ("", "layers") for c in rest.clauses)
    if refusal.code not in ("no-pocket", "layers-collide", "blocked") or not folds:
        return refusal
    try:
        tuck = _folded_over(request, rest)
        tucked(tuck)
    except (Refusal, Collision):
        return refusal
    return _told(refusal, tuck)


def _folded_over(request: Request, rest: Request) -> Request:
    """The tuck on the paper after the fold, of the flap as it lies then. Raises Refusal."""
    fold, _ = choose(rest, Sense.VALLEY, need_side=True)
    moves = next((c for c in rest.clauses if c.word in ("", "moving") and c.values), None)
    if moves is None:
        raise Refusal("tuck-what", "no point of the flap is said", span=request.span)
    said = [c for c in request.clauses if c not in rest.clauses]
    flap = Clause("", (_laid(fold.after, as_point(moves.values[0])),), moves.span)
    places = (
        replace(c, values=tuple(_laid(fold.after, as_point(v)) for v in c.values)) for c in said
    )
    return replace(request.amid(fold.after), clauses=(flap, *places))


def _told(refusal: Refusal, tuck: Request) -> Refusal:
    """The refusal of the one statement, with the two in which it goes, `tuck` the second."""
    flap, *places = tuck.clauses
    said = " ".join(" ".join((c.word, *(_name(as_point(v)) for v in c.values))) for c in places)
    hint = _IN_TWO.format(flap=_name(as_point(flap.values[0])), place=said)
    return refusal.with_hints(hint, *refusal.hints)


def _name(point: PointValue) -> str:
    return point.letter or point.words.render()


def _laid(state: State, point: PointValue) -> PointValue:
    """A point of the paper where that lies now."""
    if point.sheet is None:
        raise Refusal("off-the-paper", "there is no paper there", span=point.span)
    facets = state.top_down(state.facets_on_sheet(point.sheet))
    return replace(point, at=state.where(point.sheet), facets=facets)
