"""What to say for a line that cannot be read, tried on the paper as it lies there.

In: a script of which a line cannot be read. Out: its program, or what is wrong, and of the hints that say
what to write in the place of the first such line those that fold, where some do.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from functools import partial
from pathlib import Path

from ..moves.registry import verbs
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Refusal, Source, Span, write
from ..syntax import nodes
from ..syntax.parser import parse, parse_all, statements
from .earlier_lines import Place
from .fold import before_steps_of, paper_after
from .looking_ahead import by_what_follows
from .performing.perform import Folding
from .resolving.doubts import operands
from .resuming import FoldingCache
from .suggesting import reworded
from .trial import Trial
from .trying import OF_WORDING, end_of

#: Statements before a line that are folded to try what it is told: about a second of folding.
_MOST_BEFORE = 60
#: A line that gives a point a name, as it stands and as a hint says it.
_MARKED = re.compile(r"\s*mark (\S+) at ")
_MARKED_ANEW = re.compile(r"^mark ([A-Z]\w*) at ")
#: A line that ends where the grammar knows one word to follow.
_ONE_WORD_WANTED = re.compile(r"after (?P<before>'[^']+') '(?P<word>[a-z ]+)' should follow$")


def read(
    source: Source, path: Path | None = None, memory: FoldingCache | None = None
) -> nodes.Program:
    """The program of a script.

    `path` : its file; what it starts from is looked up beside it
    `memory` : of folding an earlier version, so that the lines above need not be folded again

    Raises FoldscriptError with all that cannot be read.
    """
    try:
        return parse(source, verbs())
    except FoldscriptError as error:
        first, *others = error.diagnostics
        tried = _said_later(_tried(first, source, path, memory), source)
        renamed = (_called_anew(one, tried, source) for one in others)
        raise FoldscriptError(tried, *renamed) from None


def _tried(
    told: Diagnostic, source: Source, path: Path | None, memory: FoldingCache | None
) -> Diagnostic:
    """A diagnostic of the first line that cannot be read, with the hints that fold before all others."""
    edits = [hint for hint in told.hints if hint.edit is not None]
    if told.span is None or not edits:
        return told
    start = _line_start(source.text, told.span.start)
    found = _folded(source, start, path, memory)
    if found is None:
        return told
    folding, number = found
    until = told.span.end
    told = _without_a_false_wish(told, source.text[start:until], folding, number)
    ends = {hint: end_of(_rows(hint, source.text, start), folding, number) for hint in edits}
    folds = [hint for hint in edits if ends[hint] == ""]
    if not folds:
        folds = _in_two_changes(ends, source, start, folding, number)
    if not folds:
        return _further(told, ends)
    kept = (*folds, *(hint for hint in told.hints if hint.edit is None))
    end = source.text.find("\n", until)
    line = Span(start, end if end >= 0 else len(source.text))
    first = source.text[start : line.end].lstrip()
    place = Place(source, replace(line, start=line.end - len(first)), number, folding)
    lay_out = partial(before_steps_of, path=path)
    return replace(told, hints=by_what_follows(tuple(_without_or(kept)), place, lay_out))


def _in_two_changes(
    ends: dict[Hint, Refusal | str | None],
    source: Source,
    start: int,
    folding: Folding,
    number: int,
) -> list[Hint]:
    """For the first hint whose line is refused, and what that line would be told folds: both in one."""
    for hint, end in ends.items():
        rows = _rows(hint, source.text, start)
        if not isinstance(end, Refusal) or hint.edit is None or len(rows) != 1:
            continue
        (line,) = rows
        changed = Source(source.name, hint.edit.applied(source.text))
        program, _ = parse_all(changed, verbs())
        steps = program.steps[number - 1 : number]
        said = next((one for s in steps for one in s.body if start <= one.span.start), None)
        if said is None or changed.text[said.span.start : said.span.end].strip() != line:
            continue
        trial = Trial(reworded(end, said, number, folding, program), said, number, folding, program)
        until = source.text.find("\n", hint.edit.span.end)
        span = Span(start, until if until >= 0 else len(source.text))
        first = source.text[start : span.end].lstrip()
        span = replace(span, start=span.end - len(first))
        found = [
            write(span, again, f"{'or ' if k else ''}say '{again}'")
            for k, again in enumerate(trial.lines_that_fold())
        ]
        if found:
            return found
    return []


def _said_later(told: Diagnostic, source: Source) -> Diagnostic:
    """A line whose name no point can have: the name that it is called by further down, where that is one."""
    edit = told.hints[0].edit if told.hints else None
    made = None if edit is None else _MARKED_ANEW.search(edit.text)
    if edit is None or made is None:
        return told
    first, *others = told.hints
    program, _ = parse_all(source, verbs())
    later = [one for step in program.steps for one in step.body if one.span.start > edit.span.start]
    sheet = program.head.sheet
    corners = sheet.names if sheet is not None else ("A", "B", "C", "D")
    said = {o.text for one in later for o in operands(one.phrases) if isinstance(o, nodes.Name)}
    given = set(re.findall(r"\b(?:mark|as) ([A-Z]\w*)", source.text))
    wanted = [name for name in sorted(said - given - {*corners}) if re.fullmatch("[A-Z]\\d?", name)]
    if len(wanted) != 1:
        return told
    name = wanted[0]
    words = edit.text[: made.start(1)] + name + edit.text[made.end(1) :]
    hint = replace(
        first,
        text=first.text.replace(f"mark {made[1]} at", f"mark {name} at"),
        edit=replace(edit, text=words),
    )
    return replace(told, hints=(hint, *others))


def _called_anew(told: Diagnostic, first: Diagnostic, source: Source) -> Diagnostic:
    """A later line that says a name which no point can have, with the name that the first hint gives it."""
    given = (
        _MARKED.match(source.text[_line_start(source.text, first.span.start) :])
        if first.span
        else None
    )
    better = [_MARKED_ANEW.search(hint.edit.text) for hint in first.hints[:1] if hint.edit]
    if given is None or not better or better[0] is None or told.span is None:
        return told
    old, new = given[1], better[0][1]
    start = _line_start(source.text, told.span.start)
    end = source.text.find("\n", told.span.end)
    line = source.text[start : end if end >= 0 else len(source.text)].strip()
    said = re.sub(rf"(?<![\w'-]){re.escape(old)}(?![\w'-])", new, line)
    if said == line or not statements((said,), verbs()):
        return told
    at = source.text.index(line, start)
    hint = write(Span(at, at + len(line)), said, f"say '{said}', as the point is called then")
    return replace(told, hints=(hint,))


def _without_a_false_wish(told: Diagnostic, said: str, folding: Folding, number: int) -> Diagnostic:
    """A diagnostic that asks for one word, which the grammar knows there: not where the move refuses it."""
    wish = _ONE_WORD_WANTED.search(told.message)
    if wish is None:
        return told
    end = end_of((f"{said.strip()} {wish['word']}",), folding, number)
    if not isinstance(end, Refusal) or end.code not in OF_WORDING:
        return told
    return replace(told, message=f"{wish['before']} does not fit here")


def _further(told: Diagnostic, ends: dict[Hint, Refusal | str | None]) -> Diagnostic:
    """A diagnostic without the hints whose words say too little; what these would be told comes instead."""
    short = {
        hint: end
        for hint, end in ends.items()
        if isinstance(end, Refusal) and end.code in OF_WORDING
    }
    kept = [hint for hint in told.hints if hint not in short]
    if len(kept) == len(told.hints):
        return told
    first = next(iter(short.values()))
    more = [hint for hint in first.hints if hint.edit is None and hint not in kept]
    return replace(told, hints=tuple(_without_or([*kept, *more]))) if kept or more else told


def _folded(
    source: Source, end: int, path: Path | None, memory: FoldingCache | None
) -> tuple[Folding, int] | None:
    """The paper before a line, and the number of its step; None where that much does not fold."""
    try:
        before = _read_before(source, end)
        if not before.steps or sum(len(step.body) for step in before.steps) > _MOST_BEFORE:
            return None
        folding = paper_after(before, path, memory)
    except FoldscriptError:
        return None
    folding.step_ends.pop()  # the step goes on
    return folding, len(before.steps)


def _read_before(source: Source, end: int) -> nodes.Program:
    """The program of the lines before a place; its last step may still be empty."""
    above = source.text[:end]
    try:
        return parse(Source(source.name, above), verbs())
    except FoldscriptError as error:
        if [told.code for told in error.diagnostics] != ["empty-step"]:
            raise
    program = parse(Source(source.name, f"{above}  turn over\n"), verbs())
    *steps, last = program.steps
    return replace(program, steps=(*steps, replace(last, body=())))


def _line_start(text: str, at: int) -> int:
    """Where the statement with a character begins: lines that end in a comma go on in the next."""
    start = text.rfind("\n", 0, at) + 1
    while start and text[: start - 1].rstrip().endswith(","):
        start = text.rfind("\n", 0, start - 1) + 1
    return start


def _rows(hint: Hint, text: str, start: int) -> tuple[str, ...]:
    """The lines that stand there once the hint is followed."""
    assert hint.edit is not None
    changed = hint.edit.applied(text)
    end = changed.find("\n", hint.edit.span.start + len(hint.edit.text))
    lines = changed[start : end if end >= 0 else len(changed)].splitlines()
    return (
        tuple(line.strip() for line in lines if line.strip())
        if hint.edit.span.start >= start
        else ()
    )


def _without_or(hints: Iterable[Hint]) -> Iterable[Hint]:
    for k, hint in enumerate(hints):
        yield hint if k else replace(hint, text=hint.text.removeprefix("or "))
