"""Placing one model on pages: head and notes, rows of figures, and the key.

In: a model's head and figures, a page to start on. Out: the pages filled. As few pages as possible,
evenly filled; the key stands where it costs least.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from .cells import CellRow, with_aside
from .document import Block
from .filling import Filling, Part, height_of
from .grid import Grid, is_small
from .key import stacked
from .paginate import Cost, Room, paginate
from .sizes import PageSize

#: Most figures on a page of the usual size, and on a small one (A5, half letter).
_MOST, _MOST_SMALL = 9, 6
#: What a key beside the last row costs when it is higher than the row, against one below it.
_OUTSIZE = 0.05

#: Space above a model that shares a page with the one before it, in spaces between rows.
_SHARED_GAP = 2.0

#: The key's parts when it is so many columns wide; () where there is none.
Key = Callable[[int], tuple[Part, ...]]


@dataclass(frozen=True)
class Laid:
    """A model's blocks, in the order they are read: head, notes too long for it, rows of figures."""

    head: Block
    notes: tuple[Part, ...]
    rows: tuple[CellRow, ...]

    def compact(self, g: Grid) -> float:
        """Height of everything with the least space between the rows."""
        rows = sum(row.height + g.row_gap for row in self.rows)
        return self.head.height + g.row_gap + _height_with_gap(self.notes, g) + rows

    def open_on(self, pages: Filling) -> None:
        """Puts what is read before the first fold: head and notes."""
        pages.put(self.head, pages.grid.row_gap)
        for part in self.notes:
            pages.put(part.block, part.below)


def page_count(laid: Laid, g: Grid, size: PageSize) -> int:
    """How many pages a model takes."""
    pages = Filling(g, size)
    place(pages, laid)
    return len(pages.items)


def no_key(columns: int) -> tuple[Part, ...]:
    """A key without entries."""
    return ()


def most_rows(pages: Filling) -> int:
    """Most rows of figures that a page should hold."""
    return max(1, (_MOST_SMALL if is_small(pages.size) else _MOST) // pages.grid.columns)


def place(pages: Filling, laid: Laid, key: Key = no_key) -> None:
    """Fills pages with a model, from the top of a new one."""
    g = pages.grid
    pages.turn()
    laid.open_on(pages)
    room = Room(first=g.bottom - pages.y, later=g.height, gap=g.row_gap, most=most_rows(pages))
    plan = _plan(laid.rows, room, key, g)
    widest = g.row_gap_most
    for number, share in enumerate(plan.shares):
        if number > 0:
            pages.turn()
        after = (plan.after_first if number == 0 else ()) + (
            plan.after_last if number == len(plan.shares) - 1 else ()
        )
        group = plan.rows[share.start : share.stop]
        widest = min(widest, pages.even_gap(group, after))
        for row in group:
            pages.row(row, widest)
        for part in after:
            pages.put(part.block, part.below)


def sharing(pages: Filling, laid: Sequence[Laid]) -> int:
    """How many of these models, from the first on, stand on one page together; at least one."""
    g = pages.grid
    height, rows, count = 0.0, 0, 0
    for one in laid:
        height += one.compact(g) + (_SHARED_GAP * g.row_gap if count else 0.0)
        rows += len(one.rows)
        if height > g.height or rows > most_rows(pages):
            break
        count += 1
    return max(1, count)


def place_together(pages: Filling, laid: Sequence[Laid]) -> list[float]:
    """Short models one below the other on a new page; gives the height each starts at."""
    g = pages.grid
    pages.turn()
    between = _SHARED_GAP * g.row_gap
    used = sum(one.compact(g) for one in laid) + between * (len(laid) - 1)
    spaces = sum(len(one.rows) for one in laid)
    gap = min(g.row_gap_most, g.row_gap + max(0.0, g.height - used) / max(1, spaces))
    tops: list[float] = []
    for one in laid:
        tops.append(pages.y)
        one.open_on(pages)
        for row in one.rows:
            pages.row(row, gap)
        pages.y += between
    return tops


@dataclass(frozen=True)
class _Plan:
    """Rows, which of them stand on which page, and what follows them on the first and last page."""

    rows: tuple[CellRow, ...]
    shares: tuple[range, ...]
    after_first: tuple[Part, ...] = ()
    after_last: tuple[Part, ...] = ()


def _plan(rows: tuple[CellRow, ...], room: Room, key: Key, g: Grid) -> _Plan:
    """The way with the fewest, most evenly filled pages.

    The key stands in the columns that the last row leaves free, where it is not too high for them;
    else below the last row, or, where that saves a page or fills the pages better, below the rows of
    the first page.
    """
    heights = [row.row for row in rows]
    plans: list[tuple[Cost, _Plan]] = []
    free = g.columns - len(rows[-1].cells) if rows and not rows[-1].wide else 0
    if free and (blocks := key(free)):
        aside = stacked([part.block for part in blocks], blocks[0].below)
        wider = (*rows[:-1], with_aside(rows[-1], aside))
        if wider[-1].height <= room.later:
            shares = paginate([row.row for row in wider], room)
            outsize = _OUTSIZE * (wider[-1].height > rows[-1].height)
            cost = (shares.cost[0], shares.cost[1] + outsize)
            plans.append((cost, _Plan(wider, shares.pages)))
    parts = key(g.columns)
    end = paginate(heights, replace(room, tail=_height_with_gap(parts, g)))
    plans.append((end.cost, _Plan(rows, end.pages, after_last=parts)))
    if parts and rows:
        first = replace(room, first=room.first - _height_with_gap(parts, g))
        early = paginate(heights, first)
        if early.pages[0]:
            plans.append((early.cost, _Plan(rows, early.pages, after_first=parts)))
    return min(plans, key=lambda plan: plan[0])[1]


def _height_with_gap(parts: Sequence[Part], g: Grid) -> float:
    return height_of(parts) + g.row_gap if parts else 0.0
