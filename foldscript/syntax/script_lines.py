"""A script cut into lines: tokens in, statements' worth of tokens out.

A line that ends in a comma goes on in the next one. Commas, comments and empty lines are dropped
here, and so is the article `the`, which reads well and means nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from ..source.diagnostics import Source, Span

if TYPE_CHECKING:
    from lark import Token

#: Words that open a block: a comma at the end of the line before one of them is a mistake.
_OPENERS = frozenset({"STEP", "CAPTION", "GROUP", "END", "PART", "ASSEMBLE"})


@dataclass(frozen=True)
class ScriptLine:
    """The tokens of one statement, at least one.

    `loose_comma` is where a comma at the end of the last line leads nowhere.
    """

    tokens: list[Token]
    loose_comma: Span | None = None

    @property
    def span(self) -> Span:
        return cover(self.tokens)

    def given_names(self) -> Iterator[str]:
        """Words to which this line may give a meaning: after `as` and `mark`, of a group and its calls."""
        opener = self.tokens[0]
        names = self.tokens[1:2] if opener == "mark" else ()
        if opener.type == "GROUP" or opener == "do":
            names = self.tokens[1:]
        after_as = (name for word, name in pairwise(self.tokens) if word.type == "AS")
        yield from (str(t) for t in (*names, *after_as) if t.type == "NAME" and t != "the")

    def without_article(self) -> list[Token]:
        """The tokens without `the`."""
        return [t for t in self.tokens if not (t.type == "NAME" and t == "the")]


def cut_lines(
    tokens: Iterable[Token], openers: frozenset[str] = frozenset()
) -> Iterator[ScriptLine]:
    """Statements in the order of the script.

    `openers` are words that open a move and stand nowhere else: before one of them a comma at the
    end of the line is a mistake.
    """
    gathered: list[Token] = []
    comma: Token | None = None  # the last thing read, when it is a comma
    fresh = True  # whether the next token is the first of a line of the text
    for token in tokens:
        if token.type == "NEWLINE":
            if gathered and comma is None:
                yield ScriptLine(gathered)
                gathered = []
            fresh = True
            continue
        opens = token.type in _OPENERS or (token.type == "NAME" and token in openers)
        if comma is not None and fresh and opens:
            if gathered:
                yield ScriptLine(gathered, token_span(comma))
            gathered, comma = [], None
        fresh = False
        if token.type == "COMMA":
            comma = token
            if gathered:
                continue
            token.type = "STRAY"
        comma = None
        gathered.append(token)
    if gathered:
        yield ScriptLine(gathered, token_span(comma) if comma is not None else None)


def token_span(token: Token) -> Span:
    """Where a token stands."""
    assert token.start_pos is not None
    assert token.end_pos is not None
    return Span(token.start_pos, token.end_pos)


def cover(tokens: list[Token]) -> Span:
    """From the first token to the end of the last."""
    return token_span(tokens[0]).cover(token_span(tokens[-1]))


def raw(source: Source, span: Span) -> str:
    """The text of a span, with runs of blanks made one."""
    return " ".join(source.text[span.start : span.end].split())
