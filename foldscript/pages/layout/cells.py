"""Cells: a numbered figure with its caption under it, never parted, and rows of them.

In: figures with label and caption. Out: rows of blocks whose heights follow from their content.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ...drawing.draw import HALF
from ...drawing.scene.outlines import Box
from ...drawing.scene.scene import Scene, Text
from ...source.diagnostics import Diagnostic, FoldscriptError, Hint
from .. import measures
from ..document import Block, Placed, fitted
from ..grid import Grid
from ..parts import DECORATION, Part, PartKind, list_item, new_list
from ..trimming import ink, trimmed_above_and_below, trimmed_to_ink
from ..typesetting import Typesetter, text_block
from .page_breaks import RowSize
from .row_places import (
    Figure,
    Stand,
    caption_tops,
    lowered,
    number_box,
    numbered,
    on_the_foot,
    raised,
    stand,
    stands_in,
)
from .signs_between import centred, signs_between


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
        goes_on = self.cells[0][0].label.endswith(HALF)
        return RowSize(self.height, len(self.cells), self.aside is not None, goes_on)


def with_aside(row: CellRow, aside: Block) -> CellRow:
    """The row with a block in its free columns, as high as both."""
    return replace(row, height=max(row.height, aside.height), aside=aside)


@dataclass(frozen=True, slots=True)
class InRow:
    """Which figures stand side by side, with the captions below them; `wide` for one with it beside."""

    numbers: range
    captions: tuple[Block, ...]
    wide: bool = False


def in_rows(figures: Sequence[Figure], grid: Grid, typesetter: Typesetter) -> Iterator[InRow]:
    """The figures shared out to rows, left to right: a heading begins one.

    A caption much longer than its figure is high gets a whole row, and stands right of the figure.
    """
    limit = measures.CELL.caption_most * grid.frame[1]
    alone = measures.CELL.caption_most_alone * grid.height
    waiting: list[Block] = []
    for number, figure in enumerate(figures):
        caption = _caption(figure, grid.column, grid, typesetter)
        wide = caption.height > limit and (grid.columns > 1 or caption.height > alone)
        if waiting and (wide or figure.heading or len(waiting) == grid.columns):
            yield InRow(range(number - len(waiting), number), tuple(waiting))
            waiting = []
        if wide:
            yield InRow(range(number, number + 1), (caption,), wide=True)
        else:
            waiting.append(caption)
    if waiting:
        yield InRow(range(len(figures) - len(waiting), len(figures)), tuple(waiting))


def cell_rows(figures: Sequence[Figure], grid: Grid, typesetter: Typesetter) -> tuple[CellRow, ...]:
    """Rows of cells (`in_rows`).

    Raises FoldscriptError ('caption-too-long') where a caption does not even fit a page beside its figure.
    """
    rows: list[CellRow] = []
    for one in in_rows(figures, grid, typesetter):
        some = [figures[k] for k in one.numbers]
        if one.wide:
            rows.append(_wide_row(some[0], grid, typesetter))
        else:
            rows.append(_row(some, one.captions, grid, typesetter))
    for row in rows:
        if row.height > grid.height:
            raise LongCaption(row.cells[0][0])
    return tuple(_as_steps(rows))


def _as_steps(rows: Sequence[CellRow]) -> Iterator[CellRow]:
    """The rows told as lists of steps: under every heading one, and after every finished model."""
    steps = new_list()
    for row in rows:
        cells: list[tuple[Figure, Block]] = []
        for figure, block in row.cells:
            if figure.heading or not figure.label:
                steps = new_list()
            cells.append((figure, _as_step(block, steps) if figure.label else block))
        yield replace(row, cells=tuple(cells))


def _as_step(block: Block, steps: Part) -> Block:
    """A cell told as an item of a list: its number, then figure and caption."""
    label, body = list_item(steps)
    caption = Part(PartKind.PARAGRAPH, body)

    def part(item: Placed) -> Part | None:
        if isinstance(item.content, Scene):
            return item.part or Part(PartKind.FIGURE, body)
        role = item.content.role
        return {"text.number": label, "text.caption": caption}.get(role, item.part)

    return replace(block, items=tuple(replace(item, part=part(item)) for item in block.items))


def in_the_middle(row: CellRow, grid: Grid) -> CellRow:
    """The row of a picture without a number that stands alone: in the middle between the margins, its caption
    centred below it. Any other row as it is."""
    figure, block = row.cells[0]
    if row.wide or row.aside is not None or len(row.cells) > 1 or figure.label:
        return row
    middle = grid.width / 2

    def placed(item: Placed) -> Placed:
        if isinstance(item.content, Text):
            return replace(
                item, at=(middle, item.at[1]), content=replace(item.content, anchor="middle")
            )
        if isinstance(item.content, Scene):
            left, _, right, _ = ink(item.content)
            x = middle - item.scale * (left + right) / 2
            room = max(0.0, grid.width - item.scale * item.content.width)
            return replace(item, at=(min(max(x, 0.0), room), item.at[1]))
        return item

    items = tuple(map(placed, block.items))
    return replace(row, cells=((figure, replace(block, width=grid.width, items=items)),))


def closing_row(figure: Figure, grid: Grid, typesetter: Typesetter) -> CellRow:
    """A picture without a number across the whole width, its caption centred below it."""
    m, line = measures.CELL, measures.TYPE
    scene = trimmed_to_ink(figure.scene)
    scale, width, height = fitted(
        scene, m.closing_width * grid.width, m.closing_height * grid.height
    )
    words = Text("text.caption", (0.0, 0.0), figure.caption, grid.caption, "middle")
    below = height + grid.caption_gap
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


def _drawn(one: Stand, left: float, top: float, column: float) -> Placed:
    """A figure at its place, without what is empty above and below its ink; one moved out of its column,
    without what is empty beside it, too."""
    scene = trimmed_above_and_below(one.figure.scene)
    if left >= 0.0 and left + one.scale * scene.width <= column + measures.ROUNDING:
        return Placed((left, top), scene, one.scale)
    empty = ink(scene)[0]
    return Placed((left + one.scale * empty, top), trimmed_to_ink(scene), one.scale)


def _number(figure: Figure, y: float, grid: Grid) -> tuple[Placed, ...]:
    """The number at the cell's left side, its upper end at a height."""
    if not figure.label:
        return ()
    text = Text("text.number", (0.0, 0.0), figure.label, grid.number_size, bold=True)
    return (Placed((0.0, y + grid.number_size * measures.TYPE.capital), text),)


