"""The handout: one model's head, numbered figures, key and notes on as many pages as they need.

In: a folded model and its drawn figures. Out: a Document. Figures read left to right, then down;
a figure is never parted from its number and caption; the key lists the signs used, no others.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..drawing.scene import Scene, Text
from ..folding.steps import Model
from .cells import CellRow, Figure, cell_rows
from .document import Block, Bookmark, Document, Page, Placed, rule
from .grid import Grid, finished_frame, grid
from .head import Translate, head
from .key import Entry, key_rows, stacked
from .paginate import Room, paginate
from .sizes import PageSize
from .text import Measure, paragraph, shortened, text_block

if TYPE_CHECKING:
    from ..drawing.draw import DrawnFigure
    from ..drawing.styles import Style

#: Most figures on a page of the usual size, and on a small one (A5, half letter).
_MOST, _MOST_SMALL, _SMALL_BELOW = 9, 6, 450.0
_BOOKMARK_LENGTH = 60


def handout(
    model: Model,
    figures: Sequence[DrawnFigure],
    style: Style,
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay a model out for printing.

    `figures` are best drawn in `grid.figure_frame(page)`; larger ones are reduced to fit. `measure`
    gives the width of a text in points. `translate` gives the page's own words in another language.
    Raises FoldscriptError when a caption does not fit a page.
    """
    from ..drawing.draw import finished_figure
    from ..drawing.legend import legend

    frame = grid(page).frame
    last = Figure("", translate("The finished model."), finished_figure(model, style, frame))
    cells = [*(Figure(f.label, f.caption, f.scene) for f in figures), last]
    picture = finished_figure(model, style, finished_frame(page))
    used = frozenset(key for cell in cells for key in cell.scene.signs)
    return assemble(model, cells, picture, legend(used, style), page, measure, translate)


