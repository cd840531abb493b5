"""The lines of a step: tokens in, `Statement` out.

A move is a verb and a row of phrases. Which phrases a verb takes is the move's own affair; here a
phrase only has to be whole: a connecting word that needs operands has them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import pairwise
from typing import TYPE_CHECKING, cast

from ..source.diagnostics import Refusal, Span, write
from .craft_words import instead
from .mistakes import quoted
from .nodes import Amount, Operand, Phrase, Statement
from .operands import read_count, read_name, read_operand, tokens_of, tree_span, trees_of
from .script_lines import token_span

if TYPE_CHECKING:
    from lark import Token, Tree

#: Other spellings of words that stand in phrases.
_PLAIN = {
    "in front of": "in front",
    "into pocket at": "into the pocket at",
    "anti-clockwise": "anticlockwise",
    "counterclockwise": "anticlockwise",
    "counter-clockwise": "anticlockwise",
}


#: Words that stand where names do, and are none.
_NO_NAMES = frozenset(("the", "other", "side", "flap", "flaps"))
#: Words before which 'up', 'down' and 'over' add nothing.
_WHERE = frozenset(("TO", "ALONG", "THROUGH"))
#: What stands before 'at the top' where that is a side of the figure: 'step 3 at the top'.
_BEFORE_SIDE = frozenset(("NUMBER", "TIMES", "PLACE", "AND"))
#: What follows 'top' where more is seen there: 'top corner', 'top layer at P'.
_AFTER_HEIGHT = frozenset(("CORNER", "EDGE", "FLANK", "LAYERS"))


def match_verb(tokens: list[Token], verbs: Collection[str]) -> list[Token] | None:
    """The line with its longest verb made one token of type VERB; None when it opens with none."""
    from lark import Token

    longest = max((len(v.split()) for v in verbs), default=0)
    words: list[str] = []
    found: tuple[int, str] | None = None
    for count, token in enumerate(tokens, 1):
        words.extend(token.split())
        if len(words) > longest:
            break
        spelling = " ".join(words)
        if spelling in verbs:
            found = count, spelling
    if found is None:
        return None
    count, spelling = found
    first, last = tokens[0], tokens[count - 1]
    verb = Token(
        "VERB",
        spelling,
        first.start_pos,
        first.line,
        first.column,
        last.end_line,
        last.end_column,
        last.end_pos,
    )
    return [verb, *tokens[count:]]


def words_as_names(tokens: list[Token], verbs: Collection[str]) -> Iterator[str]:
    """Words of a move, in small letters, that can only be names given earlier.

    Straight after the verb a new name may stand, but none that is a word of the table.
    """
    for before, token in pairwise(match_verb(tokens, verbs) or []):
        after_verb = before.type == "VERB"
        new = before.type == "AS" or (after_verb and not instead(str(token)))
        plain = token.type == "NAME" and token.islower() and len(token) > 2
        if plain and not new and (after_verb or token not in _NO_NAMES):
            yield str(token)


def plain_words(tokens: list[Token]) -> list[Token]:
    """The line without words that only read well: 'valley the bottom corner up to the top corner'.

    'Top' and 'bottom' become sides, as left and right are, where they say where steps are repeated.

    Raises Refusal where the two words of a direction stand the wrong way round.
    """
    kept: list[Token] = []
    for k, token in enumerate(tokens):
        after = tokens[k + 1 : k + 3]
        kinds = [t.type for t in after]
        if token.type == "FLANK" and kinds in (["HEIGHT", "CORNER"], ["HEIGHT", "EDGE"]):
            raise Refusal(
                "unexpected-word",
                f"in {quoted(' '.join((token, *after)))} the height comes first",
                f"say '{after[0]} {token} {after[1]}'",
                span=token_span(token).cover(token_span(after[1])),
            )
        if token.type == "HEIGHT" and _is_side(tokens[:k], after):
            kept.append(token.update(type="FLANK"))
            continue
        reads_well = token.type == "UPDOWN" or token == "over"
        if reads_well and k > 1 and after and (after[0].type in _WHERE or after[0] == "onto"):
            continue
        kept.append(token)
    return kept


def _is_side(before: list[Token], after: list[Token]) -> bool:
    """Whether 'top' between these words is a side of the figure, and not a corner or an edge there."""
    kinds = [t.type for t in before[-2:]]
    more_is_seen = bool(after) and after[0].type in _AFTER_HEIGHT
    return kinds[1:] == ["AT"] and kinds[0] in _BEFORE_SIDE and not more_is_seen


def read_move(tree: Tree[Token]) -> Statement:
    """The statement of a `move_line`; raises Refusal."""
    verb = cast("Token", tree.children[0])
    phrases: list[Phrase] = []
    row = _Row("", None, takes=True)
    for item in trees_of(tree):
        kind, span = str(item.data), tree_span(item)
        if kind == "bare" and row.word in ("on", "at") and not row.operands:
            # `on the left`, `at the top`: a side stands where a point could.
            row.operands.append(read_name(cast("Token", item.children[0])))
        elif kind in ("link", "place", "bare"):
            if (
                row.word == "and"
                and not row.operands
                and (kind != "link" or item.children[0] in ("on", "at"))
            ):
                row.needs = False  # `on the other side and behind`, `behind and on the left`
            row.close(phrases)
            word = " ".join(cast("Token", item.children[0]).split())
            row = _Row(_PLAIN.get(word, word), span, kind != "bare", needs=kind == "link")
        elif kind == "naming":
            row.close(phrases)
            row = _Row("as", span, takes=True)
            row.operands.append(read_name(tokens_of(item, "NAME")[0]))
        elif kind == "layers":
            row.close(phrases)
            row = _Row("layers", span, takes=False)
            numbers = tokens_of(item, "NUMBER")
            if numbers:
                count = read_count(numbers[0], "number of layers")
                row.operands.append(Amount(float(count), "", token_span(numbers[0])))
        else:
            if not row.takes:
                row.close(phrases)
                row = _Row("", None, takes=True)
            row.operands.append(read_operand(item))
    row.close(phrases)
    return Statement(str(verb), token_span(verb), tuple(phrases), tree_span(tree))


class _Row:
    """A phrase while it is being gathered."""

    def __init__(self, word: str, span: Span | None, takes: bool, needs: bool = False) -> None:
        self.word = word
        self.span = span
        self.takes = takes
        self.needs = needs
        self.operands: list[Operand] = []

    def close(self, phrases: list[Phrase]) -> None:
        """Adds the phrase to the row; raises Refusal when it is not whole."""
        span = self.span
        if self.needs and not self.operands:
            raise Refusal(
                "unfinished-phrase",
                f"after {quoted(self.word)} a point, a line or an amount should follow",
                f"say what comes after '{self.word}', or leave it out",
                span=span,
            )
        for operand in self.operands:
            span = operand.span if span is None else span.cover(operand.span)
        if span is None:
            return
        if not self.word and any(not phrase.word for phrase in phrases):
            raise Refusal(
                "stray-word",
                "nothing says what this is for",
                "put a connecting word before it, such as to, onto, through, along or at",
                span=span,
            )
        phrases.append(Phrase(self.word, tuple(self.operands), span))


def group_without_do(name: Token) -> Refusal:
    """What a line is told that opens with the name of a group."""
    at = token_span(name)
    hint = write(at, f"do {name}", f"'do {name}', which does what the group says")
    return Refusal("unknown-word", f"{quoted(name)} is a group, and no move", hint, span=at)
