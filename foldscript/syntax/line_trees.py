"""One line of a script to its syntax tree.

In: the tokens of a line. Out: its lark tree by the grammar's rule for that kind of line, or a `Refusal`
that says what the line lacks or what stands in its way.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from ..source.diagnostics import Refusal
from .grammar import Grammar, UnexpectedWord
from .heads import HEAD_LINES
from .mistakes import broken_token, unexpected
from .script_lines import token_span

if TYPE_CHECKING:
    from lark import Token, Tree

#: Words in one statement.
LONGEST_LINE = 200
#: Lines of steps and groups that are no moves.
BLOCK_LINES = (
    *("step_line", "caption_line", "half_line"),
    *("group_line", "end_line", "part_line", "assemble_line"),
)


class LineTrees:
    """Reads lines by one grammar; `counts` tells how often each name stands in the whole script."""

    def __init__(self, grammar: Grammar, counts: Counter[str]) -> None:
        self.grammar = grammar
        self.counts = counts

    def kind(self, first: Token) -> str:
        """The start rule that the first word of a line chooses; '' when it chooses none."""
        for start in (*BLOCK_LINES, *sorted(HEAD_LINES)):
            if first.type in self.grammar.terminals_of[start] and (
                f"{first.type.lower()}_line" == start
            ):
                return start
        return ""

    def head_words(self) -> set[str]:
        """Every word that may open a line of the head."""
        found = {w for w in self.grammar.words_of("sheet_line") if w == "sheet"}
        for start in HEAD_LINES:
            first = start.removesuffix("_line").upper()
            found.update(self.grammar.spellings.get(first, ()))
        return found

    def read(self, start: str, tokens: list[Token]) -> Tree[Token]:
        """The tree of a line by a start rule. Raises Refusal."""
        if len(tokens) > LONGEST_LINE:
            raise Refusal(
                "line-too-long",
                f"this statement has more than {LONGEST_LINE} words",
                "make several statements of it",
                span=token_span(tokens[0]),
            )
        for before, token in zip([None, *tokens], tokens, strict=False):
            if before is not None and before.type in ("NUMBER", "FRACTION"):
                refuse_inch_mark(before, token)
            refuse_broken(token, start)
        used = self.grammar.terminals_of[start]
        line: list[Token] = []
        for token in tokens:
            # A word that this kind of line has no use for is a plain name here.
            spare = token.type not in used and token[:1].isalpha()
            line.append(token.update(type="NAME") if spare else token)
        try:
            return self.grammar.parse(start, line)
        except UnexpectedWord as trouble:
            raise unexpected(self.grammar, start, line, trouble, self.counts) from None


def refuse_broken(token: Token, start: str = "") -> None:
    """Refuses a token that is no word of any line, such as half a string."""
    broken = broken_token(token, start)
    if broken is not None:
        raise broken


def refuse_inch_mark(number: Token, token: Token) -> None:
    """Refuses a quote mark straight after a number, which is meant for inches."""
    if token.type in ("STRING", "OPEN_STRING") and token.start_pos == number.end_pos:
        raise Refusal(
            "unit-missing",
            f"a unit is said as a word: {number} {'inch' if number == '1' else 'inches'}",
            span=token_span(number),
        )
