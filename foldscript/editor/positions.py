"""Places in a text as an editor counts them, and as foldscript does.

In: a `Source`, and the encoding that the editor counts by. An editor counts lines from 0 and, within a line,
code units of UTF-16 where nothing else was agreed (Language Server Protocol 3.17, 'Position'); foldscript
counts characters of the whole text.
"""

from __future__ import annotations

from lsprotocol import types

from ..source.diagnostics import Edit, Source, Span

#: Code units that a character takes.
_UTF_8, _UTF_16 = types.PositionEncodingKind.Utf8, types.PositionEncodingKind.Utf16


class Positions:
    """Both ways for one text."""

    def __init__(self, source: Source, encoding: str = _UTF_16) -> None:
        self.source = source
        self._encoding = types.PositionEncodingKind(encoding)

    def position(self, offset: int) -> types.Position:
        """The editor's position of an offset."""
        line, column = self.source.position(offset)
        before = self.source.line(line)[: column - 1]
        return types.Position(line - 1, sum(map(self._units, before)))

    def range(self, span: Span) -> types.Range:
        """The editor's range of a span."""
        return types.Range(self.position(span.start), self.position(span.end))

    def edit(self, edit: Edit) -> types.TextEdit:
        """The editor's form of a change."""
        return types.TextEdit(self.range(edit.span), edit.text)

    def offset(self, position: types.Position) -> int:
        """The offset of a position; one past a line's end is the line's end, one past the text its end."""
        start = self.source.start_of(position.line + 1)
        if start is None:
            return len(self.source.text)
        units = 0
        text = self.source.line(position.line + 1)
        for column, letter in enumerate(text):
            if units >= position.character:
                return start + column
            units += self._units(letter)
        return start + len(text)

    def span(self, asked: types.Range) -> Span:
        """The span of a range."""
        return Span(self.offset(asked.start), self.offset(asked.end))

    def _units(self, letter: str) -> int:
        if self._encoding == _UTF_16:
            return 2 if ord(letter) > 0xFFFF else 1
        if self._encoding == _UTF_8:
            return len(letter.encode("utf-8", "replace"))
        return 1


def plain(text: str) -> str:
    """The text with line feeds as its only line ends, so that its lines are the editor's."""
    return text.replace("\r\n", "\n").replace("\r", "\n")
