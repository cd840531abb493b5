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
from ..parts import DECORATION, Part, list_item, new_list
from ..trimming import trimmed_above_and_below
from ..typesetting import Typesetter, paragraph, text_block
from .makeup import SpacedBlock


def key_parts(
    entries: Sequence[KeyEntry],
    heading: str,
    width: float,
    grid: Grid,
    typesetter: Typesetter,
    overleaf: str = "",
) -> tuple[SpacedBlock, ...]:
    """The key in as many columns as make it lowest, in one part; in rows where it is high for a page.

    Entries run down the columns, so that a reader looks one column through after the other. Where the key
    runs on to the next page, the heading there is `overleaf`.
    """
    if not entries:
        return ()
    m = measures.KEY
    most = max(1, int((width + m.gutter * grid.key) // ((m.narrowest + m.gutter) * grid.key)))
    ways = [
        _columns(entries, count, width, grid, typesetter)
        for count in range(max(1, min(most, m.columns) - 1), min(most, m.columns) + 1)
    ]
    columns = min(ways, key=lambda way: max(column.height for column in way))
    title = text_block(heading, width, grid.caption, typesetter, "text.heading", bold=True)
    deep = max(column.height for column in columns)
    if title.height + deep <= m.highest * grid.height:
        step = (width + m.gutter * grid.key) / len(columns)
        items = [item for k, column in enumerate(columns) for item in column.at(k * step, 0.0)]
        whole = stacked([title, Block(width, deep, tuple(items))], m.below_heading * grid.key)
        return (SpacedBlock(whole, grid.row_gap),)
    rows = _rows(entries, len(columns), width, grid, typesetter)
    parts = _under(heading, rows, width, grid, typesetter, m.between * grid.key, grid.caption)
    again = text_block(overleaf, width, grid.caption, typesetter, "text.heading", bold=True)
    again = again.as_part(DECORATION)
    more = (
        replace(part, overleaf=stacked([again, part.block], m.below_heading * grid.key))
        for part in parts[1:]
    )
    return (*parts[:1], *more)


def _cells(
    entries: Sequence[KeyEntry],
    columns: int,
    width: float,
    grid: Grid,
    typesetter: Typesetter,
    signs: Part,
) -> list[Block]:
    """Entries as wide as one of so many columns, names as far in as the widest sample is wide."""
    m = measures.KEY
    pictures = [(name, trimmed_above_and_below(scene)) for name, scene in entries]
    picture = max(scene.width for _, scene in pictures) * _reduced(grid)
    column = (width - (columns - 1) * m.gutter * grid.key) / columns
    return [
        _entry(name, scene, picture, column, grid, typesetter, list_item(signs)[1])
        for name, scene in pictures
    ]


def _reduced(grid: Grid) -> float:
    """How large a sample is drawn, for one that suits letters of the usual size."""
    return min(grid.key / measures.KEY.drawn_for, measures.KEY.sample_most)


def _columns(
    entries: Sequence[KeyEntry], count: int, width: float, grid: Grid, typesetter: Typesetter
) -> list[Block]:
    """So many columns, none higher than need be, of entries one close below the other.

    Names begin where the samples of their own column end, for then more of them fit one line.
    """
    gap = measures.KEY.between * grid.key
    signs = new_list()
    cells = _cells(entries, count, width, grid, typesetter, signs)
    heights = [cell.height + gap for cell in cells]

    def shared(limit: float) -> list[list[KeyEntry]]:
        out: list[list[KeyEntry]] = [[]]
        used = 0.0
        for entry, height in zip(entries, heights, strict=True):
            if out[-1] and used + height > limit + measures.ROUNDING:
                out.append([])
                used = 0.0
            out[-1].append(entry)
            used += height
        return out

    limits = sorted(
        sum(heights[i:j]) for i in range(len(heights)) for j in range(i + 1, len(heights) + 1)
    )
    made = next(way for way in map(shared, limits) if len(way) <= count)
    columns = [
        stacked(_cells(column, count, width, grid, typesetter, signs), gap) for column in made
    ]
    return columns + [Block(0.0, 0.0, ())] * (count - len(made))


def _rows(
    entries: Sequence[KeyEntry], columns: int, width: float, grid: Grid, typesetter: Typesetter
) -> list[Block]:
    """Rows that can be parted."""
    cells = _cells(entries, columns, width, grid, typesetter, new_list())
    deep = -(-len(cells) // columns)
    step = (width + measures.KEY.gutter * grid.key) / columns
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


def _entry(
    name: str,
    scene: Scene,
    picture: float,
    width: float,
    grid: Grid,
    typesetter: Typesetter,
    body: Part,
) -> Block:
    """A sample and its name, at mid height beside each other; told as the body of an item of a list."""
    scale, left = _reduced(grid), picture + measures.KEY.beside_sample * grid.key
    text = text_block(name, width - left, grid.key, typesetter, "text.key").as_part(body)
    height = max(text.height, scale * scene.height)
    across, down = (picture - scale * scene.width) / 2, (height - scale * scene.height) / 2
    return Block(
        width,
        height,
        (
            Placed((across, down), scene, scale, DECORATION),
            *text.at(left, (height - text.height) / 2),
        ),
    )
