"""A folding saved and restored, for attempts that may fail.

In: a `Folding`. Out: a `Checkpoint` of everything that moves can change; and the folding as it was then.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...languages.wording import Phrase
from ...moves.planning.request import MoveRecord
from ...paper.state import State
from ..performing.perform import Folding
from ..resolving.names import Names
from ..resolving.resolved import ResolvedStatement


@dataclass(frozen=True)
class Checkpoint:
    """A folding at one moment, to go back to when an attempt fails."""

    state: State
    names: Names
    history: tuple[MoveRecord, ...]
    statements: tuple[ResolvedStatement, ...]
    solid: tuple[int, str] | None
    cautions: tuple[Phrase, ...]


def save(folding: Folding) -> Checkpoint:
    """Everything that a move can change, as it is now."""
    return Checkpoint(
        folding.state,
        folding.names.copy(),
        tuple(folding.history),
        tuple(folding.statements),
        folding.solid,
        tuple(folding.cautions),
    )


def restore(folding: Folding, was: Checkpoint) -> None:
    """Puts everything back as it was."""
    folding.state, folding.names = was.state, was.names.copy()
    folding.history[:], folding.statements[:] = was.history, was.statements
    folding.solid, folding.cautions[:] = was.solid, was.cautions
