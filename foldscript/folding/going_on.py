"""A script with one change, folded on from a line that was refused: how far it goes.

In: where it was refused, the change, and how much may be spent. Out: a run that goes on line by line for as
long as lines fold, and what is known of the paper then. The paper that is asked about stays as it is.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

from ..geometry.lines import line_at, parallel
from ..moves.registry import verbs
from ..paper.state import State
from ..paper.symmetry import mirror_line, symmetries
from ..source.diagnostics import Edit, FoldscriptError, Refusal, Source
from ..syntax import nodes
from ..syntax.parser import parse_all, statements
from .earlier_lines import Place, statements_before
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
#: What moves cost beside a plain fold, in folds: places for a repeat are sought, and ways for layers to go.
_COSTS = {REPEAT: 15, "swing": 4, "collapse": 6, "petal": 4, "squash": 4, "rabbit ear": 4}
_COSTS |= {"inside reverse": 4, "outside reverse": 4, "sink": 4, "tuck": 4, "turn inside out": 6}
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
        folds = _COSTS.get(statement.verb, 1)
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
        begins: int,
        changes: int = 1,
    ) -> None:
        self.lines, self.remarks, self.stopped, self.changes = -1, 0, False, changes
        self._folding, self._rest, self._end = folding, rest, end
        self._now = begins
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
        self.come_to(number)
        try:
            done = carry(folding, number, statement)
        except (Refusal, ClaimBroken):
            self.stopped = True
        else:
            self.remarks += sum(len(outcome.remarks) for _, outcome in done)

    def come_to(self, number: int) -> None:
        """The steps before this one end."""
        for _ in range(self._now, number):
            end_step(self._folding)
        self._now = max(self._now, number)

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


class Beginnings:
    """Where runs of changed scripts begin: the paper before each earlier line, folded once.

    Parameters
    ----------
    place : where the script was refused
    lay_out : how its paper lies before the first step
    """

    def __init__(self, place: Place, lay_out: LayOut) -> None:
        self._place, self._lay_out = place, lay_out
        self._before: dict[int, Folding] = {}

    def run(self, edit: Edit, *, sisters: bool = False) -> Run | None:
        """The run of the script with a change; None where the line cannot be read then, or too much comes
        before.

        `sisters` : whether lines of the same move that come next are changed in the same way
        """
        quick = None if sisters else self._with_line(edit)
        if quick is not None:
            return quick
        place = self._place
        text = edit.applied(place.source.text)
        end = place.span.end + len(edit.text) - (edit.span.end - edit.span.start)
        if sisters:
            other = _with_sisters(text, place, edit, end)
            if other == text:
                return None
            text = other
        earlier = edit.span.start < place.span.start
        program, stop = read(
            Source(place.source.name, text), min(place.span.start, edit.span.start)
        )
        if stop < end:
            return None
        if earlier and (program.parts or _count(program, place.span.start) > _MOST_BEFORE):
            return None
        begin = self._changed_line(edit) if earlier else place.span.start
        try:
            folding = self._paper_before(begin, program) if earlier else place.folding
        except FoldscriptError:
            return None
        number = _step_at(program, begin) if earlier else place.number
        rest = _rest(program, begin, stop, number)
        return Run(copied(folding), program, rest, end, number, 2 if sisters else 1)

    def _with_line(self, edit: Edit) -> Run | None:
        """The run with another line in the place of a whole one, of which only that one has to be read."""
        program, stop = self._as_it_is
        rows = [(k, j) for k, step in enumerate(program.steps) for j in range(len(step.body))]
        at = [(k, j) for k, j in rows if program.steps[k].body[j].span == edit.span]
        said = "" if "\n" in edit.text else edit.text
        if program.parts or len(at) != 1 or not said or stop <= self._place.span.start:
            return None
        ((k, j),) = at
        begin = edit.span.start
        if sum(program.steps[a].body[b].span.start < begin for a, b in rows) > _MOST_BEFORE:
            return None
        folding = self._place.folding
        if begin < self._place.span.start:
            folding = self._paper_before(begin, program)
        lines = statements((said,), verbs(), folding.names.known())
        if len(lines) != 1:
            return None
        step = program.steps[k]
        changed = replace(step, body=(*step.body[:j], lines[0], *step.body[j + 1 :]))
        program = replace(program, steps=(*program.steps[:k], changed, *program.steps[k + 1 :]))
        rest = _rest(self._as_it_is[0], begin + 1, stop, k + 1)
        return Run(
            copied(folding), program, [(k + 1, lines[0]), *rest], self._place.span.end, k + 1
        )

    @cached_property
    def _as_it_is(self) -> tuple[nodes.Program, int]:
        """The script, and where its first line is after the refused one that cannot be read."""
        return read(self._place.source, self._place.span.start)

    def _changed_line(self, edit: Edit) -> int:
        """Where the first line begins that a change touches; 0 where it comes before the first step."""
        starts = (one.span.start for one in statements_before(self._place))
        return max((at for at in starts if at <= edit.span.start), default=0)

    def _paper_before(self, begin: int, changed: nodes.Program) -> Folding:
        """The paper before a line, in which nothing is changed."""
        if not begin:  # the sheet may be another
            return self._lay_out(changed)
        if begin not in self._before:
            program, _ = read(self._place.source, begin)
            folding = self._lay_out(program)
            run = Run(folding, program, _rest(program, 0, begin, 1), begin, 1)
            run.to(0, Budget(math.inf))
            run.come_to(_step_at(program, begin))
            self._before[begin] = folding
        return self._before[begin]


def end_step(folding: Folding) -> None:
    """A step ends here: what the next one sees as before it."""
    folding.step_ends.append((folding.state, len(folding.history)))
    folding.names.earlier = folding.state.creases


def _step_at(program: nodes.Program, begin: int) -> int:
    """The number of the step that a line stands in."""
    return max(1, sum(step.span.start <= begin for step in program.steps))


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
