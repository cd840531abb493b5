"""The key: what each sign means, only for the signs that the figures use.

In: (name, small picture) of each sign. Out: unbreakable blocks, a heading and then rows of entries.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..drawing.scene import Scene
from .document import Block, Placed
from .grid import Grid
from .text import Measure, text_block

Entry = tuple[str, Scene]


def key_rows(
    entries: Sequence[Entry], heading: str, columns: int, grid: Grid, measure: Measure
) -> tuple[Block, ...]:
    """The key in `columns` of the page's columns; the heading holds together with the first row.

    Entries run down the columns, so that a reader looks one column through after the other.
    """
    if not entries:
        return ()
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
    title = text_block(heading, width, grid.heading, measure, "text.heading", bold=True)
    below = title.height + gap
    first = Block(width, below + rows[0].height, (*title.items, *rows[0].at(0.0, below)))
    return (first, *rows[1:])


def _entry(
    name: str,
    scene: Scene,
    picture: float,
    gap: float,
    width: float,
    grid: Grid,
    measure: Measure,
) -> Block:
    text = text_block(name, width - picture - gap, grid.caption, measure, "text.key")
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