def _row(
    figures: Sequence[Figure], captions: Sequence[Block], grid: Grid, typesetter: Typesetter
) -> CellRow:
    """Figures side by side as they lie in their frames, numbers level, each caption close to its own."""
    step = grid.column + grid.gutter
    free = grid.gutter if len(figures) < grid.columns else 0.0
    end = len(figures) * step - grid.gutter + free
    columns = [k * step for k in range(len(figures))]

    def usual(lefts: Sequence[float]) -> list[Stand]:
        inside = [left - column for left, column in zip(lefts, columns, strict=True)]
        return stands_in(figures, grid.frame, inside, grid, typesetter)

    plain = usual(centred(figures, grid.frame, columns, grid))
    turned = any(figure.before or figure.after for figure in figures)
    low = plain if turned else lowered(plain, captions, grid.frame[1])
    placed = on_the_foot(raised(low, grid), grid)
    ups = [was.top - one.top for was, one in zip(plain, placed, strict=True)]

    def standing(lefts: Sequence[float]) -> list[Stand]:
        return [one.lower(-up) for one, up in zip(usual(lefts), ups, strict=True)]

    def numbers(lefts: Sequence[float]) -> list[Box | None]:
        level = zip(numbered(standing(lefts)), columns, strict=True)
        return [number_box(one, column, grid, typesetter) for one, column in level]

    between = signs_between(figures, grid.frame, columns, end, grid, numbers, ups)
    stands = numbered(standing(between.lefts))
    upper = min([*(one.upper for one in stands), *(sign.top for sign in between.signs)])
    tops = caption_tops(stands, captions, grid)
    cells: list[tuple[Figure, Block]] = []
    for k, one in enumerate(stands):
        caption, below = captions[k], tops[k] - upper
        items = (
            *_number(one.figure, one.number - upper, grid),
            _drawn(one, between.lefts[k] - k * step, one.top - upper, grid.column),
            *(
                # the caption says what it asks for
                Placed((sign.left - k * step, sign.top - upper), sign.scene, part=DECORATION)
                for sign in between.signs
                if sign.host == k
            ),
            *caption.at(0.0, below),
        )
        tall = below + caption.height if caption.items else one.bottom - upper
        cells.append((one.figure, Block(grid.column, tall, items)))
    row = CellRow(tuple(cells), max(block.height for _, block in cells))
    return _headed(row, grid, typesetter)


def _headed(row: CellRow, grid: Grid, typesetter: Typesetter) -> CellRow:
    """The row under the heading of its first figure, where that has one."""
    heading = row.cells[0][0].heading
    if not heading:
        return row
    block = text_block(heading, grid.width, grid.heading, typesetter, "text.heading", bold=True)
    down = block.height + measures.CELL.below_heading * grid.caption
    cells: list[tuple[Figure, Block]] = []
    for k, (figure, cell) in enumerate(row.cells):
        items = (*(block.at(0.0, 0.0) if k == 0 else ()), *cell.at(0.0, down))
        cells.append((figure, Block(cell.width, cell.height + down, items)))
    return replace(row, cells=tuple(cells), height=row.height + down)


def _wide_row(figure: Figure, grid: Grid, typesetter: Typesetter) -> CellRow:
    """A figure in the first column, its caption right of it."""
    width = grid.column if grid.columns > 1 else measures.CELL.beside * grid.column
    frame = (min(width, grid.frame[0]), grid.frame[1])
    alone = replace(grid, column=width)

    def numbers(lefts: Sequence[float]) -> list[Box | None]:
        one = stand(figure, frame, lefts[0], alone, typesetter)
        return [number_box(one, 0.0, alone, typesetter)]

    between = signs_between([figure], frame, [0.0], width + grid.gutter / 2, alone, numbers)
    one = stand(figure, frame, between.lefts[0], alone, typesetter)
    upper = min([one.upper, *(sign.top for sign in between.signs)])
    left = width + grid.gutter
    caption = _caption(figure, grid.width - left, grid, typesetter)
    tall = max(one.bottom - upper, caption.height)
    items = (
        *_number(figure, one.number - upper, grid),
        _drawn(one, between.lefts[0], one.top - upper, width),
        *(
            Placed((sign.left, sign.top - upper), sign.scene, part=DECORATION)
            for sign in between.signs
        ),
        *caption.at(left, 0.0),
    )
    row = CellRow(((figure, Block(grid.width, tall, items)),), tall, wide=True)
    return _headed(row, grid, typesetter)
