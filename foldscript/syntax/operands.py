"""Points, lines and amounts: trees of the grammar in, operand nodes out.

Each rule of the grammar that names an operand has one entry in `_READERS`.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, cast

from ..languages.unit_names import of_unit
from ..source.diagnostics import Refusal, Span
from . import nodes
from .mistakes import quoted
from .script_lines import token_span

if TYPE_CHECKING:
    from lark import Token, Tree

#: How deep one description may stand inside another.
DEEPEST = 8
#: Longest name, in characters.
LONGEST_NAME = 40
#: Longest number, in figures.
LONGEST_NUMBER = 12

MM_PER = {"MM": 1.0, "CM": 10.0, "INCH": 25.4}
_UNITS = {"MM": "mm", "CM": "cm", "INCH": "inches"}
#: Words that layers are counted by, from the top.
COUNTED = (
    *("first", "second", "third", "fourth", "fifth"),
    *("sixth", "seventh", "eighth", "ninth", "tenth"),
)
_SIDES = {"upper": "top", "lower": "bottom"}


def tree_span(tree: Tree[Token]) -> Span:
    """Where a tree stands."""
    return Span(tree.meta.start_pos, tree.meta.end_pos)


def is_token(child: Token | Tree[Token]) -> bool:
    """Whether a child of a tree is a token."""
    return isinstance(child, str)


def tokens_of(tree: Tree[Token], *types: str) -> list[Token]:
    """The tokens right below a tree, of some types only when these are given."""
    found = [cast("Token", child) for child in tree.children if is_token(child)]
    return [t for t in found if not types or t.type in types]


def trees_of(tree: Tree[Token]) -> list[Tree[Token]]:
    """The trees right below a tree."""
    return [cast("Tree[Token]", child) for child in tree.children if not is_token(child)]


def read_operand(tree: Tree[Token], depth: int = 0) -> nodes.Operand:
    """The node of an operand; raises Refusal where a number or a name is out of bounds."""
    if depth > DEEPEST:
        raise Refusal(
            "too-deep",
            "too many descriptions stand inside one another",
            "mark a point on the way, and say its name here",
            span=tree_span(tree),
        )
    return _READERS[str(tree.data)](tree, depth)


def read_name(token: Token) -> nodes.Name:
    """A name, composed and with straight primes, so that equal looks are equal names."""
    if len(token) > LONGEST_NAME:
        raise Refusal(
            "name-too-long",
            f"this name has {len(token)} letters; {LONGEST_NAME} are the most",
            span=token_span(token),
        )
    text = unicodedata.normalize("NFC", token).replace("’", "'")
    return nodes.Name(text, token_span(token))


def read_text(token: Token) -> str:
    """What stands between the quotes; \\" and \\\\ are undone, other strokes stay."""
    text = token[1:-1]
    if token.startswith("“"):
        return text
    pieces = text.split("\\\\")
    return "\\".join(piece.replace('\\"', '"') for piece in pieces)


def read_number(tree: Tree[Token]) -> float:
    """The value of `3`, `2.5`, `1/2` or `3 1/2`."""
    return sum(_value(token) for token in tokens_of(tree))


def read_count(token: Token, what: str, least: int = 1) -> int:
    """A whole number from `least`."""
    if "." in token or not least <= _value(token) < 1e6:
        raise Refusal(
            "not-a-count",
            f"{quoted(token)} is no {what}: a whole number from {least} is needed",
            span=token_span(token),
        )
    return int(token)


def _value(token: Token) -> float:
    if len(token) > LONGEST_NUMBER:
        raise Refusal(
            "number-too-long",
            f"this number has more than {LONGEST_NUMBER} figures",
            span=token_span(token),
        )
    if token.type == "FRACTION":
        above, below = _fraction(token)
        return above / below
    return float(token)


def _fraction(token: Token) -> tuple[int, int]:
    if len(token) > LONGEST_NUMBER:
        raise Refusal(
            "number-too-long", "this fraction has too many figures", span=token_span(token)
        )
    above, below = (int(part) for part in token.split("/"))
    if below == 0:
        raise Refusal("bad-fraction", f"{quoted(token)} divides by nothing", span=token_span(token))
    return above, below


# --- one reader a rule ---------------------------------------------------------------------


def _below(tree: Tree[Token], depth: int) -> Iterator[nodes.Operand]:
    return (read_operand(child, depth + 1) for child in trees_of(tree))


