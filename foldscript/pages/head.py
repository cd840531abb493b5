"""The head of a handout: what the folder needs to know before the first fold.

In: a folded model. Out: one block with title, credit, the facts and a picture of the result.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from ..drawing.scene.scene import Scene, Text
from ..folding.steps import Model
from ..languages.wording import Translate
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from .document import Block, Placed, rule
from .finished import finished_fact
from .grid import Grid
from .text import ASCENT, DESCENT, LEADING, SLACK, Measure, text_block

#: What stands between two lengths where a multiplication sign should.
_BY = re.compile(r"(?<=\d) x (?=\d)")


def facts(model: Model, translate: Translate) -> tuple[tuple[str, str], ...]:
    """(label, value) pairs of the head; those the script does not give are left out."""
    side = (
        translate("coloured side up")
        if model.sheet.front_coloured
        else translate("coloured side down")
    )
    shape = _BY.sub(" \u00d7 ", model.sheet.shape)
    sheet = ", ".join(part for part in (shape, side) if part)
    pairs = (
        (translate("Sheet"), sheet),
        finished_fact(model, translate),
        (translate("Steps"), str(len(model.steps))),
        (translate("Level"), translate(model.level) if model.level else ""),
        (translate("Licence"), model.licence),
    )
    return tuple((label, value) for label, value in pairs if value.strip())


#: Lines of notes that the head takes in; longer ones stand below it, and may run over pages.
NOTE_LINES = 5


def notes_fit(texts: Sequence[str], picture: Scene | None, grid: Grid, measure: Measure) -> bool:
    """Whether notes are short enough for the head, where they are read before the first fold."""
    blocks = [
        text_block(text, 0.75 * _text_width(picture, grid), grid.caption, measure, "text.fact")
        for text in texts
    ]
    return sum(len(block.items) for block in blocks) <= NOTE_LINES


def _text_width(picture: Scene | None, grid: Grid) -> float:
    """Width left of the picture."""
    return grid.width - (picture.width + grid.gutter if picture is not None else 0.0)


def head(
    model: Model,
    picture: Scene | None,
    grid: Grid,
    measure: Measure,
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
        _written(model, picture, grid, measure, pairs, beside, close) for beside in (True, False)
    )
    items, y = min(ways, key=lambda way: way[1])
    if picture is not None:
        items.append(Placed((grid.width - picture.width, 0.0), picture))
    y += 0.75 * grid.caption
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
    measure: Measure,
    pairs: Sequence[tuple[str, str]],
    beside: bool,
    close: bool,
) -> tuple[list[Placed], float]:
    """Title, credit and facts, and the height they take with the picture.

    The facts stand `beside` the picture, where narrow columns break them, or below it.
    """
    text_width = _text_width(picture, grid)
    items: list[Placed] = []
    y = 0.0

    def put(block: Block, x: float, below: float) -> None:
        nonlocal y
        items.extend(block.at(x, y))
        y += block.height + (below if block.items else 0.0)

    put(
        text_block(model.title, text_width, grid.title, measure, "text.title", bold=True),
        0.0,
        0.25 * grid.caption,
    )
    put(
        text_block(model.credit, text_width, grid.heading, measure, "text.credit"),
        0.0,
        0.7 * grid.caption,
    )
    high = picture.height if picture is not None else 0.0
    if not beside:
        y = max(y, high + 0.5 * grid.caption)
    size = grid.key if close else grid.caption
    label_width = max(measure(label, size, True) for label, _ in pairs) + size
    for line in _lines(pairs, text_width - label_width, size, measure, close):
        x = tall = 0.0
        for label, value in line:
            wide = label_width if x <= 0.0 else measure(label, size, True) + 0.5 * size
            room = (text_width if y < high else grid.width) - x - wide
            text = text_block(value, room, size, measure, "text.fact")
            if label:
                name = Text("text.soft", (0.0, 0.0), label, size, bold=True)
                items.append(Placed((x, y + size * ASCENT), name))
            items.extend(text.at(x + wide, y))
            x += wide + measure(value, size, False) * SLACK + size
            tall = max(tall, text.height)
        y += tall + (LEADING - ASCENT - DESCENT) * size
    return items, max(y, high)


def _lines(
    pairs: Sequence[tuple[str, str]], room: float, size: float, measure: Measure, close: bool
) -> list[list[tuple[str, str]]]:
    """The facts of every line: one each, or two short ones where they are set `close`."""
    lines: list[list[tuple[str, str]]] = []
    used = math.inf
    for label, value in pairs:
        wide = measure(value, size, False) * SLACK
        more = size + measure(label, size, True) + 0.5 * size + wide
        if close and label and used + more <= room and len(lines[-1]) == 1:
            lines[-1].append((label, value))
            used = math.inf
        else:
            lines.append([(label, value)])
            used = wide
    return lines
