"""What stands beside the figures: the key of the signs used, and the notes.

In: (name, small picture) of each sign, and paragraphs. Out: unbreakable parts, each list under its
heading, which holds together with the first of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ...drawing.scene.scene import Scene
from ...drawing.signs.key import KeyEntry
from .. import measures
from ..document import Block, Placed, side_by_side, stacked
from ..grid import Grid
from ..trimming import row_trimmed
from ..typesetting import Typesetter, paragraph, text_block
from .makeup import SpacedBlock


def key_rows(
    entries: Sequence[KeyEntry],
    heading: str,
    columns: int,
    grid: Grid,
    typesetter: Typesetter,
    close: bool = False,
    overleaf: str = "",
) -> tuple[SpacedBlock, ...]:
    """The key in `columns` of the page's columns, its entries `close` together where need be.

    Where it runs on to the next page, the heading there is `overleaf`.

    Entries run down the columns, so that a reader looks one column through after the other.
    """
    if not entries:
        return ()
    entries = [(name, row_trimmed([scene])[0]) for name, scene in entries]
    picture = max(scene.width for _, scene in entries)
    m = measures.KEY
    gap = m.beside_sample * grid.caption
    cells = [
        _entry(name, scene, picture, gap, grid.column, grid, typesetter) for name, scene in entries
    ]
    deep = -(-len(cells) // columns)
    rows: list[Block] = []
    width = grid.span(columns)
    for index in range(deep):
        rows.append(side_by_side(cells[index::deep], grid.column + grid.gutter, width))
    parts = _under(heading, rows, width, grid, typesetter, m.between_close if close else m.between)
    if not overleaf:
        return parts
    again = text_block(overleaf, width, grid.heading, typesetter, "text.heading", bold=True)
    more = (
        replace(part, overleaf=stacked([again, part.block], m.below_heading * grid.caption))
        for part in parts[1:]
    )
    return (*parts[:1], *more)


def notes(
    texts: Sequence[str], heading: str, grid: Grid, typesetter: Typesetter, close: bool = False
) -> tuple[SpacedBlock, ...]:
    """The notes across the page; a long one may run on to the next page.

    Set `close`, their letters are as large as the key's.
    """
    size = grid.key if close else grid.caption
    body = [part for text in texts for part in paragraph(text, grid.width, size, typesetter)]
    return _under(heading, body, grid.width, grid, typesetter, measures.KEY.between)


def _under(
    heading: str,
    blocks: Sequence[Block],
    width: float,
    grid: Grid,
    typesetter: Typesetter,
    apart: float,
) -> tuple[SpacedBlock, ...]:
    """Blocks under a heading, so many ems apart, the last with a row's space below it."""
    if not blocks:
        return ()
    near = apart * grid.caption
    title = text_block(heading, width, grid.heading, typesetter, "text.heading", bold=True)
    parts = [stacked([title, blocks[0]], measures.KEY.below_heading * grid.caption), *blocks[1:]]
    return (*(SpacedBlock(part, near) for part in parts[:-1]), SpacedBlock(parts[-1], grid.row_gap))


def _entry(
    name: str,
    scene: Scene,
    picture: float,
    gap: float,
    width: float,
    grid: Grid,
    typesetter: Typesetter,
) -> Block:
    text = text_block(name, width - picture - gap, grid.key, typesetter, "text.key")
    height = max(text.height, scene.height)
    return Block(
        width,
        height,
        (
            Placed(((picture - scene.width) / 2, (height - scene.height) / 2), scene),
            *text.at(picture + gap, (height - text.height) / 2),
        ),
    )