def _name(tree: Tree[Token], depth: int) -> nodes.Operand:
    name = read_name(tokens_of(tree)[0])
    for owner in trees_of(tree):
        number = read_count(tokens_of(owner, "NUMBER")[0], "unit's number")
        return nodes.Name(of_unit(name.text, number), tree_span(tree))
    return name


def _fraction_of(tree: Tree[Token], depth: int) -> nodes.Operand:
    token = tokens_of(tree)[0]
    above, below = _fraction(token)
    if not 0 < above < below:
        raise Refusal(
            "bad-fraction",
            f"{quoted(token)} of a line is not on the line",
            "a fraction between 0 and 1, such as 1/3",
            span=token_span(token),
        )
    return _part_of(tree, depth, above, below)


def _midpoint(tree: Tree[Token], depth: int) -> nodes.Operand:
    return _part_of(tree, depth, 1, 2)


def _part_of(tree: Tree[Token], depth: int, above: int, below: int) -> nodes.Operand:
    span = tree_span(tree)
    match tuple(_below(tree, depth)):
        case (nodes.EdgeOf(start, end),):
            return nodes.Fraction(above, below, start, end, span, "edge")
        case (nodes.LineThrough(start, end),):
            return nodes.Fraction(above, below, start, end, span, "line")
        case (line,):
            return nodes.FractionOfLine(above, below, cast(nodes.LineOperand, line), span)
        case ends:
            start, end = cast(tuple[nodes.PointOperand, nodes.PointOperand], ends)
            return nodes.Fraction(above, below, start, end, span)


def _from_end(tree: Tree[Token], depth: int) -> nodes.Operand:
    measured, *rest = trees_of(tree)
    start, *ends = (read_operand(child, depth + 1) for child in rest)
    bare = len(ends) == 2
    if bare:
        p, q = cast(tuple[nodes.PointOperand, nodes.PointOperand], tuple(ends))
        line: nodes.LineOperand = nodes.LineThrough(p, q, p.span.cover(q.span))
    else:
        line = cast(nodes.LineOperand, ends[0])
    start = cast(nodes.PointOperand, start)
    return nodes.FromEnd(_length(measured), start, line, tree_span(tree), bare)


def _line_apart(tree: Tree[Token], depth: int) -> nodes.Operand:
    measured, to = trees_of(tree)
    line = cast(nodes.LineOperand, read_operand(to, depth + 1))
    return nodes.LineApart(_length(measured), line, tree_span(tree))


def _beyond(tree: Tree[Token], depth: int) -> nodes.Operand:
    number, to = trees_of(tree)
    goal = cast("nodes.PointOperand | nodes.LineOperand", read_operand(to, depth + 1))
    short = not tokens_of(tree, "BEYOND")[0].startswith("beyond")
    return nodes.Beyond(_measure(tree, number), goal, short, tree_span(tree))


def _length(tree: Tree[Token]) -> nodes.Length:
    """The length of `2 cm from`."""
    (number,) = trees_of(tree)
    return _measure(tree, number)


def _measure(tree: Tree[Token], number: Tree[Token]) -> nodes.Length:
    """A number and the unit beside it."""
    (unit,) = tokens_of(tree, *MM_PER)
    span = tree_span(number).cover(token_span(unit))
    mm = round(read_number(number) * MM_PER[unit.type], 9)
    if mm <= 0:
        raise Refusal("no-length", "a length is more than nothing", span=span)
    said = " ".join(str(token) for token in tokens_of(number))
    return nodes.Length(mm, said, _UNITS[unit.type], span)


def _meeting(tree: Tree[Token], depth: int) -> nodes.Operand:
    first, second = cast(tuple[nodes.LineOperand, nodes.LineOperand], tuple(_below(tree, depth)))
    return nodes.Meeting(first, second, tree_span(tree))


def _layer_at(tree: Tree[Token], depth: int) -> nodes.Operand:
    (point,) = cast(tuple[nodes.PointOperand], tuple(_below(tree, depth)))
    which = tokens_of(tree)[0]
    if which.type == "HEIGHT":
        return nodes.OuterLayerAt(_side(which) == "top", point, tree_span(tree))
    return nodes.CountedLayerAt(COUNTED.index(which.split()[0]) + 1, point, tree_span(tree))


