"""What stands before a place in its line, and what the grammar lets follow.

In: what is written, and an offset. Out: an `Asked`: the words of the statement up to there, the word that is
being typed, and the kinds of words and names that may stand in its place.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..moves.registry import verbs
from ..source.diagnostics import Refusal, Span
from ..syntax.grammar import load_grammar
from ..syntax.heads import HEAD_LINES
from ..syntax.line_trees import BLOCK_LINES
from ..syntax.moves import match_verb, plain_words
from ..syntax.script_lines import token_span
from .written import Written

if TYPE_CHECKING:
    from lark import Token

#: Words that connect: what they are about follows.
CONNECTING = frozenset(
    (
        *("LINK", "INTO_POCKET", "TO", "THROUGH", "ALONG", "AT", "BY", "FROM", "ON"),
        *("PERPENDICULAR_TO", "PARALLEL_TO"),
    )
)
#: What is typed of a word.
_TYPED = re.compile(r"[^\W\d][\w'’-]*\Z")


@dataclass(frozen=True)
class Asked:
    """What may stand at a place.

    Attributes
    ----------
    typed : the span of what is there of the word already, up to the place
    before : the words of the statement before it, a verb as one of type VERB
    verb : of the statement, '' where it has none yet
    room : 'head', 'step' or 'group': what kind of lines stand here
    accepted : terminals of the grammar that may follow; None where the line cannot be read up to here
    """

    typed: Span
    before: tuple[Token, ...]
    verb: str
    room: str
    accepted: frozenset[str] | None

    @property
    def opens(self) -> bool:
        """Whether a statement begins here."""
        return not self.before


def asked(written: Written, offset: int) -> Asked | None:
    """What may stand at a place; None in texts and comments, where nothing is known."""
    text = written.source.text
    row = text[text.rfind("\n", 0, offset) + 1 : offset]
    found = _TYPED.search(row)
    start = offset - (len(found.group()) if found else 0)
    if _in_text_or_comment(written, offset):
        return None
    line = written.line_at(max(start - 1, 0))
    tokens = [t for t in (line.tokens if line else ()) if token_span(t).end <= start]
    if line is not None and not _goes_on(text[line.span.start : start]):
        tokens = []
    room = _room(written, start)
    before, verb, accepted = _accepted(tokens, room)
    return Asked(Span(start, offset), before, verb, room, accepted)


def _goes_on(text: str) -> bool:
    """Whether the last line of a text belongs to the first: each before it ends in a comma."""
    *rows, _ = text.split("\n")
    return all(row.split("#")[0].rstrip().endswith(",") for row in rows)


def _in_text_or_comment(written: Written, offset: int) -> bool:
    for token in written.tokens:
        span = token_span(token)
        if span.start >= offset:
            break
        if "STRING" in token.type and (
            offset < span.end or (offset == span.end and token.type == "OPEN_STRING")
        ):
            return True
    text = written.source.text
    start = text.rfind("\n", 0, offset) + 1
    last = max(
        (token_span(t).end for t in written.tokens if token_span(t).end <= offset), default=0
    )
    return "#" in text[max(start, last) : offset]


def _room(written: Written, offset: int) -> str:
    """What kind of lines stand at a place."""
    room = "head"
    for line in written.lines:
        if line.span.start >= offset:
            break
        kind = line.tokens[0].type
        if kind == "STEP":
            room = "step"
        elif kind == "GROUP":
            room = "group"
        elif kind in ("PART", "ASSEMBLE", "END"):
            room = "head"
    return room


def _accepted(
    tokens: list[Token], room: str
) -> tuple[tuple[Token, ...], str, frozenset[str] | None]:
    if not tokens:
        return (), "", None
    grammar = load_grammar()
    plain = [t for t in tokens if not (t.type == "NAME" and t == "the")]
    start = next(
        (s for s in (*BLOCK_LINES, *HEAD_LINES) if f"{tokens[0].type.lower()}_line" == s), ""
    )
    verb = ""
    if not start and plain:
        line = match_verb(plain, verbs())
        if line is None:
            return tuple(tokens), "", None
        start, verb = "move_line", str(line[0])
        try:
            plain = plain_words(line)
        except Refusal:
            return tuple(line), verb, None
    used = grammar.terminals_of[start] if start else frozenset()
    fed = [t.update(type="NAME") if _spare(t, used) else t for t in plain]
    return tuple(plain), verb, grammar.accepts(start, fed) if start else None


def _spare(token: Token, used: frozenset[str]) -> bool:
    return token.type not in used and token[:1].isalpha()
