"""One statement of a step, whatever it is: a move, a repeat of others, a call of a group.

In: the paper and a statement. Out: what was done, each with the paper it was done on, for the figures.
"""

from __future__ import annotations

from dataclasses import replace

from ..source.diagnostics import Refusal
from ..syntax import nodes
from . import groups
from .one_each import carry_each, one_each
from .performing.perform import Folding, perform
from .repeating import repeat as repeats

#: What may close a statement: the paper is laid back at once, and the crease stays.
AND_UNFOLD = "and unfold"


def is_move(statement: nodes.Statement) -> bool:
    """Whether it is a move, and does not do others: no repeat, and no call of a group."""
    return statement.verb not in (repeats.VERB, groups.VERB)


def carry(folding: Folding, number: int, statement: nodes.Statement) -> groups.Done:
    """Carries a statement out. Raises Refusal."""

    def again(other: nodes.Statement) -> groups.Done:
        return carry(folding, number, other)

    now = folding.state
    closing = next((p for p in statement.phrases if p.word == AND_UNFOLD), None)
    if closing is not None:
        return _and_unfold(folding, number, statement, closing)
    if statement.verb == repeats.VERB:
        return [(now, repeats.repeat(folding, number, statement, again))]
    if statement.verb == groups.VERB:
        return groups.call(folding, statement, again)
    parts = one_each(statement)
    if parts:
        return carry_each(folding, number, parts)
    outcome = perform(folding, number, statement)
    return [(outcome.before or now, outcome)]


def _and_unfold(
    folding: Folding, number: int, statement: nodes.Statement, closing: nodes.Phrase
) -> groups.Done:
    """A fold, and the same as 'unfold' after it; together they share a figure where one can show both."""
    if not is_move(statement):
        raise _nothing_to_unfold(statement, closing)
    fold = replace(statement, phrases=tuple(p for p in statement.phrases if p is not closing))
    now = folding.state
    parts = one_each(fold)
    done = carry_each(folding, number, parts) if parts else [(now, perform(folding, number, fold))]
    if not all(outcome.folded for _, outcome in done):
        raise _nothing_to_unfold(statement, closing)
    for _ in tuple(done):
        between = folding.state
        unfold = nodes.Statement("unfold", closing.span, (), closing.span)
        done.append((between, perform(folding, number, unfold)))
    return done


def _nothing_to_unfold(statement: nodes.Statement, closing: nodes.Phrase) -> Refusal:
    return Refusal(
        "nothing-to-unfold",
        f"'{AND_UNFOLD}' follows a fold, and nothing stays folded after '{statement.verb}' here",
        f"leave '{AND_UNFOLD}' out",
        "to take a fold of before back, write 'unfold' in a line of its own",
        span=closing.span,
    )
