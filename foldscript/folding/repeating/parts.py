"""Parts of a script that a repeat looks back on: finished steps, what they did, where the paper lay.

In: the paper with its history. Out: values about a row of its records; and the paper saved and restored,
for attempts that fail.
"""

from __future__ import annotations

from dataclasses import dataclass

from ...geometry.isometries import IDENTITY, Isometry, compose, reflection
from ...geometry.lines import Line
from ...languages.wording import Phrase
from ...moves.planning.fingers import PAGE, Still
from ...moves.planning.request import MoveRecord, PointValue
from ...paper.silhouette import centre
from ...paper.state import State
from ...source.diagnostics import Span
from ..performing.perform import Folding, ResolvedStatement, remember
from ..resolving.names import Names
from .images import Trace, moved_paper


@dataclass(frozen=True)
class Part:
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


@dataclass(frozen=True)
class Saved:
    """The paper at one moment, to go back to when an attempt fails."""

    state: State
    names: Names
    history: tuple[MoveRecord, ...]
    said: tuple[ResolvedStatement, ...]
    solid: tuple[int, str] | None
    cautions: tuple[Phrase, ...]


def save(paper: Folding) -> Saved:
    """Everything that a move can change."""
    return Saved(
        paper.state,
        paper.names.copy(),
        tuple(paper.history),
        tuple(paper.said),
        paper.solid,
        tuple(paper.cautions),
    )


def restore(paper: Folding, saved: Saved) -> None:
    """Puts everything back."""
    paper.state, paper.names = saved.state, saved.names.copy()
    paper.history[:], paper.said[:] = saved.history, saved.said
    paper.solid, paper.cautions[:] = saved.solid, saved.cautions


def turn_since(paper: Folding, start: int, end: int | None = None) -> Isometry:
    """How the model as a whole has been turned over and round by the records [start, end)."""
    turn: Isometry = IDENTITY
    for record in paper.history[start:end]:
        if record.turn is not None:
            turn = compose(record.turn, turn)
    return turn


def turned_over(paper: Folding, start: int) -> bool:
    """Whether the records from a start on have turned the model to its other side."""
    turns = (record.turn for record in paper.history[start:])
    return sum(turn is not None and turn.flips for turn in turns) % 2 == 1


def over(state: State) -> Isometry:
    """The motion that turns the model over from side to side."""
    return reflection(Line(1.0, 0.0, centre(state)[0]))


def trace_of(paper: Folding, part: Part) -> Trace:
    """Where on the sheet the part did something."""
    pieces = []
    creases = []
    for record in paper.history[part.start : part.end]:
        if record.turn is None:
            pieces.extend(piece.outline for piece in moved_paper(record.before, record.after))
            creases.extend(record.creases)
    return Trace(tuple(pieces), tuple(creases))


def points_of(said: ResolvedStatement) -> list[PointValue]:
    """The points of the sheet that a statement named, in the order written."""
    return [
        v
        for c in said.clauses
        for v in c.values
        if isinstance(v, PointValue) and v.sheet is not None
    ]


def names_given(paper: Folding, part: Part) -> list[str]:
    """Names that the part gave."""
    return [
        said.new_name
        for said in paper.said[part.start : part.end]
        if said.new_name and not said.aside
    ]


def last_crease(paper: Folding, part: Part) -> int | None:
    """The last record of the part that made creases."""
    for i in reversed(range(part.start, part.end)):
        if paper.history[i].creases and not paper.said[i].aside:
            return i
    return None


def turned_in_mind(paper: Folding, number: int, motion: Isometry) -> None:
    """Turns the whole model, which only prepares a repeat."""
    _aside(
        paper,
        MoveRecord(number, None, Still(), paper.state, paper.state.moved(motion), (), turn=motion),
    )


def turned_page(paper: Folding, number: int, after: State) -> None:
    """Turns a flap like a page, which only prepares a repeat."""
    _aside(paper, MoveRecord(number, None, PAGE, paper.state, after, ()))


def _aside(paper: Folding, record: MoveRecord) -> None:
    nothing = Span(0, 0)
    remember(paper, ResolvedStatement("", (), nothing, "", nothing, aside=True), record)


def pages_turned(paper: Folding, start: int) -> bool:
    """Whether flaps have been turned like pages for a repeat since a record."""
    records = zip(paper.said[start:], paper.history[start:], strict=True)
    return any(said.aside and record.turn is None for said, record in records)
