"""Filling pages from top to bottom, and finishing them with foot and outline.

In: blocks and rows, in the order they are read. Out: the pages of a document.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..drawing.scene.scene import Text
from ..folding.steps import Model
from .cells import CellRow
from .document import Block, Bookmark, Document, Page, Placed, rule
from .grid import Grid
from .head import Translate
from .sizes import PageSize
from .text import Measure, shortened

_BOOKMARK_LENGTH = 60


@dataclass(frozen=True, slots=True)
class Part:
    """An unbreakable block, and the space below it before the next.

    `overleaf` is the same block under a heading, for where it begins a page of what is broken.
    """

    block: Block
    below: float
    overleaf: Block | None = None


def height_of(parts: Sequence[Part]) -> float:
    """Height of parts one below the other, without the space below the last."""
    if not parts:
        return 0.0
    return sum(part.block.height + part.below for part in parts) - parts[-1].below


class Filling:
    """Pages being filled from top to bottom; `waste` tells how poorly."""

    def __init__(self, g: Grid, size: PageSize) -> None:
        self.grid = g
        self.size = size
        self.items: list[list[Placed]] = []
        self.marks: list[Bookmark] = []
        self.y = g.top
        self.waste = 0.0

    def even_gap(self, rows: Sequence[CellRow], after: Sequence[Part]) -> float:
        """The space between rows, and before what follows, that fills the page to its foot."""
        spaces = len(rows) - 1 + (1 if after else 0)
        if spaces < 1 or not rows:
            return self.grid.row_gap_most
        used = sum(row.height for row in rows) + height_of(after)
        return max(self.grid.row_gap, (self.grid.bottom - self.y - used) / spaces)

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

    def part(self, part: Part) -> None:
        """A part, on the next page, and there under its heading, if this one has no room."""
        turned = self.y + part.block.height > self.grid.bottom + 1e-6 and self.items[-1]
        self.put(part.overleaf or part.block if turned else part.block, part.below)

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
    if len(words) <= _BOOKMARK_LENGTH:
        return words
    return words[: _BOOKMARK_LENGTH - 1].rsplit(" ", 1)[0].rstrip(" ,;:.") + "…"


def finished_document(
    model: Model, pages: Filling, measure: Measure, translate: Translate
) -> Document:
    """The pages with running foot, page labels and outline."""
    left = " · ".join(part for part in (model.title, model.credit) if part)
    first = Bookmark(model.title, 0, 0.0)
    return Document(
        title=model.title,
        author=model.credit,
        language=model.language,
        pages=with_feet(pages, left, measure, translate),
        bookmarks=(first, *pages.marks),
        subject=translate("Folding steps"),
    )


def with_feet(
    pages: Filling, words: str, measure: Measure, translate: Translate
) -> tuple[Page, ...]:
    """The pages, each with a rule at its foot, words at the left and its number at the right."""
    g = pages.grid
    count = len(pages.items)
    out: list[Page] = []
    for number, items in enumerate(pages.items, start=1):
        right = translate("page {n} of {count}").format(n=number, count=count)
        room = g.width - measure(right, g.small, False) - g.gutter
        left = shortened(words, room, g.small, measure)
        foot = (
            Placed((g.left, g.bottom + 0.55 * (g.foot - g.bottom) - 2.0), rule(g.width)),
            Placed(
                (g.left, g.foot),
                Text("text.soft", (0.0, 0.0), left, g.small),
            ),
            Placed((g.right, g.foot), Text("text.soft", (0.0, 0.0), right, g.small, "end")),
        )
        out.append(Page(pages.size, str(number), (*items, *foot)))
    return tuple(out)
