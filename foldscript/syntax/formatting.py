"""One canonical layout for scripts: indents, blank lines, the space between words.

In: a script's text. Out: the same words in the same lines, laid out alike: what belongs to a step or a group
is indented by two, a line that goes on by four; one blank line stands before a step, a group, a part and an
assembly, at most one anywhere else; one space stands between words, two before a comment that follows them.
Words, texts in quotes and comments stay as they are, so the script means what it meant; laid out again, it is
the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..source.diagnostics import Source
from .grammar import load_grammar

if TYPE_CHECKING:
    from lark import Token

#: Lines that begin something: a blank line stands before them, and what is open before them ends.
_SECTIONS = frozenset({"STEP", "GROUP", "PART", "ASSEMBLE"})
#: Of these, those whose lines are indented.
_BLOCKS = frozenset({"STEP", "GROUP"})
_INDENT, _FURTHER = "  ", "    "


@dataclass(frozen=True, slots=True)
class _Row:
    """A line as written: its tokens, its comment ('' for none), and whether it was indented."""

    tokens: tuple[Token, ...]
    comment: str
    indented: bool

    @property
    def blank(self) -> bool:
        return not self.tokens and not self.comment

    @property
    def goes_on(self) -> bool:
        """Whether it ends in a comma, and so goes on in the next line."""
        return bool(self.tokens) and self.tokens[-1].type == "COMMA"


def formatted(source: Source) -> str:
    """The script laid out; made for scripts that can be read, but loses no word of any other."""
    rows = list(_rows(source.text))
    lines: list[str] = []
    gap = False  # whether blank lines come before this row
    opened = False  # whether the row before opened a block: its first line follows at once
    attached = False  # whether a comment right before belongs to the section that begins here
    inside, further = False, False
    for number, row in enumerate(rows):
        if row.blank:
            gap = True
            continue
        opener = row.tokens[0].type if row.tokens and not further else ""
        if opener in _SECTIONS or opener == "END":
            inside = False
        begins = not further and _begins(rows[number:], inside)
        if lines and ((begins and not attached) or (gap and not opened)):
            lines.append("")
        indent = _INDENT if inside and (row.tokens or row.indented) else ""
        if further and row.tokens:
            indent = _FURTHER if inside else _INDENT
        lines.append(indent + _told(row))
        opened = opener in _BLOCKS
        attached = begins and not row.tokens
        inside |= opened
        further = row.goes_on if row.tokens else further
        gap = False
    return "".join(f"{line}\n" for line in lines)


def _rows(text: str) -> Iterator[_Row]:
    """Every line of the text, taken apart."""
    tokens: list[Token] = []
    lines = text.split("\n")
    number, start = 0, 0
    for token in load_grammar().lex(text):
        if token.type != "NEWLINE":
            tokens.append(token)
            continue
        yield _row(tokens, lines[number], start)
        start += len(lines[number]) + 1
        number += 1
        tokens = []
    yield _row(tokens, lines[number], start)


def _row(tokens: list[Token], line: str, start: int) -> _Row:
    """`start` is where the line begins in the text."""
    end = (tokens[-1].end_pos or start) - start if tokens else 0
    return _Row(tuple(tokens), line[end:].strip(" \t\ufeff").strip(), line[:1] in (" ", "\t"))


def _begins(rows: Iterable[_Row], inside: bool) -> bool:
    """Whether these lines begin a section: its opener, or the comments right before that."""
    for row in rows:
        if row.tokens:
            return row.tokens[0].type in _SECTIONS
        if row.blank or (inside and row.indented):
            return False
    return False


def _told(row: _Row) -> str:
    words: list[str] = []
    end: int | None = None
    for token in row.tokens:
        apart = end is not None and token.type != "COMMA"
        if apart and (token.start_pos != end or words[-1] == ","):
            words.append(" ")
        words.append(str(token) if "STRING" in token.type else re.sub(r"\s+", " ", token))
        end = token.end_pos
    told = "".join(words)
    return f"{told}  {row.comment}" if told and row.comment else told or row.comment
