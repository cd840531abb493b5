"""Words that fit several folds: what is asked of the script, each answer with the words that choose it."""

from __future__ import annotations

from collections.abc import Sequence

from ...geometry.lines import dot
from ...geometry.tolerance import EPS
from ...languages.wording import Phrase
from ...source.diagnostics import Hint, Refusal, add, write
from .alignment import Alignment, distinct
from .fold_clauses import CHOICES, FoldClauses
from .request import LineValue, Request
from .sides import points_beside


def which_side(request: Request, found: Sequence[Alignment]) -> Refusal:
    """The words do not say which side of the line moves: a named point on either side does."""
    beside = points_beside(request, found[0].line, found[0].carriers) if found else []
    hints = [add(request.span, f"moving {name}") for name in beside]
    hints[1:] = [Hint(f"or {hint.text}", edit=hint.edit) for hint in hints[1:]]
    hints = [*_other_middle(request), *hints]
    many = len(distinct(list(found)))
    return Refusal(
        "which-side",
        "the words do not say which side of the line moves"
        + (f", and {many} lines fit them" if many > 1 else ""),
        *hints or ["add 'moving' and a point on the side that moves"],
        span=request.span,
    )


def _other_middle(request: Request) -> list[Hint]:
    """An edge brought onto the centre line that it crosses was meant for the one that it lies alongside."""
    pairs = [c.values[0] for c in request.clauses[:2] if c.values]
    if len(pairs) != 2:
        return []
    moved, goal = pairs
    if not isinstance(moved, LineValue) or not isinstance(goal, LineValue):
        return []
    level = goal.words == Phrase("the horizontal centre line")
    if not (level or goal.words == Phrase("the vertical centre line")):
        return []
    if abs(dot(moved.line[:2], goal.line[:2])) > EPS:
        return []
    other = f"{'vertical' if level else 'horizontal'} centre line"
    return [write(goal.span, other, f"say '{other}' for the middle line alongside the edge")]


def several_folds(
    request: Request, clauses: FoldClauses, ways: Sequence[tuple[str, str]]
) -> Refusal:
    """`ways` are the words that choose the folds that fit, and where each of them goes."""
    alike = "" if clauses.near is None else f" and are as near to {clauses.near.words.render()}"
    hints = [add(request.span, word, f"add '{word}' for the one that {way}") for word, way in ways]
    if clauses.near is not None:
        near = request.clause("near")
        hints = [
            write(near.span, word, f"say '{word}' instead of 'near', for the one that {way}")
            for word, way in ways
            if near is not None
        ]
    last = "or add 'near' and a point that is close to the one you mean"
    if clauses.near is not None:
        last = "or name a point after 'near' that is nearer to the one you mean"
    return Refusal(
        "several-folds",
        f"{len(ways)} folds fit these words{alike}: "
        + "; ".join(f"the {word} {way}" for word, way in ways),
        *hints,
        last,
        span=request.span,
    )


def no_such_choice(request: Request, count: int) -> Refusal:
    """More was chosen from than there is."""
    only = "only 1 fold fits" if count == 1 else f"only {count} folds fit"
    hint = "leave the choosing word out" if count == 1 else f"choose {' or '.join(CHOICES[:count])}"
    return Refusal("no-such-choice", f"{only} these words", hint, span=request.span)
