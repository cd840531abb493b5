"""Diagnostics as text: where, what, the line with carets under the words, and what to try.

    cup.foldscript:4:3: error: 'vally' is no move
      vally A to C
      ^^^^^
      try: valley

In: a `Diagnostic`. Out: lines of text without a closing line feed. Tabs are spread, wide letters take
two columns, long lines are cut round the caret, and control characters are shown, never sent.
"""

from __future__ import annotations

import unicodedata

from .diagnostics import Diagnostic, Severity

#: Columns that the source line may take.
WIDTH = 96
_TAB = 4
_INDENT = "  "
_COLOURS = {Severity.ERROR: "\033[1;31m", Severity.WARNING: "\033[1;33m"}
_BOLD, _PLAIN = "\033[1m", "\033[0m"


def render(diagnostic: Diagnostic, tty: bool = False) -> str:
    """The diagnostic as a person reads it; `tty` adds colours for a terminal."""
    source, span = diagnostic.source, diagnostic.span
    place = ""
    if source is not None:
        place = f"{_shown(source.name)}: "
        if span is not None:
            line, column = source.position(span.start)
            place = f"{_shown(source.name)}:{line}:{column}: "
    word = diagnostic.severity.value
    if tty:
        place = f"{_BOLD}{place}{_PLAIN}"
        word = f"{_COLOURS[diagnostic.severity]}{word}{_PLAIN}"
    lines = [f"{place}{word}: {_shown(diagnostic.message)}"]
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
        lines.append(f"{_INDENT}try: {_shown(hint.text)}{where}")
    return "\n".join(lines)


def _pointed(text: str, start: int, length: int) -> tuple[str, str]:
    """A source line and the line of carets under it, cut to WIDTH round the carets."""
    cells = _cells(text)
    caret = sum(len(cell) for cell in cells[:start])
    # A cell is as many characters long as it is columns wide, but for the zero-width filler.
    end = start + length
    wide = max(1, sum(len(cell) for cell in cells[start:end]))
    total = sum(len(cell) for cell in cells)
    first, last = 0, len(cells)
    if total > WIDTH:
        first, last = _window(cells, start, end)
        caret = sum(len(cell) for cell in cells[first:start])
        wide = max(1, sum(len(cell) for cell in cells[start : min(end, last)]))
    kept = "".join(cells[first:last]).replace(_FILL, "")
    marks = "^" * wide
    if first:
        kept, caret = f"… {kept}", caret + 2
    if last < len(cells):
        kept = f"{kept.rstrip()} …"
    return kept.rstrip(), " " * caret + marks


_FILL = "\0"  # stands for the second column of a wide letter while columns are counted


def _cells(text: str) -> list[str]:
    """For each character what is shown, as many characters long as it takes columns."""
    cells: list[str] = []
    column = 0
    for ch in text:
        if ch == "\t":
            cell = " " * (_TAB - column % _TAB)
        elif unicodedata.combining(ch) or unicodedata.category(ch) in ("Mn", "Me", "Cf"):
            if cells:  # drawn on the letter before it, without a column of its own
                cells.append(_Mark(ch))
                continue
            cell = " "
        elif unicodedata.category(ch) in ("Cc", "Cs", "Zl", "Zp"):
            cell = "�"
        elif unicodedata.east_asian_width(ch) in ("W", "F"):
            cell = ch + _FILL
        else:
            cell = ch
        column += len(cell)
        cells.append(cell)
    return cells


class _Mark(str):
    """A combining mark: it is printed, but takes no column."""

    __slots__ = ()

    def __len__(self) -> int:
        return 0


def _window(cells: list[str], start: int, end: int) -> tuple[int, int]:
    """Part of a long line that shows the caret with some text on both sides."""
    room = WIDTH - 4
    first = last = min(start, len(cells) - 1)
    used = 0
    while last < min(end, len(cells)) and used + len(cells[last]) <= room:
        used += len(cells[last])
        last += 1
    grown = True
    while grown:
        grown = False
        if first > 0 and used + len(cells[first - 1]) <= room:
            first -= 1
            used += len(cells[first])
            grown = True
        if last < len(cells) and used + len(cells[last]) <= room:
            used += len(cells[last])
            last += 1
            grown = True
    return first, last


def _shown(text: str) -> str:
    """A text on one line, without control characters."""
    return "".join(
        ch if unicodedata.category(ch) not in ("Cc", "Cs", "Zl", "Zp", "Cf") else " "
        for ch in text
    )
