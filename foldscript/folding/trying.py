"""Statements tried on the paper as it lies, which stays as it was: what comes of them.

In: lines of one step, the paper. Out: the paper after them, or what refuses them.
"""

from __future__ import annotations

from ..moves.registry import verbs
from ..paper.state import State
from ..source.diagnostics import Refusal
from ..syntax.parser import statements
from ..syntax.whole_lines import Lines
from .performing.perform import Folding
from .performing.proving import ClaimBroken
from .repeating.checkpoints import restore, save
from .statements import carry

#: Mistakes in what was said; others are of the paper, and other words for the same do not mend them.
OF_WORDING = frozenset(
    (
        "cut-where",
        "mark-what",
        "name-it",
        "turn-by",
        "not-a-line",
        "line-to-point",
        "not-a-point",
        "open-what",
        "repeat-what",
        "sign-where",
        "squash-what",
        "tuck-where",
        "swing-what",
        "unclear-fold",
        "unexpected-words",
        "unfold-what",
        "unknown-group",
        "unknown-name",
        "which-line",
        "which-tip",
    )
)


def end_of(row: Lines, folding: Folding, number: int) -> Refusal | str | None:
    """'' where statements fold on this paper, else what refuses them; None for what cannot be read."""
    end = tried(row, folding, number)
    return "" if isinstance(end, State) else end


def tried(row: Lines, folding: Folding, number: int) -> State | Refusal | None:
    """The paper after statements, or what refuses them; None for what cannot be read."""
    said = statements(row, verbs(), folding.names.known()) if row else ()
    if not said:
        return None
    was = save(folding)
    try:
        for statement in said:
            carry(folding, number, statement)
    except Refusal as refusal:
        return refusal
    except ClaimBroken:  # our fault, but not that of the line in question
        return None
    else:
        return folding.state
    finally:
        restore(folding, was)


def lying(state: State) -> object:
    """The same for papers that lie alike with the same creases, however their parts are counted."""
    parts = (
        tuple(sorted((round(x, 6), round(y, 6)) for x, y in outline)) for outline in state.placed
    )
    return frozenset(parts), frozenset(state.order.items()), frozenset(state.creases)
