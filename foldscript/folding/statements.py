"""One statement of a step, whatever it is: a move, a repeat of others, a call of a group.

In: the paper and a statement. Out: what was done, each with the paper it was done on, for the figures.
"""

from __future__ import annotations

from ..syntax import nodes
from . import groups
from .performing.perform import Folding, perform
from .repeating import repeat as repeats


def carry(folding: Folding, number: int, statement: nodes.Statement) -> groups.Done:
    """Carries a statement out. Raises Refusal."""

    def again(other: nodes.Statement) -> groups.Done:
        return carry(folding, number, other)

    now = folding.state
    if statement.verb == repeats.VERB:
        return [(now, repeats.repeat(folding, number, statement, again))]
    if statement.verb == groups.VERB:
        return groups.call(folding, statement, again)
    return [(now, perform(folding, number, statement))]
