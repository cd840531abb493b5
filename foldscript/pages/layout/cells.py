"""Cells: a numbered figure with its caption under it, never parted, and rows of them.

In: figures with label and caption. Out: rows of blocks whose heights follow from their content.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...drawing.scene.scene import Scene, Text
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from .. import measures
from ..document import Block, Placed, fitted
from ..grid import Grid
from ..trimming import row_trimmed, trimmed_to_ink
from ..typesetting import Typesetter, text_block
from .page_breaks import RowSize


@dataclass(frozen=True, slots=True)
class Figure:
    """What stands in a cell. `label` '' for a picture without a number.

    `heading` stands over the row that the figure then begins; '' for none.
    """

    label: str
    caption: str
    scene: Scene
    heading: str = ""


@dataclass(frozen=True)
class CellRow:
    """Cells side by side.

    A `wide` row holds one cell with its caption beside the figure; `aside` stands in the columns
    that the last row leaves free.
    """

    cells: tuple[tuple[Figure, Block], ...]
    height: float
    wide: bool = False
    aside: Block | None = None

    @property
    def size(self) -> RowSize:
        """What page breaks are chosen by."""
        return RowSize(self.height, len(self.cells), self.aside is not None)


def with_aside(row: CellRow, aside: Block) -> CellRow:
    """The row with a block in its free columns, as high as both."""
    return replace(row, height=max(row.height, aside.height), aside=aside)


def cell_rows(figures: Sequence[Figure], grid: Grid, typesetter: Typesetter) -> tuple[CellRow, ...]:
    """Rows of cells, left to right; figures of a row share a baseline for their captions.

    A caption much longer than its figure is high gets a whole row, and stands right of the figure.
    Raises FoldscriptError ('caption-too-long') where not even that fits a page.
    """
    rows: list[CellRow] = []
    waiting: list[Figure] = []
    limit = measures.CELL.caption_most * grid.frame[1]
    alone = measures.CELL.caption_most_alone * grid.height

    def close() -> None:
        if waiting:
            rows.append(_row(waiting, grid, typesetter))
            waiting.clear()

    for figure in figures:
        if figure.heading:
            close()
        caption = _caption(figure, grid.column, grid, typesetter)
        if caption.height > limit and (grid.columns > 1 or caption.height > alone):
            close()
            rows.append(_wide_row(figure, grid, typesetter))
            continue
        waiting.append(figure)
        if len(waiting) == grid.columns:
            close()
    close()
    for row in rows:
        if row.height > grid.height:
            raise LongCaption(row.cells[0][0])
    return tuple(rows)


def closing_row(figure: Figure, grid: Grid, typesetter: Typesetter) -> CellRow:
    """A picture without a number across the whole width, its caption centred below it."""
    m, line = measures.CELL, measures.TYPE
    scene = trimmed_to_ink(figure.scene)
    scale, width, height = fitted(
        scene, m.closing_width * grid.width, m.closing_height * grid.height
    )
    words = Text("text.caption", (0.0, 0.0), figure.caption, grid.caption, "middle")
    below = height + m.caption_gap * grid.caption
    items = (
        Placed(((grid.width - width) / 2, 0.0), scene, scale),
        Placed((grid.width / 2, below + line.ascent * grid.caption), words),
    )
    tall = below + (line.ascent + line.descent) * grid.caption
    return CellRow(((figure, Block(grid.width, tall, items)),), tall, wide=True)


class LongCaption(FoldscriptError):
    """A caption that does not fit on a page; `label` is its figure's."""

    def __init__(self, figure: Figure) -> None:
        self.label = figure.label
        where = f"step {figure.label}" if figure.label else "the last figure"
        super().__init__(
            Diagnostic(
                "caption-too-long",
                f"the caption of {where} does not fit on a page",
                hints=(Hint("say less, or split the step in two"),),
            )
        )


def _caption(figure: Figure, width: float, grid: Grid, typesetter: Typesetter) -> Block:
    return text_block(figure.caption, width, grid.caption, typesetter, "text.caption")


def _number(figure: Figure, grid: Grid, typesetter: Typesetter) -> tuple[Placed, ...]:
    """The number at the cell's top left corner; a long one ('12b') is set smaller."""
    if not figure.label:
        return ()
    wide = typesetter.width(figure.label, grid.number_size, True)
    size = grid.number_size * min(1.0, measures.CELL.number * grid.number / wide)
    text = Text("text.number", (0.0, 0.0), figure.label, size, bold=True)
    return (Placed((0.0, size * measures.TYPE.capital), text),)


def _row(figures: Sequence[Figure], grid: Grid, typesetter: Typesetter) -> CellRow:
    frame_width, frame_height = grid.frame
    scenes = row_trimmed([figure.scene for figure in figures])
    drawn = [(s, *fitted(s, frame_width, frame_height * measures.CELL.highest)) for s in scenes]
    deep = max(height for _, _, _, height in drawn)
    cells: list[tuple[Figure, Block]] = []
    for figure, (scene, scale, width, height) in zip(figures, drawn, strict=True):
        left = grid.number + (frame_width - width) / 2
        caption = _caption(figure, grid.column, grid, typesetter)
        below = deep + measures.CELL.caption_gap * grid.caption
        items = (
            *_number(figure, grid, typesetter),
            Placed((left, (deep - height) / 2), scene, scale),
            *caption.at(0.0, below),
        )
        tall = below + caption.height if caption.items else deep
        cells.append((figure, Block(grid.column, tall, items)))
    row = CellRow(tuple(cells), max(block.height for _, block in cells))
    return _headed(row, grid, typesetter)


def _headed(row: CellRow, grid: Grid, typesetter: Typesetter) -> CellRow:
    """The row under the heading of its first figure, where that has one."""
    heading = row.cells[0][0].heading
    if not heading:
        return row
    block = text_block(heading, grid.width, grid.heading, typesetter, "text.heading", bold=True)
    down = block.height + measures.CELL.caption_gap * grid.caption
    cells: list[tuple[Figure, Block]] = []
    for k, (figure, cell) in enumerate(row.cells):
        items = (*(block.at(0.0, 0.0) if k == 0 else ()), *cell.at(0.0, down))
        cells.append((figure, Block(cell.width, cell.height + down, items)))
    return replace(row, cells=tuple(cells), height=row.height + down)


def _wide_row(figure: Figure, grid: Grid, typesetter: Typesetter) -> CellRow:
    frame_width, frame_height = grid.frame
    if grid.columns == 1:
        frame_width = measures.CELL.beside * grid.column
    (scene,) = row_trimmed([figure.scene])
    scale, width, height = fitted(scene, frame_width, frame_height * measures.CELL.highest)
    left = grid.number + frame_width + grid.gutter
    caption = _caption(figure, grid.width - left, grid, typesetter)
    tall = max(height, caption.height)
    items = (
        *_number(figure, grid, typesetter),
        Placed((grid.number + (frame_width - width) / 2, 0.0), scene, scale),
        *caption.at(left, 0.0),
    )
    row = CellRow(((figure, Block(grid.width, tall, items)),), tall, wide=True)
    return _headed(row, grid, typesetter)
