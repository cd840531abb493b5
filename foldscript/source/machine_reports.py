"""Diagnostics for programs: a line of JSON each, or annotations in the log of a workflow.

In: diagnostics. Out: text without a closing line feed. Lines and columns are counted from 1, columns in
characters (Unicode code points); offsets from 0, in characters of the text with line feeds as its line ends.
A range ends before its `end`.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from .diagnostics import Diagnostic, Hint, Severity, Source, Span
from .showing import shown


def json_lines(diagnostics: Iterable[Diagnostic]) -> str:
    """One JSON object a line for each diagnostic.

    `code`, `severity` ('error', 'warning'), `message`; `file` and `range`, null where there is none; `hints`,
    each with `text`, the `range` of another place to look at or null, and `edit` or null: the `range` to
    replace and the `text` to write there.
    """
    return "\n".join(json.dumps(as_data(one), ensure_ascii=False) for one in diagnostics)


def as_data(diagnostic: Diagnostic) -> dict[str, Any]:
    """A diagnostic as plain data; the keys are those of `json_lines`."""
    source = diagnostic.source
    return {
        "code": diagnostic.code,
        "severity": diagnostic.severity.value,
        "message": diagnostic.message,
        "file": source.name if source is not None else None,
        "range": _range(source, diagnostic.span),
        "hints": [_hint(source, hint) for hint in diagnostic.hints],
    }


def workflow_commands(diagnostics: Iterable[Diagnostic]) -> str:
    """One workflow command a diagnostic, as GitHub Actions reads them from a log.

    Source: GitHub's page 'Workflow commands for GitHub Actions' ('Setting an error message'), from memory.
    """
    return "\n".join(_annotation(one) for one in diagnostics)


def _annotation(diagnostic: Diagnostic) -> str:
    properties: dict[str, str] = {}
    if diagnostic.source is not None:
        properties["file"] = diagnostic.source.name
        if diagnostic.span is not None:
            start = diagnostic.source.position(diagnostic.span.start)
            end = diagnostic.source.position(diagnostic.span.end)
            properties |= {"line": str(start[0]), "endLine": str(end[0])}
            if start[0] == end[0]:  # columns are only read within one line
                properties |= {"col": str(start[1]), "endColumn": str(end[1])}
    properties["title"] = diagnostic.code
    lines = [diagnostic.message, *(f"try: {hint.text}" for hint in diagnostic.hints)]
    kind = "error" if diagnostic.severity is Severity.ERROR else "warning"
    told = ",".join(f"{key}={_property(shown(value))}" for key, value in properties.items())
    return f"::{kind} {told}::{_data(chr(10).join(map(shown, lines)))}"


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")


def _hint(source: Source | None, hint: Hint) -> dict[str, Any]:
    edit = hint.edit
    return {
        "text": hint.text,
        "range": _range(source, hint.span),
        "edit": None if edit is None else {"range": _range(source, edit.span), "text": edit.text},
    }


def _range(source: Source | None, span: Span | None) -> dict[str, Any] | None:
    if source is None or span is None:
        return None
    return {"start": _place(source, span.start), "end": _place(source, span.end)}


def _place(source: Source, offset: int) -> dict[str, int]:
    line, column = source.position(offset)
    return {"line": line, "column": column, "offset": offset}
