"""Diagnostics as text: where, what, the line with carets under the words, and what to try.

    cup.foldscript:4:3: error: 'vally' is no move
      vally A to C
      ^^^^^
      try: valley

In: one `Diagnostic` or more. Out: text without a closing line feed, for a terminal, a page or a log. Tabs
are spread, wide letters take two columns, long lines are cut round the caret, and control characters are
shown, never sent.
"""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from .diagnostics import Diagnostic, Hint, Severity
from .showing import UNSHOWN, shown

#: Columns that the source line may take.
WIDTH = 96
_TAB = 4
_INDENT = "  "
_COLOURS = {Severity.ERROR: "\033[1;31m", Severity.WARNING: "\033[1;33m"}
_BOLD, _PLAIN = "\033[1m", "\033[0m"


def render(diagnostics: Diagnostic | Iterable[Diagnostic], tty: bool = False) -> str:
    """One diagnostic, or several one after the other; `tty` adds colours for a terminal."""
    if isinstance(diagnostics, Diagnostic):
        return _one(diagnostics, tty)
    return "\n".join(_one(diagnostic, tty) for diagnostic in diagnostics)


def _one(diagnostic: Diagnostic, tty: bool) -> str:
    source, span = diagnostic.source, diagnostic.span
    place = ""
    if source is not None:
        place = f"{shown(source.name)}: "
        if span is not None:
            line, column = source.position(span.start)
            place = f"{shown(source.name)}:{line}:{column}: "
    word = diagnostic.severity.value
    if tty:
        place = f"{_BOLD}{place}{_PLAIN}"
        word = f"{_COLOURS[diagnostic.severity]}{word}{_PLAIN}"
    lines = [f"{place}{word}: {shown(diagnostic.message)}"]
    if source is not None and span is not None:
        row, column = source.position(span.start)
        text = source.line(row)
        length = max(1, min(span.end - span.start, len(text) - column + 1))
        if text.strip():
            lines.extend(_INDENT + part for part in _pointed(text, column - 1, length))
    for hint in diagnostic.hints:
        where = ""
        if hint.span is not None and source is not None:
            where = f" (see line {source.position(hint.span.start)[0]})"
        lines.append(f"{_INDENT}try: {shown(hint.text)}{where}")
    return "\n".join(lines)


def internal_fault(script: Path | None, error: Exception) -> Diagnostic:
    """What a fault of the program's own looks like to the person it hits."""
    hints = ["report it, with the script, to those you have foldscript from"]
    if os.environ.get("FOLDSCRIPT_DEBUG"):
        import traceback

        traceback.print_exception(error)
    else:
        hints.insert(0, "FOLDSCRIPT_DEBUG=1 in the environment shows where it happened")
    what = f"{type(error).__name__}: {error}".rstrip(": ")
    where = f" while working on '{script}'" if script else ""
    return Diagnostic(
        "internal-error",
        f"internal error{where} ({what})",
        hints=tuple(Hint(hint) for hint in hints),
    )


@dataclass(frozen=True, slots=True)
class _Cell:
    """One character as shown, and the columns that it takes."""

    shown: str
    columns: int


def _pointed(text: str, start: int, length: int) -> tuple[str, str]:
    """A source line and the line of carets under it, cut to WIDTH round the carets."""
    cells = _cells(text)
    first, last = 0, len(cells)
    if _columns(cells) > WIDTH:
        first, last = _window(cells, start, start + length)
    caret = _columns(cells[first:start])
    marks = "^" * max(1, _columns(cells[start : min(start + length, last)]))
    kept = "".join(cell.shown for cell in cells[first:last])
    if first:
        kept, caret = f"… {kept}", caret + 2
    if last < len(cells):
        kept = f"{kept.rstrip()} …"
    return kept.rstrip(), " " * caret + marks


def _columns(cells: list[_Cell]) -> int:
    return sum(cell.columns for cell in cells)


def _cells(text: str) -> list[_Cell]:
    cells: list[_Cell] = []
    column = 0
    for ch in text:
        category = unicodedata.category(ch)
        if ch == "\t":
            wide = _TAB - column % _TAB
            cell = _Cell(" " * wide, wide)
        elif category in UNSHOWN:
            cell = _Cell("�", 1)
        elif category in ("Mn", "Me"):  # drawn on the letter before it
            cell = _Cell(ch, 0)
        elif unicodedata.east_asian_width(ch) in ("W", "F"):
            cell = _Cell(ch, 2)
        else:
            cell = _Cell(ch, 1)
        column += cell.columns
        cells.append(cell)
    return cells


def _window(cells: list[_Cell], start: int, end: int) -> tuple[int, int]:
    """Part of a long line that shows the caret with some text on both sides."""
    room = WIDTH - 4
    first = last = min(start, len(cells) - 1)
    while last < min(end, len(cells)) and cells[last].columns <= room:
        room -= cells[last].columns
        last += 1
    grown = True
    while grown:
        grown = False
        if first > 0 and cells[first - 1].columns <= room:
            first -= 1
            room -= cells[first].columns
            grown = True
        if last < len(cells) and cells[last].columns <= room:
            room -= cells[last].columns
            last += 1
            grown = True
    return first, last