def _seen(kind: str) -> Callable[[Tree[Token], int], nodes.Operand]:
    def read(tree: Tree[Token], depth: int) -> nodes.Operand:
        toward = tuple(_side(t) for t in tokens_of(tree, "HEIGHT", "FLANK", "UPRIGHT"))
        return nodes.Seen(kind, toward, tree_span(tree))

    return read


def _seen_end(tree: Tree[Token], depth: int) -> nodes.Operand:
    (line,) = cast(tuple[nodes.LineOperand], tuple(_below(tree, depth)))
    return nodes.EndOf(_side(tokens_of(tree)[0]), line, tree_span(tree))


def _edge_of(tree: Tree[Token], depth: int) -> nodes.Operand:
    start, end = cast(tuple[nodes.PointOperand, nodes.PointOperand], tuple(_below(tree, depth)))
    return nodes.EdgeOf(start, end, tree_span(tree))


def _line_through(tree: Tree[Token], depth: int) -> nodes.Operand:
    start, end = cast(tuple[nodes.PointOperand, nodes.PointOperand], tuple(_below(tree, depth)))
    return nodes.LineThrough(start, end, tree_span(tree))


def _line_square(tree: Tree[Token], depth: int) -> nodes.Operand:
    through, to = _below(tree, depth)
    return nodes.LineSquareTo(
        cast(nodes.PointOperand, through), cast(nodes.LineOperand, to), tree_span(tree)
    )


def _line_parallel(tree: Tree[Token], depth: int) -> nodes.Operand:
    through, to = _below(tree, depth)
    return nodes.LineParallelTo(
        cast(nodes.PointOperand, through), cast(nodes.LineOperand, to), tree_span(tree)
    )


def _line_angle(tree: Tree[Token], depth: int) -> nodes.Operand:
    through_tree, number, to_tree = trees_of(tree)
    through = cast(nodes.PointOperand, read_operand(through_tree, depth + 1))
    to = cast(nodes.LineOperand, read_operand(to_tree, depth + 1))
    return nodes.LineAtAngle(through, read_number(number), to, tree_span(tree))


def _line_bisecting(tree: Tree[Token], depth: int) -> nodes.Operand:
    first, second = cast(tuple[nodes.LineOperand, nodes.LineOperand], tuple(_below(tree, depth)))
    return nodes.LineBisecting(first, second, tree_span(tree))


def _amount(tree: Tree[Token], depth: int) -> nodes.Operand:
    numbered = tokens_of(tree, "NUMBER")
    if numbered:
        number = read_count(numbered[0], "unit's number")
        return nodes.Amount(float(number), "unit", tree_span(tree))
    value = read_number(trees_of(tree)[0])
    units = tokens_of(tree)
    unit = units[0].type if units else ""
    if unit in MM_PER:
        return nodes.Amount(round(value * MM_PER[unit], 9), "mm", tree_span(tree))
    return nodes.Amount(value, unit.lower(), tree_span(tree))


def _steps(tree: Tree[Token], depth: int) -> nodes.Operand:
    numbers = [read_count(t, "step number", 0) for t in tokens_of(tree, "NUMBER")]
    first, last = numbers[0], numbers[-1]
    apart_only = "AND" in {t.type for t in tokens_of(tree)}
    if last < first or (apart_only and last != first + 1):
        raise Refusal(
            "bad-step-range",
            f"steps {first} {'and' if apart_only else 'to'} {last} are not a row of steps",
            "say the first and the last: steps 5 to 6",
            span=tree_span(tree),
        )
    return nodes.StepRange(first, last, tree_span(tree))


def _side(token: Token) -> str:
    return _SIDES.get(str(token), str(token))


_READERS: dict[str, Callable[[Tree[Token], int], nodes.Operand]] = {
    "name": _name,
    "fraction": _fraction_of,
    "midpoint": _midpoint,
    "from_end": _from_end,
    "meeting": _meeting,
    "beyond": _beyond,
    "layer_at": _layer_at,
    "seen_corner": _seen("corner"),
    "seen_edge": _seen("edge"),
    "seen_centre": _seen("centre"),
    "seen_end": _seen_end,
    "seen_midline": _seen("centre line"),
    "edge_of": _edge_of,
    "line_through": _line_through,
    "line_square": _line_square,
    "line_parallel": _line_parallel,
    "line_angle": _line_angle,
    "line_bisecting": _line_bisecting,
    "line_apart": _line_apart,
    "amount": _amount,
    "steps": _steps,
}
