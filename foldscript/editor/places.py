"""Where a thing is named: its definition, and every place where it stands.

In: a script on the bench, and an offset. Out: places in this file or another: a base, the script that it
starts from, the step that a repeat names.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ..folding.start import find_other
from ..source.diagnostics import Refusal, Span
from ..syntax import nodes
from .caption_letters import spans_in_captions, spoken_of
from .names import Entity
from .written import Written


@dataclass(frozen=True)
class There:
    """A place: the span of this text, or the top of another file."""

    span: Span
    file: Path | None = None


def definition(written: Written, offset: int) -> There | None:
    """Where what stands at an offset is defined."""
    named = written.names.at(offset)
    if named is not None:
        entity, _ = named
        if entity.given is not None:
            return There(entity.given.span)
        sheet = written.program.head.sheet
        head = written.program.head
        if head.start_from:
            return _other(written, head.start_from)
        return There(sheet.span) if sheet is not None and sheet.span.end > 0 else None
    spoken = spoken_of(written, offset)
    if spoken is not None and spoken[0].given is not None:
        return There(spoken[0].given.span)
    statement = written.statement_at(offset)
    for phrase in statement.phrases if statement is not None else ():
        for operand in phrase.operands:
            asked = isinstance(operand, nodes.StepRange)
            if asked and operand.span.start <= offset <= operand.span.end:
                return _step(written, operand.first)
    return _started(written, offset)


def _step(written: Written, number: int) -> There | None:
    steps = written.program.steps
    return There(steps[number - 1].span) if 0 < number <= len(steps) else None


def _started(written: Written, offset: int) -> There | None:
    """What a line `start from` names."""
    heads = (written.program.head, *(part.head for part in written.program.parts))
    for head in heads:
        span = head.start_span
        if head.start_from and span is not None:
            line = written.line_at(offset)
            if line is not None and line.span.start <= span.start <= line.span.end:
                return _other(written, head.start_from)
    return None


def _other(written: Written, words: str) -> There | None:
    try:
        path, _ = find_other(words, written.path)
    except Refusal:
        return None
    return There(Span(0, 0), path.resolve())


def references(written: Written, offset: int, *, definitions: bool) -> list[Span]:
    """Every place where the thing at an offset stands, in captions, too, in order."""
    found = written.names.at(offset) or spoken_of(written, offset)
    if found is None:
        return []
    entity: Entity = found[0]
    spans = {p.span for p in entity.places if definitions or not p.gives}
    return sorted(spans | spans_in_captions(written, entity), key=lambda span: span.start)
