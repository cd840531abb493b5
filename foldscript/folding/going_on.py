"""A script with one change, folded on from a line that was refused: how far it goes.

In: where it was refused, the change, and how much may be spent. Out: a run that goes on line by line for as
long as lines fold, and what is known of the paper then. The paper that is asked about stays as it is.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from ..geometry.lines import line_at, parallel
from ..moves.registry import verbs
from ..paper.state import State
from ..paper.symmetry import mirror_line, symmetries
from ..source.diagnostics import Edit, FoldscriptError, Refusal, Source
from ..syntax import nodes
from ..syntax.parser import parse_all
from .earlier_lines import Place
from .groups import read_groups
from .performing.perform import Folding
from .performing.proving import ClaimBroken
from .repeating.repeat import VERB as REPEAT
from .resuming import copied
from .statements import carry

#: Statements before a line, of scripts that are folded from their start once more.
_MOST_BEFORE = 24
#: Pieces of paper up to which a figure is asked whether it is alike on both sides.
_MOST_FACETS = 64
#: What a repeat costs, in folds: places for it are sought.
_REPEAT = 15
_UPRIGHT = line_at((0.0, 0.0), (0.0, 1.0))

#: Lays out the paper of a program before its first step. Raises FoldscriptError.
LayOut = Callable[[nodes.Program], Folding]


@dataclass
class Budget:
    """What may be spent on runs, counted in pieces of paper that folds are made with; it runs out."""

    left: float

    def pays(self, state: State, statement: nodes.Statement) -> bool:
        """Whether a statement can be folded still; it is paid for."""
        pieces = len(state.placed)
        folds = _REPEAT if statement.verb == REPEAT else 1
        self.left -= folds * (4 + pieces + pieces * pieces / 50)
        return self.left >= 0


class Run:
    """A changed script on its way.

    Attributes
    ----------
    lines : how many lines after the changed one have folded; -1 before the changed one has
    remarks : how many were made on the way
    stopped : whether a line was refused
    changes : 2 where lines after the changed one were changed too
    """

    def __init__(
        self,
        folding: Folding,
        program: nodes.Program,
        rest: list[tuple[int, nodes.Statement]],
        end: int,
        changes: int = 1,
    ) -> None:
        self.lines, self.remarks, self.stopped, self.changes = -1, 0, False, changes
        self._folding, self._rest, self._end = folding, rest, end
        self._now = rest[0][0] if rest else 0
        folding.steps, folding.groups = program.steps, read_groups(program)

    def to(self, lines: int, budget: Budget) -> bool:
        """Goes on until so many lines after the changed one have folded, or one is refused.

        False where the budget has run out before.
        """
        while self._rest and not self.stopped:
            number, statement = self._rest[0]
            behind = statement.span.start >= self._end
            if behind and self.lines < 0:
                self.lines = 0
            if behind and self.lines >= lines:
                return True
            if not budget.pays(self._folding.state, statement):
                return False
            self._carry(number, statement)
            if not self.stopped:
                self._rest.pop(0)
                self.lines += behind
        if not self._rest:
            self.lines = max(self.lines, 0)
        return True

    def _carry(self, number: int, statement: nodes.Statement) -> None:
        folding = self._folding
        if number != self._now:
            folding.step_ends.append((folding.state, len(folding.history)))
            folding.names.earlier = folding.state.creases
            self._now = number
        try:
            done = carry(folding, number, statement)
        except (Refusal, ClaimBroken):
            self.stopped = True
        else:
            self.remarks += sum(len(outcome.remarks) for _, outcome in done)

    def alike(self) -> int:
        """How regular the paper is: twice the ways in which it can be laid onto itself, and one where it is
        alike left and right; 0 where it is not at all, or too much to tell.
        """
        state = self._folding.state
        if len(state.placed) > _MOST_FACETS:
            return 0
        others = [one for one in symmetries(state) if not one.is_identity]
        axes = [mirror_line(one.motion) for one in others]
        upright = any(axis is not None and parallel(axis, _UPRIGHT) for axis in axes)
        return 2 * len(others) + upright


def begun(place: Place, edit: Edit, lay_out: LayOut, *, sisters: bool = False) -> Run | None:
    """The run of a script with a change; None where the line cannot be read then, or too much comes before.

    `sisters` : whether lines of the same move that come next are changed in the same way
    """
    text = edit.applied(place.source.text)
    end = place.span.end + len(edit.text) - (edit.span.end - edit.span.start)
    if sisters:
        other = _with_sisters(text, place, edit, end)
        if other == text:
            return None
        text = other
    earlier = edit.span.start < place.span.start
    source = Source(place.source.name, text)
    program, stop = read(source, min(place.span.start, edit.span.start))
    if stop < end:
        return None
    if earlier and (program.parts or _count(program, place.span.start) > _MOST_BEFORE):
        return None
    try:
        folding = lay_out(program) if earlier else copied(place.folding)
    except FoldscriptError:
        return None
    begin = 0 if earlier else place.span.start
    rest = _rest(program, begin, stop, 1 if earlier else place.number)
    return Run(folding, program, rest, end, 2 if sisters else 1)


def read(source: Source, after: int) -> tuple[nodes.Program, int]:
    """A script, and where its first line is that cannot be read, after a place."""
    program, found = parse_all(source, verbs())
    starts = (one.span.start for one in found if one.span is not None)
    return program, min((at for at in starts if at >= after), default=len(source.text))


def lines_after(source: Source, end: int) -> int:
    """How many statements after a place can be read, up to the first that cannot."""
    program, stop = read(source, end)
    return sum(end <= one.span.start < stop for step in program.steps for one in step.body)


def _with_sisters(text: str, place: Place, edit: Edit, end: int) -> str:
    """A changed script with the same change in the lines of the same move that come next: a mistake in one of
    two that belong together is mostly made in both.
    """
    old = place.source.text[edit.span.start : edit.span.end].split()
    new = edit.text.split()
    while len(old) > 1 and len(new) > 1 and old[0] == new[0]:
        old, new = old[1:], new[1:]
    while len(old) > 1 and len(new) > 1 and old[-1] == new[-1]:
        old, new = old[:-1], new[:-1]
    if not old or not place.verb:
        return text
    words, said = " ".join(old), " ".join(new)
    lines = text[end:].split("\n")
    for k, line in enumerate(lines[1:], start=1):
        if line.split()[:1] not in ([place.verb], ["step"], []):
            break
        if line.split()[:1] == [place.verb]:
            lines[k] = re.sub(rf"(?<!\S){re.escape(words)}(?![\w-])", lambda _: said, line)
    return text[:end] + "\n".join(lines)


def _count(program: nodes.Program, end: int) -> int:
    return sum(one.span.start < end for step in program.steps for one in step.body)


def _rest(
    program: nodes.Program, begin: int, stop: int, number: int
) -> list[tuple[int, nodes.Statement]]:
    """The statements from one place to another with their steps, within one part."""
    parts = [part.first for part in program.parts if part.first >= number]
    last = min(parts, default=len(program.steps))
    steps = enumerate(program.steps[number - 1 : last], start=number)
    return [(k, one) for k, step in steps for one in step.body if begin <= one.span.start < stop]
