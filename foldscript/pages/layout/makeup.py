"""Page make-up: blocks and rows put on pages from top to bottom.

In: blocks in the order they are read, and the space below each. Out: the items of every page, and the
bookmarks that lead to figures. What stands where is settled before (`pagination`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .. import measures
from ..document import Block, Bookmark, Placed
from ..grid import Grid
from ..sizes import PageSize
from .cells import CellRow


@dataclass(frozen=True, slots=True)
class SpacedBlock:
    """An unbreakable block, and the space below it before the next.

    `overleaf` is the same block under a heading, for where it begins a page of what is broken.
    """

    block: Block
    below: float
    overleaf: Block | None = None


def height_of(parts: Sequence[SpacedBlock]) -> float:
    """Height of parts one below the other, without the space below the last."""
    if not parts:
        return 0.0
    return sum(part.block.height + part.below for part in parts) - parts[-1].below


class PageMakeup:
    """Pages being filled from top to bottom; `waste` tells how poorly (`measures.PageCosts`)."""

    def __init__(self, g: Grid, size: PageSize) -> None:
        self.grid = g
        self.size = size
        self.items: list[list[Placed]] = []
        self.marks: list[Bookmark] = []
        self.y = g.top
        self.waste = 0.0

    def even_gap(
        self, rows: Sequence[CellRow], after: Sequence[SpacedBlock], below_head: bool
    ) -> float:
        """The space between rows that fills the page to its foot, within limits; that before what follows is
        a part of it (`measures.KEY`).

        Where the rows stand `below_head`, whose gap has been left, that gap is made as wide.
        """
        g = self.grid
        top = self.y - (g.row_gap if below_head else 0.0)
        spaces = len(rows) - 1 + measures.KEY.above * bool(after) + below_head
        if spaces <= 0.0 or not rows:
            return g.row_gap_most
        used = sum(row.height for row in rows) + height_of(after)
        gap = min(g.row_gap_most, max(g.row_gap, (g.bottom - top - used) / spaces))
        self.y = top + (gap if below_head else 0.0)
        return gap

    def turn(self) -> None:
        """Start a page."""
        self.items.append([])
        self.y = self.grid.top

    def put(self, block: Block, below: float) -> None:
        """A block across the page, on the next page if this one has no room."""
        if self.y + block.height > self.grid.bottom + measures.ROUNDING and self.items[-1]:
            self.turn()
        self.items[-1].extend(block.at(self.grid.left, self.y))
        self.y += block.height + below

    def part(self, part: SpacedBlock) -> None:
        """A part, on the next page, and there under its heading, if this one has no room."""
        turned = (
            self.y + part.block.height > self.grid.bottom + measures.ROUNDING and self.items[-1]
        )
        self.put(part.overleaf or part.block if turned else part.block, part.below)

    def parts(self, parts: Sequence[SpacedBlock]) -> None:
        """Parts that may run on to the next page, and then with enough of them to look for there."""
        y, fitting = self.y, 0
        for part in parts:
            if y + part.block.height > self.grid.bottom + measures.ROUNDING:
                break
            y, fitting = y + part.block.height + part.below, fitting + 1
        few = measures.KEY.overleaf
        earlier = len(parts) - few if 0 < len(parts) - fitting < few else len(parts)
        for number, part in enumerate(parts):
            if number == earlier and number >= measures.KEY.held:
                self.turn()
                self.put(part.overleaf or part.block, part.below)
            else:
                self.part(part)

    def row(self, row: CellRow, below: float) -> None:
        """A row of cells, with a bookmark for each numbered figure."""
        for place, (figure, block) in enumerate(row.cells):
            self.items[-1].extend(block.at(self.grid.column_left(place), self.y))
            title = " ".join(part for part in (figure.label, figure.caption) if part)
            if title:
                mark = Bookmark(_shortened(title), len(self.items) - 1, self.y, level=1)
                self.marks.append(mark)
        if row.aside is not None:
            left = self.grid.column_left(len(row.cells))
            self.items[-1].extend(row.aside.at(left, self.y))
        self.y += row.height + below


def _shortened(title: str) -> str:
    words = " ".join(title.split())
    if len(words) <= measures.TYPE.bookmark:
        return words
    return words[: measures.TYPE.bookmark - 1].rsplit(" ", 1)[0].rstrip(" ,;:.") + "…"
