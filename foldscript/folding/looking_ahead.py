"""Which of several hints is meant: the one with which the lines that follow fold.

In: the hints of a line that was refused, and the script. Out: the same hints, those first with which most of
what comes after folds, without those that stop short of another; and where none leads on, what an earlier
line may lack. A script knows what it is for: most mistakes are one wrong line among right ones.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..geometry.lines import line_at, parallel
from ..moves.registry import verbs
from ..paper.state import State
from ..paper.symmetry import mirror_line, symmetries
from ..source.diagnostics import Edit, FoldscriptError, Hint, Refusal, Source, Span
from ..syntax import nodes
from ..syntax.parser import parse_all
from .groups import read_groups
from .performing.perform import Folding
from .performing.proving import ClaimBroken
from .resuming import copied
from .statements import AND_UNFOLD, carry

#: Statements after the line that are looked at; hints of one line that are.
_AHEAD, _MOST_HINTS = 8, 8
#: Statements before the line, of scripts in which an earlier line is tried otherwise.
_MOST_BEFORE = 24
#: Folds before the line that may have been meant as creases only.
_LOOKED_BACK = 3
#: What may lack before it, told in one message.
_MOST_EARLIER = 2
#: Pieces of paper up to which a figure is asked whether it is alike on both sides.
_MOST_FACETS = 64
_UPRIGHT = line_at((0.0, 0.0), (0.0, 1.0))
_FOLDS = frozenset(("valley", "mountain"))
#: What a caption says of a fold that is opened at once.
_SAYS_UNFOLD = re.compile(r"\b(?:unfold|crease|open)", re.IGNORECASE)

#: How a hint begins that asks for something, as one way of several.
_ASKS = re.compile(r"(?:say|add|make|leave|put|end|in line)\b")

#: How a hint begins that shows how a move is written.
_A_FORM = "write it like"

#: Lays out the paper of a program before its first step. Raises FoldscriptError.
LayOut = Callable[[nodes.Program], Folding]


@dataclass(frozen=True)
class Place:
    """Where a script was refused.

    Attributes
    ----------
    source : the script
    span : the line, from its first character to its last
    number : its step
    folding : the paper as it lies there
    verb : the move of the line, '' where it cannot be read
    """

    source: Source
    span: Span
    number: int
    folding: Folding
    verb: str = ""


@dataclass(frozen=True)
class _Reach:
    """How far a script folds with a change.

    `lines` after the changed one, -1 where that does not fold itself; `remarks` on the way; `alike`: how
    regular the paper is then, 0 where it is not at all.
    """

    lines: int
    remarks: int
    alike: int

    def rank(self, by_likeness: bool) -> tuple[int, int, int]:
        """The smaller, the better."""
        return (-self.lines, self.remarks, -self.alike if by_likeness else 0)


def by_what_follows(hints: Sequence[Hint], place: Place, lay_out: LayOut) -> tuple[Hint, ...]:
    """The hints of a refused line, first those with which the script goes on, or what may lack before it."""
    after = min(_AHEAD, len(_following(place.source, place.span.end)))
    collapse = place.verb == "collapse"
    if not after and not collapse:
        return tuple(hints)
    reach = {
        hint: _reach(place, hint.edit, after, lay_out)
        for hint in hints[:_MOST_HINTS]
        if hint.edit is not None
    }
    known = {hint: far for hint, far in reach.items() if far is not None and far.lines >= 0}
    best = max((far.lines for far in known.values()), default=-1)
    row = sorted(known, key=lambda hint: known[hint].rank(collapse or best == after))
    if after and best < after:
        return tuple(_as_choice((*_earlier(place, after, lay_out), *hints)))
    if after:
        row = [hint for hint in row if known[hint].lines == best]
        if not known[row[0]].alike:
            row = [*_earlier(place, after, lay_out, alike=1), *row]
    short = known.keys() - set(row)
    others = [
        hint
        for hint in hints
        if hint not in row
        and hint not in short
        and not (after and row and hint.text.startswith(_A_FORM))
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


def _reach(place: Place, edit: Edit, after: int, lay_out: LayOut) -> _Reach | None:
    """How far the script folds with a change; None where that is too much to try."""
    source = Source(place.source.name, edit.applied(place.source.text))
    longer = len(edit.text) - (edit.span.end - edit.span.start)
    end = place.span.end + longer
    program, stop = _read(source, min(place.span.start, edit.span.start))
    if stop < end:
        return None
    earlier = edit.span.start < place.span.start
    if earlier and (program.parts or _count(program, place.span.start) > _MOST_BEFORE):
        return None
    try:
        folding = lay_out(program) if earlier else copied(place.folding)
    except FoldscriptError:
        return None
    begin = 0 if earlier else place.span.start
    rest = _rest(program, begin, stop, 1 if earlier else place.number)
    return _carried(folding, program, rest, end, after)


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


def _earlier(place: Place, after: int, lay_out: LayOut, alike: int = 0) -> list[Hint]:
    """What an earlier line may lack: with it the refused line folds as it stands, and those after it."""
    found: list[Hint] = []
    for hint in _lacking(place):
        assert hint.edit is not None
        far = _reach(place, hint.edit, after, lay_out)
        if far is not None and far.lines == after and far.alike >= alike:
            found.append(hint)
        if len(found) == _MOST_EARLIER:
            break
    return found


def _lacking(place: Place) -> Iterator[Hint]:
    """Changes before a line, each with its hint, the likeliest first: what the captions say comes first."""
    program, _ = _read(place.source, place.span.start)
    back = [*_left_folded(place, program)]
    if back and not _SAYS_UNFOLD.search(back[0][0]):
        back = [*_other_way_round(place, program), *back]
    yield from (hint for _, hint in back)
    if not place.verb:
        return
    before = [
        one for step in program.steps for one in step.body if one.span.end <= place.span.start
    ]
    if before and before[-1].verb != "turn over":
        at = Span(place.span.start, place.span.start)
        yield _lacks("say 'turn over' in a line before", Edit(at, "turn over\n  "))
    sheet = program.head.sheet
    if sheet is None:
        return
    said = place.source.text[sheet.span.start : sheet.span.end]
    line, _ = place.source.position(sheet.span.start)
    turned = re.search(r",? corner \w+ at the bottom", said)
    if turned is not None:
        at = Span(sheet.span.start + turned.start(), sheet.span.start + turned.end())
        yield _lacks(f"leave '{turned[0].strip(' ,')}' out in line {line}", Edit(at, ""))
    elif not sheet.lowest and len(sheet.names) == 4:
        words = f", corner {sheet.names[0]} at the bottom"
        at = Span(sheet.span.end, sheet.span.end)
        yield _lacks(f"add '{words}' to line {line}", Edit(at, words))


def _lacks(words: str, edit: Edit) -> Hint:
    return Hint(f"{words}: then this line folds, and what follows", edit=edit)


def _folds_before(
    place: Place, program: nodes.Program
) -> Iterator[tuple[str, nodes.Statement, int]]:
    """The last plain folds before a line that stay folded, with the captions and the lines they stand in."""
    row = [
        (" ".join(caption.text for caption in step.captions), one)
        for step in program.steps
        for one in step.body
        if one.span.end <= place.span.start
    ]
    opened = {k - 1 for k, (_, one) in enumerate(row) if one.verb == "unfold"}
    folds = [
        (caption, one, place.source.position(one.span.start)[0])
        for k, (caption, one) in enumerate(row)
        if one.verb in _FOLDS and k not in opened and not _says_so(one)
    ]
    yield from reversed(folds[-_LOOKED_BACK:])


def _left_folded(place: Place, program: nodes.Program) -> Iterator[tuple[str, Hint]]:
    """Folds before that may have been meant as creases only."""
    for caption, fold, line in _folds_before(place, program):
        edit = Edit(Span(fold.span.end, fold.span.end), f" {AND_UNFOLD}")
        yield caption, _lacks(f"end line {line} with '{AND_UNFOLD}'", edit)


def _other_way_round(place: Place, program: nodes.Program) -> Iterator[tuple[str, Hint]]:
    """Folds before that may have been meant the other way round: 'A to C' for 'C to A'."""
    text = place.source.text
    for caption, fold, line in _folds_before(place, program):
        if [len(one.operands) for one in fold.phrases[:2]] != [1, 1]:
            continue
        (who,), (goal,) = (one.operands for one in fold.phrases[:2])
        if fold.phrases[0].word or fold.phrases[1].word not in ("to", "onto"):
            continue
        between = text[who.span.end : goal.span.start]
        words = (
            f"{text[goal.span.start : goal.span.end]}{between}{text[who.span.start : who.span.end]}"
        )
        edit = Edit(Span(who.span.start, goal.span.end), words)
        yield caption, _lacks(f"in line {line} say '{fold.verb} {words}'", edit)


def _says_so(statement: nodes.Statement) -> bool:
    return any(phrase.word == AND_UNFOLD for phrase in statement.phrases)