def assemble(
    model: Model,
    figures: Sequence[Figure],
    picture: Scene | None,
    entries: Sequence[Entry],
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """The handout from figures, the head's picture and the key's entries already drawn."""
    g = grid(page)
    top = head(model, picture, g, measure, translate)
    rows = cell_rows(figures, g, measure)
    beside = _key_beside(rows, entries, g, measure, translate)
    tail = _tail(model, [] if beside else entries, g, measure, translate)
    small = min(page.width, page.height) < _SMALL_BELOW
    most = max(1, (_MOST_SMALL if small else _MOST) // g.columns)
    gap = g.row_gap
    below = sum(block.height + space for block, space in tail) - (tail[-1][1] if tail else 0.0)
    room = Room(
        first=g.height - top.height - gap,
        later=g.height,
        gap=gap,
        most=most,
        tail=below + gap if tail else 0.0,
    )
    shares = paginate([r.row for r in rows], room)
    pages = _Pages(g, page)
    stretched = g.row_gap_most
    for number, share in enumerate(shares):
        pages.turn()
        if number == 0:
            pages.put(top, gap)
        group = rows[share.start : share.stop]
        last = number == len(shares) - 1
        used = sum(r.height for r in group) + (room.tail if last else 0.0)
        spare = g.bottom - pages.y - used
        between = len(group) - 1 + (1 if last and tail and group else 0)
        if between > 0:
            stretched = min(stretched, max(gap, (spare + (gap if last and tail else 0)) / between))
        for row in group:
            pages.row(row, stretched)
        if last and beside and group:
            pages.beside(group[-1], beside)
    for block, space in tail:
        pages.put(block, space)
    return _finish(model, pages, measure, translate)


def _key_beside(
    rows: Sequence[CellRow],
    entries: Sequence[Entry],
    g: Grid,
    measure: Measure,
    translate: Translate,
) -> Block | None:
    """The key in the columns that the last row leaves free, if it fits there."""
    if not rows or rows[-1].wide or not entries:
        return None
    free = g.columns - len(rows[-1].cells)
    if free == 0:
        return None
    blocks = key_rows(entries, translate("Signs used"), free, g, measure)
    key = stacked(blocks, 0.35 * g.caption)
    return key if key.height <= rows[-1].height + 0.5 * g.row_gap else None


def _tail(
    model: Model, entries: Sequence[Entry], g: Grid, measure: Measure, translate: Translate
) -> list[tuple[Block, float]]:
    """What follows the figures, as (unbreakable block, space below it): key, then notes."""
    near, far = 0.35 * g.caption, g.row_gap
    blocks: list[tuple[Block, float]] = []
    if entries:
        parts = key_rows(entries, translate("Signs used"), g.columns, g, measure)
        blocks += [(part, near) for part in parts[:-1]] + [(parts[-1], far)]
    if model.notes:
        title = text_block(translate("Notes"), g.width, g.heading, measure, "text.heading", True)
        body = [
            part for note in model.notes for part in paragraph(note, g.width, g.caption, measure)
        ]
        blocks.append((stacked([title, *body[:1]], near), near))
        blocks += [(part, near) for part in body[1:]]
    return blocks


class _Pages:
    """Pages being filled from top to bottom."""

    def __init__(self, g: Grid, size: PageSize) -> None:
        self.grid = g
        self.size = size
        self.items: list[list[Placed]] = []
        self.marks: list[Bookmark] = []
        self.y = g.top
        self.row_top = g.top

    def turn(self) -> None:
        """Start a page."""
        self.items.append([])
        self.y = self.grid.top

    def put(self, block: Block, below: float) -> None:
        """A block across the page, on the next page if this one has no room."""
        if self.y + block.height > self.grid.bottom + 1e-6 and self.items[-1]:
            self.turn()
        self.items[-1].extend(block.at(self.grid.left, self.y))
        self.y += block.height + below

    def row(self, row: CellRow, below: float) -> None:
        """A row of cells, with a bookmark for each numbered figure."""
        self.row_top = self.y
        for place, (figure, block) in enumerate(row.cells):
            self.items[-1].extend(block.at(self.grid.column_left(place), self.y))
            title = " ".join(part for part in (figure.label, figure.caption) if part)
            if title:
                mark = Bookmark(_shortened(title), len(self.items) - 1, self.y, level=1)
                self.marks.append(mark)
        self.y += row.height + below

    def beside(self, row: CellRow, block: Block) -> None:
        """A block in the columns that the row just set leaves free."""
        left = self.grid.column_left(len(row.cells))
        self.items[-1].extend(block.at(left, self.row_top))


def _shortened(title: str) -> str:
    words = " ".join(title.split())
    if len(words) <= _BOOKMARK_LENGTH:
        return words
    return words[: _BOOKMARK_LENGTH - 1].rsplit(" ", 1)[0].rstrip(" ,;:.") + "…"


def _finish(model: Model, pages: _Pages, measure: Measure, translate: Translate) -> Document:
    g = pages.grid
    count = len(pages.items)
    out: list[Page] = []
    for number, items in enumerate(pages.items, start=1):
        left = " · ".join(part for part in (model.title, model.credit) if part)
        right = translate("page {n} of {count}").format(n=number, count=count)
        room = g.width - measure(right, g.small, False) - g.gutter
        left = shortened(left, room, g.small, measure)
        foot = (
            Placed((g.left, g.bottom + 0.55 * (g.foot - g.bottom) - 2.0), rule(g.width)),
            Placed(
                (g.left, g.foot),
                Text("text.soft", (0.0, 0.0), left, g.small),
            ),
            Placed((g.right, g.foot), Text("text.soft", (0.0, 0.0), right, g.small, "end")),
        )
        out.append(Page(pages.size, str(number), (*items, *foot)))
    first = Bookmark(model.title, 0, 0.0)
    return Document(
        title=model.title,
        author=model.credit,
        language=model.language,
        pages=tuple(out),
        bookmarks=(first, *pages.marks),
        subject=translate("Folding steps"),
    )
