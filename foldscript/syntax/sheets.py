"""The sheet line: its tree in, a `SheetSpec` in millimetres out.

sheet square 15 cm, coloured side down, corner A at the bottom
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from ..source.diagnostics import Hint, Refusal, Source, Span, write
from . import papers
from .grammar import Grammar
from .mistakes import did_you_mean, quoted, reserved, suggestions
from .nodes import SheetSpec
from .operands import MM_PER, read_name, read_number, tokens_of, tree_span, trees_of
from .script_lines import raw

if TYPE_CHECKING:
    from lark import Token, Tree

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
#: The usual sheet for teaching (common practice).
USUAL_MM = 150.0


@dataclass
class _Sheet:
    """What the line has said so far."""

    outline: papers.Outline
    shape: str
    span: Span
    options: dict[str, Tree[Token]] = field(default_factory=dict)
    is_rectangle: bool = True


def usual_sheet(span: Span) -> SheetSpec:
    """A square of 15 cm, coloured side down."""
    outline = papers.rectangle(USUAL_MM, USUAL_MM)
    return SheetSpec(outline, tuple("ABCD"), "square 15 cm", False, (), span)


def read_sheet(tree: Tree[Token], grammar: Grammar, source: Source) -> SheetSpec:
    """The sheet of a `sheet_line`; raises Refusal for what is no sheet."""
    parts = trees_of(tree)
    options: dict[str, Tree[Token]] = {}
    shape: Tree[Token] | None = None
    for part in parts:
        kind = str(part.data)
        if kind in _SHAPES:
            shape = part
        elif kind in options:
            raise Refusal(
                "said-twice",
                f"{quoted(raw(source, tree_span(part)))} is said a second time",
                "keep one of the two",
                span=tree_span(part),
            )
        else:
            options[kind] = part
    made = _Sheet(
        papers.rectangle(USUAL_MM, USUAL_MM), "square 15 cm", tree_span(tree), dict(options)
    )
    if shape is not None:
        made.span = tree_span(shape)
        _SHAPES[str(shape.data)](made, shape)
    _turn(made)
    for kind in ("long_side", "short_side", "side", "width"):
        if kind in made.options:
            raise Refusal(
                "useless-size",
                f"{quoted(raw(source, tree_span(made.options[kind])))} means nothing for this sheet",
                "sides and widths belong to a ratio or a regular polygon; "
                "a rectangle says both its lengths: rectangle 20 cm by 10 cm",
                span=tree_span(made.options[kind]),
            )
    names = _corner_names(made, grammar)
    if papers.outline_area(made.outline) < 0:  # the corners were given clockwise
        made.outline = (made.outline[0], *reversed(made.outline[1:]))
        names = (names[0], *reversed(names[1:]))
    papers.check_outline(made.outline, names, made.span)
    return SheetSpec(
        made.outline, names, made.shape, _coloured_up(made), _lowest(made, names), tree_span(tree)
    )


# --- lengths -------------------------------------------------------------------------------


def _unit_of(length: Tree[Token]) -> str:
    tokens = tokens_of(length)
    return tokens[0].type if tokens else ""


def _with_units(length: Tree[Token]) -> Iterator[Hint]:
    """A length with the two units that make it nearest to a usual sheet."""
    span, number = tree_span(length), read_number(trees_of(length)[0])
    mm = {"cm": number * 10, "mm": number, "inches": number * 25.4}
    likely = sorted(mm, key=lambda unit: abs(math.log(mm[unit] / USUAL_MM)) if number > 0 else 0)
    for k, unit in enumerate(likely[:2]):
        yield write(Span(span.end, span.end), f" {unit}", f"{'or ' if k else ''}add '{unit}'")


def _lengths(*lengths: Tree[Token]) -> tuple[list[float], str]:
    """Lengths in mm and how to write them; a length without a unit takes that of the last one."""
    unit = _unit_of(lengths[-1])
    values: list[float] = []
    words: list[str] = []
    for length in lengths:
        own = _unit_of(length) or unit
        if not own:
            raise Refusal(
                "unit-missing",
                "this length has no unit",
                *_with_units(length),
                span=tree_span(length),
            )
        number = read_number(trees_of(length)[0])
        if not number > 0:
            raise Refusal(
                "sheet-empty",
                "a sheet needs a size greater than nothing",
                "for instance: 15 cm",
                span=tree_span(length),
            )
        values.append(number * MM_PER[own])
        words.append(f"{number:.6g}" if own == unit else _written(number, own))
    words[-1] = _written(read_number(trees_of(lengths[-1])[0]), unit)
    return values, " x ".join(words)


def _written(number: float, unit: str) -> str:
    return f"{number:.6g} {'inches' if unit == 'INCH' else unit.lower()}"


def _plain_mm(value: float) -> str:
    return f"{value:.5g}"


# --- shapes --------------------------------------------------------------------------------


def _square(made: _Sheet, tree: Tree[Token]) -> None:
    lengths = trees_of(tree)
    if lengths:
        (side,), words = _lengths(lengths[0])
        made.outline, made.shape = papers.rectangle(side, side), f"square {words}"


def _rectangle(made: _Sheet, tree: Tree[Token]) -> None:
    (width, height), words = _lengths(*trees_of(tree))
    made.outline, made.shape = papers.rectangle(width, height), f"{tree.data} {words}"


def _ratio(made: _Sheet, tree: Tree[Token]) -> None:
    across, up = (read_number(number) for number in trees_of(tree))
    if not (across > 0 and up > 0):
        raise Refusal(
            "sheet-empty",
            "a ratio needs two numbers greater than nothing",
            "for instance: ratio 2 to 3",
            span=tree_span(tree),
        )
    unit, words = USUAL_MM / max(across, up), "long side 15 cm"
    for kind, side in (("long_side", max(across, up)), ("short_side", min(across, up))):
        option = made.options.pop(kind, None)
        if option is not None:
            (length,), written = _lengths(trees_of(option)[0])
            unit, words = length / side, f"{kind.replace('_', ' ')} {written}"
    made.outline = papers.rectangle(across * unit, up * unit)
    made.shape = f"ratio {across:.6g} to {up:.6g}, {words}"


def _regular(made: _Sheet, tree: Tree[Token]) -> None:
    made.is_rectangle = False
    token = tokens_of(tree)[0]
    if token.type == "NGON":
        figures = token[:-4]
        corners = int(figures) if len(figures) < 4 else 0
        name = str(token)
    else:
        name = str(token)
        if name not in papers.REGULAR:
            raise Refusal(
                "unknown-shape",
                f"no regular polygon is called {quoted(name)}",
                *(did_you_mean(suggestions(name, papers.REGULAR)) or ("say 'regular 7-gon'",)),
                span=made.span,
            )
        corners = papers.REGULAR[name]
    if not 3 <= corners <= papers.MOST_CORNERS:
        raise Refusal(
            "bad-corner-count",
            f"a regular sheet has from 3 to {papers.MOST_CORNERS} corners",
            span=made.span,
        )
    side, width = made.options.pop("side", None), made.options.pop("width", None)
    if (side is None) == (width is None):
        raise Refusal(
            "size-missing" if side is None else "said-twice",
            f"how large is this {name}?" if side is None else "side and width say the same twice",
            f"give its side or its width: regular {name}, side 8 cm",
            span=made.span,
        )
    if side is not None:
        (length,), words = _lengths(trees_of(side)[0])
        made.shape = f"regular {name}, side {words}"
    else:
        assert width is not None
        (across,), words = _lengths(trees_of(width)[0])
        length = across / papers.regular_width(corners)
        made.shape = f"regular {name}, width {words}"
    made.outline = papers.regular_polygon(corners, length)


def _polygon(made: _Sheet, tree: Tree[Token]) -> None:
    made.is_rectangle = False
    children = trees_of(tree)
    units = [c for c in children if c.data == "unit"]
    numbers = [read_number(c) for c in children if c.data == "number"]
    if not units:
        raise Refusal(
            "unit-missing",
            "these corners have no unit",
            "mm, cm or inches after the last number",
            span=made.span,
        )
    if len(numbers) % 2 or not 6 <= len(numbers) <= 2 * papers.MOST_CORNERS:
        raise Refusal(
            "bad-corner-count",
            f"{len(numbers)} numbers do not make corners: each has one across and one up, and a "
            f"sheet has from 3 to {papers.MOST_CORNERS}",
            "for instance: polygon 0 0, 20 0, 24 12, 4 14 cm",
            span=made.span,
        )
    factor = MM_PER[_unit_of(units[0])]
    pairs = zip(numbers[::2], numbers[1::2], strict=True)
    made.outline = tuple((x * factor, y * factor) for x, y in pairs)
    made.shape = f"sheet with {len(made.outline)} corners"


def _paper(made: _Sheet, tree: Tree[Token]) -> None:
    tokens = tokens_of(tree)
    name = " ".join(tokens)
    size = papers.paper_size(name)
    if size is None:
        known = [
            *papers.US_NAMES,
            "A4",
            "A5",
            "B5",
            "square",
            "rectangle",
            "strip",
            "ratio",
            "regular",
            "polygon",
            "coloured",
            "white",
            "corner",
            "corners",
        ]
        guess = suggestions(name, known) or suggestions(str(tokens[0]), known)
        raise Refusal(
            "unknown-shape",
            f"no sheet is called {quoted(name)}",
            *(did_you_mean(guess) or ("square 15 cm, rectangle 20 cm by 10 cm, A4, letter",)),
            span=made.span,
        )
    made.outline = papers.rectangle(*size)
    name = name.upper() if len(name) <= 3 else name.lower()
    made.shape = f"{name} ({_plain_mm(size[0])} x {_plain_mm(size[1])} mm)"


_SHAPES = {
    "square": _square,
    "rectangle": _rectangle,
    "strip": _rectangle,
    "ratio": _ratio,
    "regular": _regular,
    "polygon": _polygon,
    "paper": _paper,
}

# --- how it lies, and what its corners are called ------------------------------------------


def _turn(made: _Sheet) -> None:
    option = made.options.pop("turned", None)
    if option is None:
        return
    word = str(tokens_of(option)[0])
    width, height = made.outline[2]
    if not made.is_rectangle:
        raise Refusal(
            "not-a-rectangle",
            f"only a rectangle lies {word}",
            "leave it out",
            span=tree_span(option),
        )
    if (word == "landscape") != (width > height) and not math.isclose(width, height):
        made.outline = papers.rectangle(height, width)
        if made.shape.endswith(" mm)"):
            name = made.shape.partition(" (")[0]
            made.shape = f"{name} {word} ({_plain_mm(height)} x {_plain_mm(width)} mm)"
        else:
            made.shape = f"{made.shape}, {word}"


def _corner_names(made: _Sheet, grammar: Grammar) -> tuple[str, ...]:
    count = len(made.outline)
    option = made.options.get("renamed")
    if option is None:
        return tuple(_LETTERS[:count])
    tokens = tokens_of(option, "NAME")
    if len(tokens) != count:
        raise Refusal(
            "bad-corner-names",
            f"this sheet has {count} corners, but {len(tokens)} names are given",
            f"for instance: corners named {' '.join('PQRSTUVWXYZABCDEFGHIJKLMNO'[:count])}",
            span=tree_span(option),
        )
    names: list[str] = []
    for token in tokens:
        if grammar.reserves(str(token)):
            raise reserved(token)
        name = read_name(token).text
        if name in names:
            raise Refusal(
                "bad-corner-names",
                f"two corners are named {quoted(name)}",
                "give each corner a name of its own",
                span=tree_span(option),
            )
        names.append(name)
    return tuple(names)


def _coloured_up(made: _Sheet) -> bool:
    option = made.options.get("colouring")
    if option is None:
        return False
    face, way = tokens_of(option, "FACE", "UPDOWN")
    return (face in ("coloured", "colored")) == (way == "up")


def _lowest(made: _Sheet, names: tuple[str, ...]) -> tuple[str, ...]:
    option = made.options.get("lowest")
    if option is None:
        return ()
    height = tokens_of(option, "HEIGHT")[0]
    if height not in ("bottom", "lower"):
        raise Refusal(
            "say-the-bottom",
            "say what lies at the bottom",
            "for instance: corner A at the bottom, or edge A B at the bottom",
            span=tree_span(option),
        )
    chosen: list[str] = []
    for token in tokens_of(option, "NAME"):
        name = read_name(token)
        if name.text not in names:
            raise Refusal(
                "unknown-corner",
                f"this sheet has no corner {quoted(name.text)}",
                f"its corners are {', '.join(names)}",
                span=name.span,
            )
        chosen.append(name.text)
    if len(chosen) == 2:
        apart = (names.index(chosen[1]) - names.index(chosen[0])) % len(names)
        if apart not in (1, len(names) - 1):
            raise Refusal(
                "no-such-edge",
                f"no edge runs from {chosen[0]} to {chosen[1]}",
                "name two corners that lie next to each other",
                span=tree_span(option),
            )
    return tuple(chosen)
