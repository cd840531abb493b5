"""What stands beside the figures: the key of the signs used, and the notes.

In: (name, small picture) of each sign, and paragraphs. Out: unbreakable parts, each list under its
heading, which holds together with the first of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..drawing.scene.scene import Scene
from ..drawing.signs.key import KeyEntry
from .document import Block, Placed
from .filling import Part
from .grid import Grid
from .text import Measure, paragraph, text_block
from .trimming import row_trimmed


def key_rows(
    entries: Sequence[KeyEntry],
    heading: str,
    columns: int,
    grid: Grid,
    measure: Measure,
    close: bool = False,
    overleaf: str = "",
) -> tuple[Part, ...]:
    """The key in `columns` of the page's columns, its entries `close` together where need be.

    Where it runs on to the next page, the heading there is `overleaf`.

    Entries run down the columns, so that a reader looks one column through after the other.
    """
    if not entries:
        return ()
    entries = [(name, row_trimmed([scene])[0]) for name, scene in entries]
    picture = max(scene.width for _, scene in entries)
    gap = 0.5 * grid.caption
    cells = [
        _entry(name, scene, picture, gap, grid.column, grid, measure) for name, scene in entries
    ]
    deep = -(-len(cells) // columns)
    rows: list[Block] = []
    width = grid.span(columns)
    for index in range(deep):
        row = cells[index::deep]
        height = max(cell.height for cell in row)
        items = tuple(
            item
            for place, cell in enumerate(row)
            for item in cell.at(place * (grid.column + grid.gutter), (height - cell.height) / 2)
        )
        rows.append(Block(width, height, items))
    parts = _under(heading, rows, width, grid, measure, 0.1 if close else 0.4)
    if not overleaf:
        return parts
    again = text_block(overleaf, width, grid.heading, measure, "text.heading", bold=True)
    more = (
        replace(part, overleaf=stacked([again, part.block], 0.4 * grid.caption))
        for part in parts[1:]
    )
    return (*parts[:1], *more)


def notes(
    texts: Sequence[str], heading: str, grid: Grid, measure: Measure, close: bool = False
) -> tuple[Part, ...]:
    """The notes across the page; a long one may run on to the next page.

    Set `close`, their letters are as large as the key's.
    """
    size = grid.key if close else grid.caption
    body = [part for text in texts for part in paragraph(text, grid.width, size, measure)]
    return _under(heading, body, grid.width, grid, measure)


def _under(
    heading: str,
    blocks: Sequence[Block],
    width: float,
    grid: Grid,
    measure: Measure,
    apart: float = 0.4,
) -> tuple[Part, ...]:
    """Blocks under a heading, so many ems apart, the last with a row's space below it."""
    if not blocks:
        return ()
    near = apart * grid.caption
    title = text_block(heading, width, grid.heading, measure, "text.heading", bold=True)
    parts = [stacked([title, blocks[0]], 0.4 * grid.caption), *blocks[1:]]
    return (*(Part(part, near) for part in parts[:-1]), Part(parts[-1], grid.row_gap))


def _entry(
    name: str,
    scene: Scene,
    picture: float,
    gap: float,
    width: float,
    grid: Grid,
    measure: Measure,
) -> Block:
    text = text_block(name, width - picture - gap, grid.key, measure, "text.key")
    height = max(text.height, scene.height)
    return Block(
        width,
        height,
        (
            Placed(((picture - scene.width) / 2, (height - scene.height) / 2), scene),
            *text.at(picture + gap, (height - text.height) / 2),
        ),
    )


def stacked(blocks: Sequence[Block], gap: float) -> Block:
    """Blocks one below the other as one block."""
    items: list[Placed] = []
    y = 0.0
    for block in blocks:
        items.extend(block.at(0.0, y))
        y += block.height + gap
    return Block(max((b.width for b in blocks), default=0.0), max(0.0, y - gap), tuple(items))
