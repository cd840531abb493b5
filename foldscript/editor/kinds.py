"""What kind of word each word of a script is, for editors that colour by it (semantic tokens).

In: what is written. Out: spans with a kind, in order. A name is coloured by what it stands for, a word of the
language only in lines where it is one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from lsprotocol import types

from ..moves.registry import verbs
from ..source.diagnostics import Span
from ..syntax.moves import match_verb
from ..syntax.script_lines import token_span
from .giving import Kind
from .positions import Positions
from .written import Written

#: Kinds as the protocol names them, in the order of their numbers.
KINDS = (
    types.SemanticTokenTypes.Comment,
    types.SemanticTokenTypes.String,
    types.SemanticTokenTypes.Number,
    types.SemanticTokenTypes.Keyword,
    types.SemanticTokenTypes.Function,
    types.SemanticTokenTypes.Operator,
    types.SemanticTokenTypes.Variable,
    types.SemanticTokenTypes.Property,
    types.SemanticTokenTypes.Parameter,
    types.SemanticTokenTypes.Namespace,
)
_OF_NAMES = {
    Kind.CORNER: types.SemanticTokenTypes.Variable,
    Kind.POINT: types.SemanticTokenTypes.Variable,
    Kind.BEGUN_WITH: types.SemanticTokenTypes.Variable,
    Kind.CREASE: types.SemanticTokenTypes.Property,
    Kind.PARAMETER: types.SemanticTokenTypes.Parameter,
    Kind.GROUP: types.SemanticTokenTypes.Namespace,
}
_OF_TOKENS = {
    "STRING": types.SemanticTokenTypes.String,
    "OPEN_STRING": types.SemanticTokenTypes.String,
    "NUMBER": types.SemanticTokenTypes.Number,
    "FRACTION": types.SemanticTokenTypes.Number,
    "NGON": types.SemanticTokenTypes.Number,
}


def kinds(written: Written) -> list[tuple[Span, types.SemanticTokenTypes]]:
    """Every coloured word, in order; none across lines."""
    named = {
        place.span: _OF_NAMES[entity.kind]
        for entity in written.names.entities
        for place in entity.places
    }
    found = dict(_comments(written))
    for line in written.lines:
        moved = match_verb(line.tokens, verbs())
        verb = token_span(moved[0]) if moved else None
        for k, token in enumerate(line.tokens):
            span = token_span(token)
            if span in named:
                found[span] = named[span]
            elif token.type in _OF_TOKENS:
                found[span] = _OF_TOKENS[token.type]
            elif verb is not None and span.start < verb.end:
                found[span] = types.SemanticTokenTypes.Function
            elif token.type not in ("NAME", "STRAY", "COMMA", "DECIMAL_COMMA"):
                keyword = k == 0
                kind = types.SemanticTokenTypes
                found[span] = kind.Keyword if keyword else kind.Operator
    return sorted(found.items(), key=lambda pair: pair[0].start)


def _comments(written: Written) -> Iterator[tuple[Span, types.SemanticTokenTypes]]:
    end = 0
    text = written.source.text
    for start, stop in (
        *((token_span(t).start, token_span(t).end) for t in written.tokens),
        (len(text), 0),
    ):
        at = text.find("#", end, start)
        if at >= 0:
            yield Span(at, start), types.SemanticTokenTypes.Comment
        end = stop


def encoded(
    found: Sequence[tuple[Span, types.SemanticTokenTypes]], positions: Positions
) -> types.SemanticTokens:
    """As the protocol sends them: five numbers a word, lines and columns from the word before."""
    numbers = {kind: k for k, kind in enumerate(KINDS)}
    data: list[int] = []
    line = column = 0
    for span, kind in found:
        start, end = positions.position(span.start), positions.position(span.end)
        if end.line != start.line:
            continue
        data += [
            start.line - line,
            start.character - (column if start.line == line else 0),
            end.character - start.character,
            numbers[kind],
            0,
        ]
        line, column = start.line, start.character
    return types.SemanticTokens(data)
