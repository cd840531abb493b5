"""Which of several hints is meant: the one with which the lines that follow fold.

In: the hints of a line that was refused, and the script. Out: the same hints, those first with which most of
what comes after folds, without those that stop short of another; and where none leads on, what an earlier
line may lack. A script knows what it is for: most mistakes are one wrong line among right ones.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..geometry.lines import line_at, parallel
from ..moves.registry import verbs
from ..paper.state import State
from ..paper.symmetry import mirror_line, symmetries
from ..source.diagnostics import Edit, FoldscriptError, Hint, Refusal, Source
from ..syntax import nodes
from ..syntax.parser import parse_all
from .earlier_lines import Place, likely, possible, turned_round
from .groups import read_groups
from .performing.perform import Folding
from .performing.proving import ClaimBroken
from .resuming import copied
from .statements import carry

#: Statements after the line that are looked at; hints of one line that are.
_AHEAD, _MOST_HINTS = 8, 8
#: Statements before the line, of scripts in which an earlier line is tried otherwise.
_MOST_BEFORE = 24
#: What may lack before it, told in one message.
_MOST_EARLIER = 2
#: Pieces of paper up to which a figure is asked whether it is alike on both sides.
_MOST_FACETS = 64
_UPRIGHT = line_at((0.0, 0.0), (0.0, 1.0))
#: How a hint begins that asks for something, as one way of several.
_ASKS = re.compile(r"(?:say|add|make|leave|put|end|in line)\b")

#: How a hint begins that shows how a move is written.
_A_FORM = "write it like"

#: Lays out the paper of a program before its first step. Raises FoldscriptError.
LayOut = Callable[[nodes.Program], Folding]


@dataclass(frozen=True)
class _Reach:
    """How far a script folds with a change.

    `lines` after the changed one, -1 where that does not fold itself; `remarks` on the way; `alike`: how
    regular the paper is then, 0 where it is not at all; `changes`: 2 where lines after it were changed too.
    """

    lines: int
    remarks: int
    alike: int
    changes: int = 1

    @property
    def rank(self) -> tuple[int, int, int]:
        """The smaller, the better."""
        return (-self.lines, self.remarks, -self.alike)


def by_what_follows(hints: Sequence[Hint], place: Place, lay_out: LayOut) -> tuple[Hint, ...]:
    """The hints of a refused line, first those with which the script goes on, or what may lack before it."""
    after = min(_AHEAD, len(_following(place.source, place.span.end)))
    look = _Look(place, after, lay_out)
    reach = {
        hint: look.reach(hint.edit)
        for hint in hints[:_MOST_HINTS]
        if hint.edit is not None and (after or place.verb == "collapse")
    }
    known = {hint: far for hint, far in reach.items() if far is not None and far.lines >= 0}
    best = max((far.lines for far in known.values()), default=-1)
    if best < after:
        found = look.first(likely(place)) if after or place.code == "unknown-name" else []
        more = look.first(possible(place) if after and not found else turned_round(place))
        return tuple(_as_choice((*found, *hints, *(h for h in more if h not in found))))
    row = sorted(known, key=lambda hint: known[hint].rank)
    if after:
        row = [hint for hint in row if known[hint].lines == best]
        if not known[row[0]].alike:
            row = [*look.first(likely(place), alike=1), *row]
        elif known[row[0]].changes > 1:
            row = [*look.first(likely(place), changes=1), *row]
    short = known.keys() - set(row)
    others = [
        hint
        for hint in hints
        if hint not in row and hint not in short and not (after and hint.text.startswith(_A_FORM))
    ]
    if after and others and hints[0] in others and hints[0].edit is not None:
        return tuple(hints)  # the first does not fold at all, and is meant as a way there
    return tuple(_as_choice((*row, *others)))


def _as_choice(hints: Sequence[Hint]) -> Iterator[Hint]:
    """The first without 'or', the changes after it with one."""
    for k, hint in enumerate(hints):
        if not k:
            yield replace(hint, text=re.sub("^or,? ", "", hint.text))
        elif hint.edit is not None and _ASKS.match(hint.text):
            yield replace(hint, text=f"or {hint.text}")
        else:
            yield hint


def _following(source: Source, end: int) -> list[nodes.Statement]:
    """The statements after a place that can be read, up to the first that cannot."""
    program, stop = _read(source, end)
    return [one for step in program.steps for one in step.body if end <= one.span.start < stop]


def _read(source: Source, after: int) -> tuple[nodes.Program, int]:
    """A script, and where its first line is that cannot be read, after a place."""
    program, found = parse_all(source, verbs())
    starts = (one.span.start for one in found if one.span is not None)
    return program, min((at for at in starts if at >= after), default=len(source.text))


@dataclass(frozen=True)
class _Look:
    """What a script is tried for: where it was refused, and how many of the lines after that are seen."""

    place: Place
    after: int
    lay_out: LayOut

    def first(self, hints: Iterable[Hint], alike: int = 0, changes: int = 2) -> list[Hint]:
        """Of changes, the first with which the line and all that is looked at after it folds.

        `alike` : how regular the paper has to be then; `changes` : how many the script may need
        """
        found: list[Hint] = []
        for hint in hints:
            far = None if hint.edit is None else self.reach(hint.edit)
            if (
                far is not None
                and far.lines == self.after
                and far.alike >= alike
                and far.changes <= changes
            ):
                found.append(hint)
            if len(found) == _MOST_EARLIER:
                break
        return found

    def reach(self, edit: Edit) -> _Reach | None:
        """How far the script folds with a change; None where that is too much to try."""
        text = edit.applied(self.place.source.text)
        end = self.place.span.end + len(edit.text) - (edit.span.end - edit.span.start)
        far = self._folded(text, edit, end)
        if far is None or not 0 <= far.lines < self.after:
            return far
        more = self._folded(_with_sisters(text, self.place, edit, end), edit, end)
        return replace(more, changes=2) if more is not None and more.lines > far.lines else far

    def _folded(self, text: str, edit: Edit, end: int) -> _Reach | None:
        place = self.place
        program, stop = _read(
            Source(place.source.name, text), min(place.span.start, edit.span.start)
        )
        if stop < end:
            return None
        earlier = edit.span.start < place.span.start
        if earlier and (program.parts or _count(program, place.span.start) > _MOST_BEFORE):
            return None
        try:
            folding = self.lay_out(program) if earlier else copied(place.folding)
        except FoldscriptError:
            return None
        begin = 0 if earlier else place.span.start
        rest = _rest(program, begin, stop, 1 if earlier else place.number)
        return _carried(folding, program, rest, end, self.after)


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


def _carried(
    folding: Folding,
    program: nodes.Program,
    rest: Sequence[tuple[int, nodes.Statement]],
    end: int,
    after: int,
) -> _Reach:
    """How many of the statements behind a place fold, one after the other."""
    folding.steps, folding.groups = program.steps, read_groups(program)
    remarks, lines, now = 0, -1, rest[0][0] if rest else 0
    for number, statement in rest:
        if number != now:
            folding.step_ends.append((folding.state, len(folding.history)))
            folding.names.earlier = folding.state.creases
            now = number
        if statement.span.start >= end:
            lines = max(lines, 0)
            if lines == after:
                break
        try:
            done = carry(folding, number, statement)
        except (Refusal, ClaimBroken):
            break
        remarks += sum(len(outcome.remarks) for _, outcome in done)
        lines += statement.span.start >= end
    else:
        lines = max(lines, 0)
    return _Reach(lines, remarks, _alike(folding.state))


def _alike(state: State) -> int:
    """Twice the ways in which the paper can be laid onto itself, and one where it is alike left and right."""
    if len(state.placed) > _MOST_FACETS:
        return 0
    others = [one for one in symmetries(state) if not one.is_identity]
    axes = [mirror_line(one.motion) for one in others]
    upright = any(axis is not None and parallel(axis, _UPRIGHT) for axis in axes)
    return 2 * len(others) + upright
