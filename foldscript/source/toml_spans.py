"""Where each key and value of a TOML text stands.

In: text that the standard library's parser has already accepted. Out: path -> spans, a path being
the keys and positions that lead to a value: ('cover', 'figures', 1). The parser itself keeps no
spans; this walks over the same text and looks only at what separates one value from the next
(TOML 1.0: comments, four kinds of strings, arrays, inline tables, headers, dotted keys).
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass

from .diagnostics import Span

#: Keys, and positions in arrays, that lead to a value.
KeyPath = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY_PART = re.compile(r'"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|[A-Za-z0-9_-]+')
_DOT = re.compile(r"[ \t]*\.[ \t]*")
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}(?!")'
    r"|'''.*?'{3,5}(?!')"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'",
    re.DOTALL,
)
_BARE = re.compile(r"[^,\]}#\n]+")


@dataclass(frozen=True, slots=True)
class PairSpans:
    """Spans of a key and of its value; for an item of an array, and for a header, both are the same."""

    key: Span
    value: Span


def pair_spans(text: str) -> Mapping[KeyPath, PairSpans]:
    """Spans of everything in a text that the TOML parser accepts."""
    walk = _Walk(text)
    walk.document()
    return walk.found


class _Walk:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[KeyPath, PairSpans] = {}
        self._tables: dict[KeyPath, int] = {}  # arrays of tables -> how many there are

    def document(self) -> None:
        table: KeyPath = ()
        self._skip(_BLANK)
        while self.at < len(self.text):
            table = self._header() if self.text[self.at] == "[" else self._pair(table)
            self._skip(_BLANK)

    def _skip(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        assert match is not None, "the text is no valid TOML"
        self.at = match.end()
        return match[0]

    def _key(self) -> list[tuple[str, Span]]:
        parts: list[tuple[str, Span]] = []
        while True:
            start = self.at
            raw = self._skip(_KEY_PART)
            (name,) = tomllib.loads(f"{raw} = 0") if raw[0] in "\"'" else (raw,)
            parts.append((name, Span(start, self.at)))
            match = _DOT.match(self.text, self.at)
            if match is None:
                return parts
            self.at = match.end()

    def _header(self) -> KeyPath:
        start = self.at
        double = self.text.startswith("[[", self.at)
        self.at += 2 if double else 1
        self._skip(_SPACE)
        key = self._key()
        self._skip(_SPACE)
        self.at += 2 if double else 1
        span = Span(start, self.at)
        path: KeyPath = ()
        for name, part in key:
            path = self._newest((*path, name))
            self.found.setdefault(path, PairSpans(part, span))
        if double:
            base = path[:-1] if path and isinstance(path[-1], int) else path
            self._tables[base] = self._tables.get(base, 0) + 1
            path = self._newest(base)
            self.found[path] = PairSpans(key[-1][1], span)
        return path

    def _newest(self, path: KeyPath) -> KeyPath:
        """The path, or its last table so far where it leads to an array of tables."""
        count = self._tables.get(path)
        return path if count is None else (*path, count - 1)

    def _pair(self, table: KeyPath) -> KeyPath:
        """`key = value`; gives back the table it stands in."""
        key = self._key()
        self._skip(_SPACE)
        self.at += 1  # =
        self._skip(_SPACE)
        start = self.at
        path = (*table, *(name for name, _ in key))
        self._value(path)
        span = Span(start, self.at)
        for depth, (_, part) in enumerate(key, len(table) + 1):
            self.found.setdefault(path[:depth], PairSpans(part, span))
        self.found[path] = PairSpans(Span(key[0][1].start, key[-1][1].end), span)
        return table

    def _value(self, path: KeyPath) -> None:
        opening = self.text[self.at]
        if opening in "\"'":
            self._skip(_STRING)
        elif opening == "[":
            self._items(path)
        elif opening == "{":
            self._inline(path)
        else:
            start = self.at
            self.at = start + len(self._skip(_BARE).rstrip())

    def _items(self, path: KeyPath) -> None:
        self.at += 1
        self._skip(_BLANK)
        count = 0
        while self.text[self.at] != "]":
            start = self.at
            self._value((*path, count))
            span = Span(start, self.at)
            self.found[(*path, count)] = PairSpans(span, span)
            count += 1
            self._comma()
        self.at += 1

    def _inline(self, path: KeyPath) -> None:
        self.at += 1
        self._skip(_BLANK)
        while self.text[self.at] != "}":
            self._pair(path)
            self._comma()
        self.at += 1

    def _comma(self) -> None:
        self._skip(_BLANK)
        if self.text[self.at] == ",":
            self.at += 1
            self._skip(_BLANK)
