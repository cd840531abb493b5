"""The original of a repeat: finished steps, what they did, and where the paper lay before them.

In: a folding with its history. Out: facts about a row of its records, such as the names they gave and how
they turned the model; and records of what only prepares a repeat.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...geometry.isometries import IDENTITY, Isometry, compose
from ...moves.planning.fingers import PAGE, Still
from ...moves.planning.request import MoveRecord, PointValue
from ...paper.state import State
from ...source.diagnostics import Span
from ..performing.perform import Folding, add_record
from ..resolving.resolved import ResolvedStatement
from .traces import Trace, lines_made, moved_paper


@dataclass(frozen=True)
class RepeatedSteps:
    """A row of finished steps: their numbers, the records [start, end) they took, the paper before."""

    first: int
    last: int
    start: int
    end: int
    before: State

    @property
    def words(self) -> str:
        """'step 3' or 'steps 5 to 6'."""
        return (
            f"step {self.first}"
            if self.first == self.last
            else f"steps {self.first} to {self.last}"
        )


def turn_since(folding: Folding, start: int, end: int | None = None) -> Isometry:
    """How the model as a whole has been turned over and round by the records [start, end)."""
    turn: Isometry = IDENTITY
    for record in folding.history[start:end]:
        if record.turn is not None:
            turn = compose(record.turn, turn)
    return turn


def turned_over(folding: Folding, start: int) -> bool:
    """Whether the records from a start on have turned the model to its other side."""
    turns = (record.turn for record in folding.history[start:])
    return sum(turn is not None and turn.flips for turn in turns) % 2 == 1


def trace_of(folding: Folding, original: RepeatedSteps) -> Trace:
    """Where on the sheet the steps did something."""
    pieces = []
    creases = []
    for record in folding.history[original.start : original.end]:
        if record.turn is None:
            pieces.extend(piece.outline for piece in moved_paper(record.before, record.after))
            creases.extend(lines_made(record))
    return Trace(tuple(pieces), tuple(creases))


def points_of(resolved: ResolvedStatement) -> list[PointValue]:
    """The points of the sheet that a statement named, in the order written."""
    return [
        v
        for c in resolved.clauses
        for v in c.values
        if isinstance(v, PointValue) and v.sheet is not None
    ]


def names_given(folding: Folding, original: RepeatedSteps) -> list[str]:
    """Names that the steps gave."""
    return [
        resolved.new_name
        for resolved in folding.statements[original.start : original.end]
        if resolved.new_name and not resolved.preparation
    ]


def last_crease(folding: Folding, original: RepeatedSteps) -> int | None:
    """The last of the steps' records that made creases."""
    for i in reversed(range(original.start, original.end)):
        if folding.history[i].creases and not folding.statements[i].preparation:
            return i
    return None


def add_whole_turn(folding: Folding, number: int, motion: Isometry) -> None:
    """Turns the whole model, which only prepares a repeat."""
    after = folding.state.moved(motion)
    _prepare(folding, MoveRecord(number, None, Still(), folding.state, after, (), turn=motion))


def add_turned_leaf(folding: Folding, number: int, after: State) -> None:
    """Turns a leaf, which only prepares a repeat."""
    _prepare(folding, MoveRecord(number, None, PAGE, folding.state, after, ()))


def _prepare(folding: Folding, record: MoveRecord) -> None:
    nowhere = Span(0, 0)
    add_record(folding, ResolvedStatement("", (), nowhere, "", nowhere, preparation=True), record)


def leaves_turned(folding: Folding, start: int) -> bool:
    """Whether leaves have been turned for a repeat since a record."""
    records = zip(folding.statements[start:], folding.history[start:], strict=True)
    return any(resolved.preparation and record.turn is None for resolved, record in records)
