"""What to say for a line that cannot be read, tried on the paper as it lies there.

In: a script of which a line cannot be read. Out: its program, or what is wrong, and of the hints that say
what to write in the place of the first such line those that fold, where some do.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from ..moves.registry import verbs
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Source
from ..syntax import nodes
from ..syntax.parser import parse
from .fold import paper_after
from .performing.perform import Folding
from .resuming import FoldingCache
from .suggesting import end_of

#: Statements before a line that are folded to try what it is told: about a second of folding.
_MOST_BEFORE = 60


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
        raise FoldscriptError(_tried(first, source, path, memory), *others) from None


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
    ends = {hint: end_of(_rows(hint, source.text, start), folding, number) for hint in edits}
    folds = [hint for hint in edits if ends[hint] == ""]
    if not folds:
        return told
    kept = (*folds, *(hint for hint in told.hints if hint.edit is None))
    return replace(told, hints=tuple(_without_or(kept)))


def _folded(
    source: Source, end: int, path: Path | None, memory: FoldingCache | None
) -> tuple[Folding, int] | None:
    """The paper before a line, and the number of its step; None where that much does not fold."""
    try:
        before = parse(Source(source.name, source.text[:end]), verbs())
        if not before.steps or sum(len(step.body) for step in before.steps) > _MOST_BEFORE:
            return None
        folding = paper_after(before, path, memory)
    except FoldscriptError:
        return None
    folding.step_ends.pop()  # the step goes on
    return folding, len(before.steps)


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
