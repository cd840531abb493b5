"""Sources, spans and diagnostics: how every stage says what is wrong and where.

In: nothing but text and offsets. Out: frozen values that any stage may raise or collect.
How a diagnostic reads is settled in `reporting.py`, apart from what it says.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property


@dataclass(frozen=True, slots=True)
class Span:
    """Half-open range of character offsets `[start, end)` in a source's text."""

    start: int
    end: int

    def cover(self, other: Span) -> Span:
        """Smallest span that holds both."""
        return Span(min(self.start, other.start), max(self.end, other.end))


@dataclass(frozen=True)
class Source:
    """A script as read: `name` is the path shown in messages, `text` its decoded content."""

    name: str
    text: str

    @cached_property
    def _line_starts(self) -> list[int]:
        return [0] + [i + 1 for i, ch in enumerate(self.text) if ch == "\n"]

    def position(self, offset: int) -> tuple[int, int]:
        """1-based (line, column) of a character offset."""
        offset = max(0, min(offset, len(self.text)))
        row = bisect_right(self._line_starts, offset) - 1
        return row + 1, offset - self._line_starts[row] + 1

    def start_of(self, number: int) -> int | None:
        """Offset of the first character of a 1-based line; None where there is no such line."""
        known = 1 <= number <= len(self._line_starts)
        return self._line_starts[number - 1] if known else None

    def line(self, number: int) -> str:
        """Text of a 1-based line, without its line break."""
        start = self._line_starts[number - 1]
        end = self._line_starts[number] - 1 if number < len(self._line_starts) else len(self.text)
        return self.text[start:end].rstrip("\r")


class Severity(Enum):
    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Edit:
    """A change to a source's text: `text` comes in the place of what stands in `span`."""

    span: Span
    text: str

    def applied(self, text: str) -> str:
        """The whole text with this change made."""
        return text[: self.span.start] + self.text + text[self.span.end :]


@dataclass(frozen=True, slots=True)
class Hint:
    """What to try; `span` points at another place in the same source where that helps.

    `edit` does to the same source what the hint says, where it says exactly what to write.
    """

    text: str
    span: Span | None = None
    edit: Edit | None = None


def in_words(hints: Iterable[Hint]) -> tuple[Hint, ...]:
    """Hints without their changes: for words that stand for something else each time they are read."""
    return tuple(replace(hint, edit=None) for hint in hints)


def write(span: Span, words: str, hint: str = "") -> Hint:
    """A hint to write other words in a place: 'say 'words'', where `hint` does not put it otherwise."""
    return Hint(hint or f"say '{words}'", edit=Edit(span, words))


def add(span: Span, words: str, hint: str = "") -> Hint:
    """A hint to add words at the end of a statement with this span."""
    return write(Span(span.end, span.end), f" {words}", hint or f"add '{words}'")


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One thing that is wrong, in the craft's words.

    `code` is a stable, short, kebab-case name ('unknown-name'); `span` is None only where
    there is no script to point into (an unwritable folder, a missing library).
    """

    code: str
    message: str
    span: Span | None = None
    hints: tuple[Hint, ...] = ()
    severity: Severity = Severity.ERROR
    source: Source | None = None


class FoldscriptError(Exception):
    """Carries one or more diagnostics up to the driver."""

    def __init__(self, *diagnostics: Diagnostic) -> None:
        super().__init__("; ".join(d.message for d in diagnostics))
        self.diagnostics = tuple(diagnostics)


class Refusal(Exception):
    """A fold that the paper or its words do not allow, raised below the folding stage.

    The folding stage turns it into a `Diagnostic` with the statement's span where `span` is None.
    """

    def __init__(
        self, code: str, message: str, *hints: str | Hint, span: Span | None = None
    ) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        told = (Hint(hint) if isinstance(hint, str) else hint for hint in hints)
        self.hints = tuple({hint.text: hint for hint in reversed(list(told))}.values())[::-1]
        self.span = span

    def with_hints(self, *hints: str | Hint) -> Refusal:
        """The same refusal with these hints, in the place of its own."""
        return Refusal(self.code, self.message, *hints, span=self.span)
