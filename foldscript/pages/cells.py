"""Cells: a numbered figure with its caption under it, never parted, and rows of them.

In: figures with label and caption. Out: rows of blocks whose heights follow from their content.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..drawing.scene.scene import Scene, Text
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint
from .document import Block, Placed
from .grid import Grid
from .paginate import Row
from .text import ASCENT, DESCENT, Measure, text_block
from .trimming import row_trimmed, trimmed_to_ink

#: Cap height of the numbers as a part of their size, so that they hang from the row's top edge.
_CAPITAL = 0.72
#: Part of the number's column that it may fill.
_NUMBER_ROOM = 0.94


@dataclass(frozen=True, slots=True)
class Figure:
    """What stands in a cell. `label` '' for a picture without a number."""

    label: str
    caption: str
    scene: Scene


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
    def row(self) -> Row:
        """What sharing out over pages needs to know."""
        return Row(self.height, len(self.cells), self.aside is not None)


def with_aside(row: CellRow, aside: Block) -> CellRow:
    """The row with a block in its free columns, as high as both."""
    return replace(row, height=max(row.height, aside.height), aside=aside)


def cell_rows(figures: Sequence[Figure], grid: Grid, measure: Measure) -> tuple[CellRow, ...]:
    """Rows of cells, left to right; figures of a row share a baseline for their captions.

    A caption much longer than its figure is high gets a whole row, and stands right of the figure.
    Raises FoldscriptError ('caption-too-long') where not even that fits a page.
    """
    rows: list[CellRow] = []
    waiting: list[Figure] = []
    limit = 0.9 * grid.frame[1]

    def close() -> None:
        if waiting:
            rows.append(_row(waiting, grid, measure))
            waiting.clear()

    for figure in figures:
        caption = _caption(figure, grid.column, grid, measure)
        if caption.height > limit and (grid.columns > 1 or caption.height > grid.height / 2):
            close()
            rows.append(_wide_row(figure, grid, measure))
            continue
        waiting.append(figure)
        if len(waiting) == grid.columns:
            close()
    close()
    for row in rows:
        if row.height > grid.height:
            raise LongCaption(row.cells[0][0])
    return tuple(rows)


def closing_row(figure: Figure, grid: Grid, measure: Measure) -> CellRow:
    """A picture without a number across the whole width, its caption centred below it."""
    scene = trimmed_to_ink(figure.scene)
    scale, width, height = fitted(scene, 0.5 * grid.width, 0.25 * grid.height)
    words = Text("text.caption", (0.0, 0.0), figure.caption, grid.caption, "middle")
    below = height + 0.4 * grid.caption
    items = (
        Placed(((grid.width - width) / 2, 0.0), scene, scale),
        Placed((grid.width / 2, below + ASCENT * grid.caption), words),
    )
    tall = below + (ASCENT + DESCENT) * grid.caption
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


def fitted(scene: Scene, width: float, height: float) -> tuple[float, float, float]:
    """(scale, width, height) of a scene in a space: as drawn where it fits, else reduced."""
    scale = min(1.0, width / scene.width, height / scene.height)
    return scale, scene.width * scale, scene.height * scale


def _caption(figure: Figure, width: float, grid: Grid, measure: Measure) -> Block:
    return text_block(figure.caption, width, grid.caption, measure, "text.caption")


def _number(figure: Figure, grid: Grid, measure: Measure) -> tuple[Placed, ...]:
    """The number at the cell's top left corner; a long one ('12b') is set smaller."""
    if not figure.label:
        return ()
    wide = measure(figure.label, grid.number_size, True)
    size = grid.number_size * min(1.0, _NUMBER_ROOM * grid.number / wide)
    text = Text("text.number", (0.0, 0.0), figure.label, size, bold=True)
    return (Placed((0.0, size * _CAPITAL), text),)


def _row(figures: Sequence[Figure], grid: Grid, measure: Measure) -> CellRow:
    frame_width, frame_height = grid.frame
    scenes = row_trimmed([figure.scene for figure in figures])
    drawn = [(s, *fitted(s, frame_width, frame_height * 1.6)) for s in scenes]
    deep = max(height for _, _, _, height in drawn)
    cells: list[tuple[Figure, Block]] = []
    for figure, (scene, scale, width, height) in zip(figures, drawn, strict=True):
        left = grid.number + (frame_width - width) / 2
        caption = _caption(figure, grid.column, grid, measure)
        below = deep + 0.4 * grid.caption
        items = (
            *_number(figure, grid, measure),
            Placed((left, (deep - height) / 2), scene, scale),
            *caption.at(0.0, below),
        )
        tall = below + caption.height if caption.items else deep
        cells.append((figure, Block(grid.column, tall, items)))
    return CellRow(tuple(cells), max(block.height for _, block in cells))


def _wide_row(figure: Figure, grid: Grid, measure: Measure) -> CellRow:
    frame_width, frame_height = grid.frame
    if grid.columns == 1:
        frame_width = 0.4 * grid.column
    (scene,) = row_trimmed([figure.scene])
    scale, width, height = fitted(scene, frame_width, frame_height * 1.6)
    left = grid.number + frame_width + grid.gutter
    caption = _caption(figure, grid.width - left, grid, measure)
    tall = max(height, caption.height)
    items = (
        *_number(figure, grid, measure),
        Placed((grid.number + (frame_width - width) / 2, 0.0), scene, scale),
        *caption.at(left, 0.0),
    )
    return CellRow(((figure, Block(grid.width, tall, items)),), tall, wide=True)
