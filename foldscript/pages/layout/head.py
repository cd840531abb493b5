"""The head of a handout: what the folder needs to know before the first fold.

In: a folded model. Out: one block with title, credit, the facts and a picture of the result.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence

from ...drawing.scene.scene import Scene, Text
from ...folding.ending import ending, finished_size_mm, size_fact
from ...folding.steps import Model
from ...languages.wording import Translate
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from .. import measures
from ..document import Block, Placed, rule
from ..grid import Grid
from ..parts import list_item, new_list
from ..typesetting import Typesetter, text_block

#: What stands between two lengths where a multiplication sign should.
_BY = re.compile(r"(?<=\d) x (?=\d)")


def facts(model: Model, translate: Translate) -> tuple[tuple[str, str], ...]:
    """(label, value) pairs of the head; those the script does not give are left out."""
    pairs = (
        *_sheets(model, translate),
        *((_size(model, translate),) if model.refused is None else ()),
        (translate("Steps"), str(len(model.steps))),
        (translate("Level"), translate(model.level) if model.level else ""),
        (translate("Licence"), model.licence),
    )
    return tuple((label, value) for label, value in pairs if value.strip())


def _sheets(model: Model, translate: Translate) -> Iterator[tuple[str, str]]:
    """The sheet, or how many there are of each."""
    if model.sheets == 1:
        sheet = model.sheet
        yield translate("Sheet"), _sheet(sheet.shape, sheet.front_coloured, translate)
        return
    counts: dict[str, int] = {}
    for part in model.folded_parts:
        sheet = part.sheet
        words = _sheet(sheet.shape, sheet.front_coloured, translate)
        counts[words] = counts.get(words, 0) + len(part.colours)
    for number, (words, count) in enumerate(counts.items()):
        told = translate("{n} × {sheet}").format(n=count, sheet=words)
        yield translate("Sheets") if number == 0 else "", told


def _sheet(shape: str, coloured_up: bool, translate: Translate) -> str:
    side = translate("coloured side up") if coloured_up else translate("coloured side down")
    shape = _BY.sub(" \u00d7 ", shape)
    return ", ".join(part for part in (shape, side) if part)


def _size(model: Model, translate: Translate) -> tuple[str, str]:
    sides = [rounded_mm(side) for side in finished_size_mm(model)]
    return size_fact(ending(model), sides, translate)


def rounded_mm(length: float) -> str:
    """A length as a folder reads it off a ruler: whole mm, half cm from 30 cm up."""
    step = 1 if length < measures.HEAD.fine_to_mm else measures.HEAD.coarse_mm
    return f"{step * round(length / step)}"


def notes_fit(
    texts: Sequence[str], picture: Scene | None, grid: Grid, typesetter: Typesetter
) -> bool:
    """Whether notes are short enough for the head, where they are read before the first fold."""
    room = measures.HEAD.notes_width * _room_beside(picture, grid)
    blocks = [text_block(text, room, grid.caption, typesetter, "text.fact") for text in texts]
    return sum(len(block.items) for block in blocks) <= measures.HEAD.notes


def _room_beside(picture: Scene | None, grid: Grid) -> float:
    """Width left of the picture."""
    return grid.width - (picture.width + grid.gutter if picture is not None else 0.0)


def head(
    model: Model,
    picture: Scene | None,
    grid: Grid,
    typesetter: Typesetter,
    translate: Translate,
    notes: Sequence[str] = (),
    close: bool = False,
) -> Block:
    """The head across the whole page width; `picture` stands at its right, `notes` below the facts.

    A `close` one is as low as can be: facts in the size of the key, two short ones on a line.
    Raises FoldscriptError ('head-too-long') where it does not fit on one page.
    """
    said = tuple((translate("Notes") if k == 0 else "", note) for k, note in enumerate(notes))
    pairs = (*facts(model, translate), *said)
    ways = (
        _written(model, picture, grid, typesetter, pairs, beside, close) for beside in (True, False)
    )
    items, y = min(ways, key=lambda way: way[1])
    if picture is not None:
        items.append(Placed((grid.width - picture.width, 0.0), picture))
    y += measures.HEAD.above_rule * grid.caption
    if y > grid.height:
        raise FoldscriptError(
            Diagnostic(
                "head-too-long",
                "title, credit and licence do not fit on a page",
                hints=(Hint("shorten them, or say more in a note"),),
            )
        )
    items.append(Placed((0.0, y), rule(grid.width)))
    return Block(grid.width, y, tuple(items))


def _written(
    model: Model,
    picture: Scene | None,
    grid: Grid,
    typesetter: Typesetter,
    pairs: Sequence[tuple[str, str]],
    beside: bool,
    close: bool,
) -> tuple[list[Placed], float]:
    """Title, credit and facts, and the height they take with the picture.

    The facts stand `beside` the picture, where narrow columns break them, or below it.
    """
    beside_picture = _room_beside(picture, grid)
    m = measures.HEAD
    items: list[Placed] = []
    y = 0.0

    def put(block: Block, x: float, below: float) -> None:
        nonlocal y
        items.extend(block.at(x, y))
        y += block.height + (below if block.items else 0.0)

    put(
        text_block(model.title, beside_picture, grid.title, typesetter, "text.title", bold=True),
        0.0,
        m.below_title * grid.caption,
    )
    put(
        text_block(model.credit, beside_picture, grid.heading, typesetter, "text.credit"),
        0.0,
        m.below_credit * grid.caption,
    )
    high = picture.height if picture is not None else 0.0
    if not beside:
        y = max(y, high + m.below_picture * grid.caption)
    size = grid.key if close else grid.caption
    said = new_list()
    label_width = max(typesetter.width(label, size, True) for label, _ in pairs) + size
    for line in _lines(pairs, beside_picture - label_width, size, typesetter, close):
        x = tall = 0.0
        for label, value in line:
            wide = (
                label_width
                if x <= 0.0
                else typesetter.width(label, size, True) + m.between_facts * size
            )
            room = (beside_picture if y < high else grid.width) - x - wide
            text = text_block(value, room, size, typesetter, "text.fact")
            of_label, body = list_item(said)
            if label:
                name = Text("text.soft", (0.0, 0.0), label, size, bold=True)
                items.append(Placed((x, y + size * measures.TYPE.ascent), name, part=of_label))
            items.extend(text.as_part(body).at(x + wide, y))
            x += wide + typesetter.width(value, size, False) * measures.TYPE.slack + size
            tall = max(tall, text.height)
        y += tall + typesetter.between * size
    return items, max(y, high)


def _lines(
    pairs: Sequence[tuple[str, str]], room: float, size: float, typesetter: Typesetter, close: bool
) -> list[list[tuple[str, str]]]:
    """The facts of every line: one each, or two short ones where they are set `close`."""
    lines: list[list[tuple[str, str]]] = []
    used = math.inf
    for label, value in pairs:
        wide = typesetter.width(value, size, False) * measures.TYPE.slack
        more = (
            size + typesetter.width(label, size, True) + measures.HEAD.between_facts * size + wide
        )
        if close and label and used + more <= room and len(lines[-1]) == 1:
            lines[-1].append((label, value))
            used = math.inf
        else:
            lines.append([(label, value)])
            used = wide
    return lines
