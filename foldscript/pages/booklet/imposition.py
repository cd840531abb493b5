"""Which pages lie side by side on the sheets of a booklet that is folded once and stapled.

In: the number of pages. Out: where blank pages go, so that the booklet fills its sheets, the order of the
pages on them, and how far the inner ones are moved to the spine, for paper has a thickness. Sheets are
nested: the first one printed lies outside, and its front carries the last page left of the first
(20 | 1), its back 2 | 19.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from .. import measures
from ..sizes import PAGE_SIZES, POINTS_PER_MM, PageSize

#: Pages on a sheet of paper: two on either side.
PAGES_A_SHEET = 4


@dataclass(frozen=True, slots=True)
class SheetSide:
    """One side of a sheet: positions in the padded booklet, counted from 0."""

    left: int
    right: int


def saddle(count: int) -> Iterator[SheetSide]:
    """Sides in printing order, front and back of each sheet, the outermost sheet first.

    `count` is a multiple of four.
    """
    for sheet in range(count // PAGES_A_SHEET):
        low, high = 2 * sheet, count - 1 - 2 * sheet
        yield SheetSide(high, low)
        yield SheetSide(low + 1, high - 1)


def creep_shifts(count: int, creep: float) -> list[float]:
    """How far the pages of each sheet are moved to the spine, the outermost sheet first.

    Inside the fold each sheet lies one thickness of paper further out than the one around it, and so
    sticks out so much more at the fore edge. Where that is trimmed off, the inner pages would lose
    their outer margin; moved in by as much, they keep it (common practice: about 0.1 mm a sheet for
    office paper of 80 g/m²). `creep` is that allowance a sheet, in any unit; `count` as in `saddle`.
    """
    return [creep * sheet for sheet in range(count // PAGES_A_SHEET)]


def padded_count(count: int) -> int:
    """How many pages a booklet of `count` has once blank ones fill its sheets."""
    return count + -count % PAGES_A_SHEET


def page_at(position: int, count: int) -> int | None:
    """Which page, counted from 0, stands at a position of the padded booklet; None for a blank one.

    Blank pages stand before the last page, which is the back cover.
    """
    if position < count - 1:
        return position
    return count - 1 if position == padded_count(count) - 1 else None


def sheet_for(page: PageSize) -> PageSize:
    """The sheet that two pages side by side are printed on: the paper size twice theirs."""
    wide, high = 2 * page.width, page.height
    for size in PAGE_SIZES:
        for paper in (size, size.landscape()):
            if (
                abs(paper.width - wide) < measures.SAME_PAPER
                and abs(paper.height - high) < measures.SAME_PAPER
            ):
                return PageSize(size.name, paper.width, paper.height)
    return PageSize(f"{wide / POINTS_PER_MM:.0f} × {high / POINTS_PER_MM:.0f} mm", wide, high)


def turned_on(sheet: PageSize) -> str:
    """The edge that a printer must turn the sheet on: 'short' or 'long'.

    The sheet is turned like the page of a book, about an upright line.
    """
    return "short" if sheet.width >= sheet.height else "long"
