"""What is wrong, as an editor shows it, and what to try as changes that it makes.

In: diagnostics of one version of a text. Out: the protocol's diagnostics and quick fixes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lsprotocol import types

from ..source.diagnostics import Diagnostic, Severity, Source, Span
from .positions import Positions

#: What the editor says a message comes from.
ORIGIN = "foldscript"
_SEVERITIES = {
    Severity.ERROR: types.DiagnosticSeverity.Error,
    Severity.WARNING: types.DiagnosticSeverity.Warning,
}


def told(
    faults: Iterable[Diagnostic], positions: Positions, uri: str, elsewhere: Span
) -> list[types.Diagnostic]:
    """Messages for the editor; those about another file stand at `elsewhere`, with the file's name."""
    return [_one(fault, positions, uri, elsewhere) for fault in faults]


def _one(fault: Diagnostic, positions: Positions, uri: str, elsewhere: Span) -> types.Diagnostic:
    source = positions.source
    here = _is_here(fault, source)
    span = (fault.span or Span(0, 0)) if here else elsewhere
    lines = [fault.message, *(f"try: {hint.text}" for hint in fault.hints)]
    if not here and fault.source is not None:
        line = fault.source.position(fault.span.start)[0] if fault.span is not None else 1
        lines[0] = f"in {fault.source.name}, line {line}: {lines[0]}"
    related = [
        types.DiagnosticRelatedInformation(
            types.Location(uri, positions.range(hint.span)), hint.text
        )
        for hint in fault.hints
        if here and hint.span is not None
    ]
    return types.Diagnostic(
        positions.range(_visible(source, span)),
        "\n".join(lines),
        severity=_SEVERITIES[fault.severity],
        code=fault.code,
        source=ORIGIN,
        related_information=related or None,
    )


def _is_here(fault: Diagnostic, source: Source) -> bool:
    return fault.source is None or fault.source.name == source.name


def _visible(source: Source, span: Span) -> Span:
    """A span that has something in it, where its line has; without the break at its end."""
    text = source.text[span.start : span.end]
    end = span.start + len(text.rstrip())
    if end <= span.start:
        line, _ = source.position(span.start)
        end = min(span.start + 1, (source.start_of(line) or 0) + len(source.line(line)))
    return Span(span.start, max(span.start, end))


def fixes(
    faults: Iterable[Diagnostic], positions: Positions, uri: str, asked: Span
) -> Iterator[types.CodeAction]:
    """What to try, for the messages that touch a span: those with a change that says exactly what."""
    for fault in faults:
        if not _is_here(fault, positions.source):
            continue
        span = _visible(positions.source, fault.span or Span(0, 0))
        if span.end < asked.start or asked.end < span.start:
            continue
        message = _one(fault, positions, uri, span)
        edits = [hint for hint in fault.hints if hint.edit is not None]
        for k, hint in enumerate(edits):
            assert hint.edit is not None
            yield types.CodeAction(
                hint.text.removeprefix("or "),
                kind=types.CodeActionKind.QuickFix,
                diagnostics=[message],
                is_preferred=k == 0,
                edit=types.WorkspaceEdit(changes={uri: [positions.edit(hint.edit)]}),
            )
