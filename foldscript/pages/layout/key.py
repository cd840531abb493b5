"""What stands beside the figures: the key of the signs used, and the notes.

In: (name, small picture) of each sign, and paragraphs. Out: unbreakable parts, each list under its
heading, which holds together with the first of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ...drawing.signs.key import KeyEntry
from .. import measures
from ..document import Block, side_by_side, stacked
from ..grid import Grid
from ..parts import DECORATION, new_list
from ..typesetting import Typesetter, paragraph, text_block
from .key_columns import Entry, lowest_columns
from .makeup import SpacedBlock


def key_parts(
    entries: Sequence[KeyEntry],
    heading: str,
    width: float,
    grid: Grid,
    typesetter: Typesetter,
    overleaf: str = "",
) -> tuple[SpacedBlock, ...]:
    """The key in the columns that make it lowest, in one part; in rows where it is high for a page.

    Entries run down the columns, so that a reader looks one column through after the other. Where the key
    runs on to the next page, the heading there is `overleaf`.
    """
    if not entries:
        return ()
    m = measures.KEY
    some = [Entry.of(*entry, grid, typesetter) for entry in entries]
    title = text_block(heading, width, grid.caption, typesetter, "text.heading", bold=True)
    columns = lowest_columns(some, width, grid, typesetter, above=1)
    long = measures.TYPE.slack_alone * typesetter.width(heading, grid.caption, True)
    if (
        len(columns) > 1 and long <= columns[0].width
    ):  # the heading as the first line of the first column
        level = (grid.key_pitch - grid.key) / 2 - measures.TYPE.ascent * (grid.caption - grid.key)
        whole = _whole(title.lowered(level), 0.0, columns, width, grid)
    else:
        columns = lowest_columns(some, width, grid, typesetter)
        whole = _whole(title, title.height + m.below_heading * grid.key, columns, width, grid)
    if whole.height <= m.highest * grid.height:
        return (SpacedBlock(whole, grid.row_gap),)
    rows = _rows(entries, len(columns), width, grid, typesetter)
    parts = _under(heading, rows, width, grid, typesetter, 0.0, grid.caption)
    again = text_block(overleaf, width, grid.caption, typesetter, "text.heading", bold=True)
    again = again.as_part(DECORATION)
    more_parts = (
        replace(part, overleaf=stacked([again, part.block], m.below_heading * grid.key))
        for part in parts[1:]
    )
    return (*parts[:1], *more_parts)


def _whole(title: Block, top: float, columns: Sequence[Block], width: float, grid: Grid) -> Block:
    """Columns from a height on, and their heading, a little farther apart where there is room."""
    m = measures.KEY
    gutter = m.gutter * grid.key
    used = sum(column.width + gutter for column in columns) - gutter
    step = gutter + min(m.apart * grid.key, (width - used) / len(columns))
    items, left = list(title.items), 0.0
    for column in columns:
        items += column.at(left, top)
        left += column.width + step
    deep = top + max(column.height for column in columns)
    return Block(width, deep, tuple(items))


def _rows(
    entries: Sequence[KeyEntry], columns: int, width: float, grid: Grid, typesetter: Typesetter
) -> list[Block]:
    """Rows that can be parted, in columns of one width."""
    gutter = measures.KEY.gutter * grid.key
    signs, step = new_list(), (width + gutter) / columns
    some = [Entry.of(*entry, grid, typesetter) for entry in entries]
    picture = max(one.wide for one in some)
    cells = [one.block(picture, step - gutter, grid, typesetter, signs) for one in some]
    deep = -(-len(cells) // columns)
    return [side_by_side(cells[index::deep], step, width) for index in range(deep)]


def notes(
    texts: Sequence[str], heading: str, grid: Grid, typesetter: Typesetter, close: bool = False
) -> tuple[SpacedBlock, ...]:
    """The notes across the page; a long one may run on to the next page.

    Set `close`, their letters are as large as the key's.
    """
    size = grid.key if close else grid.caption
    body = [part for text in texts for part in paragraph(text, grid.width, size, typesetter)]
    apart = measures.KEY.between_notes * grid.caption
    return _under(heading, body, grid.width, grid, typesetter, apart, grid.heading)


def _under(
    heading: str,
    blocks: Sequence[Block],
    width: float,
    grid: Grid,
    typesetter: Typesetter,
    near: float,
    size: float,
) -> tuple[SpacedBlock, ...]:
    """Blocks under a heading in a size, so far apart, the last with a row's space below it."""
    if not blocks:
        return ()
    title = text_block(heading, width, size, typesetter, "text.heading", bold=True)
    parts = [stacked([title, blocks[0]], measures.KEY.below_heading * grid.caption), *blocks[1:]]
    return (*(SpacedBlock(part, near) for part in parts[:-1]), SpacedBlock(parts[-1], grid.row_gap))
