"""Placing one model on pages: head and notes, rows of figures, and the key.

In: a model's head and figures, a page to start on. Out: the pages filled. As few pages as possible,
evenly filled; the key stands where it costs least.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
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
#: What it costs in evenness of the pages: a key beside the last row that is higher than the row; one
#: below the first page's rows; one that runs on to the next page; entries set closer; a page with a
#: key alone, with a head alone, with the finished model alone, with it and the key;
#: a head set closer.
_OUTSIZE, _EARLY, _BROKEN, _CLOSE = 0.03, 0.08, 0.12, 0.02
_KEY_ALONE, _HEAD_ALONE, _FINISHED_ALONE, _FINISHED_WITH_KEY = 0.15, 0.7, 0.4, 0.1
_CLOSE_HEAD = 0.25
#: Fewest entries of a key that is broken on either page.
_HELD = 3

#: Space above a model that shares a page with the one before it, in spaces between rows.
_SHARED_GAP = 2.0

#: The key's parts when it is so many columns wide, its entries close together or not; () for no key.
Key = Callable[[int, bool], tuple[Part, ...]]


@dataclass(frozen=True)
class Laid:
    """A model's blocks, in the order they are read: head, notes too long for it, rows of figures.

    `close` tells that head and notes are set closer than usual.
    """

    head: Block
    notes: tuple[Part, ...]
    rows: tuple[CellRow, ...]
    close: bool = False

    def compact(self, g: Grid) -> float:
        """Height of everything with the least space between the rows."""
        rows = sum(row.height + g.row_gap for row in self.rows)
        return self.head.height + g.row_gap + _height_with_gap(self.notes, g) + rows

    def begins(self, g: Grid) -> bool:
        """Whether the first figures stand on the page with the head, or there are none."""
        above = self.head.height + g.row_gap + _height_with_gap(self.notes, g)
        return not self.rows or above + self.rows[0].height <= g.height + 1e-6

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


def no_key(columns: int, close: bool = False) -> tuple[Part, ...]:
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
    pages.waste += plan.cost[1] + (_CLOSE_HEAD if laid.close else 0.0)
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
            pages.part(part)


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
    """Rows, which of them stand on which page, and what follows them on the first and last page.

    `cost` is the number of pages, and how poorly they are filled.
    """

    rows: tuple[CellRow, ...]
    shares: tuple[range, ...]
    after_first: tuple[Part, ...] = ()
    after_last: tuple[Part, ...] = ()
    cost: Cost = (0, 0.0)


def _plan(rows: tuple[CellRow, ...], room: Room, key: Key, g: Grid) -> _Plan:
    """The way with the fewest, most evenly filled pages.

    The key stands in the columns that the last row leaves free, where it is not too high for them;
    else below the last row, from where it may run on to the next page; or, where that saves a page or
    fills the pages much better, below the rows of the first page.
    """
    return min(_plans(rows, room, key, g), key=lambda plan: plan.cost)


def _plans(rows: tuple[CellRow, ...], room: Room, key: Key, g: Grid) -> Iterator[_Plan]:
    heights = [row.row for row in rows]
    free = g.columns - len(rows[-1].cells) if rows and not rows[-1].wide else 0
    for close in (False, True):
        more = _CLOSE if close else 0.0
        parts = key(g.columns, close)
        if free and (blocks := key(free, close)):
            aside = stacked([part.block for part in blocks], blocks[0].below)
            wider = (*rows[:-1], with_aside(rows[-1], aside))
            if wider[-1].height <= room.later:
                shares = paginate([row.row for row in wider], room)
                outsize = _OUTSIZE * (wider[-1].height > rows[-1].height)
                yield _costed(_Plan(wider, shares.pages), room, more + outsize)
        end = paginate(heights, replace(room, tail=_height_with_gap(parts, g)))
        yield _costed(_Plan(rows, end.pages, after_last=parts), room, more)
        if not parts or not rows:
            return
        alone = (*paginate(heights, room).pages, range(len(rows), len(rows)))
        yield _costed(_Plan(rows, alone, after_last=parts), room, more)
        for count in range(_HELD, len(parts) - _HELD + 1, _HELD):
            begun = paginate(heights, replace(room, tail=_height_with_gap(parts[:count], g)))
            yield _costed(_Plan(rows, begun.pages, after_last=parts), room, more)
        early = paginate(heights, replace(room, first=room.first - _height_with_gap(parts, g)))
        if early.pages[0]:
            yield _costed(_Plan(rows, early.pages, after_first=parts), room, more + _EARLY)


def _costed(plan: _Plan, room: Room, more: float) -> _Plan:
    """The plan with its cost: `more`, and the squares of the part of every page that is left empty."""
    waste = more
    pages = len(plan.shares)
    for number, share in enumerate(plan.shares):
        space = room.first if number == 0 else room.later
        group = plan.rows[share.start : share.stop]
        used = sum(row.height for row in group) + room.gap * max(0, len(group) - 1)
        if number == 0 and plan.after_first:
            used += room.gap + height_of(plan.after_first)
        if number < len(plan.shares) - 1 or not plan.after_last:
            waste += _empty(space - used, room)
        else:
            overleaf, left = _running_on(plan.after_last, space - used - room.gap, room)
            pages += overleaf
            waste += left
        if not group:
            waste += _HEAD_ALONE if number == 0 else _KEY_ALONE
        elif number and all(not f.label for row in group for f, _ in row.cells):
            waste += _FINISHED_WITH_KEY if plan.after_last else _FINISHED_ALONE
    return replace(plan, cost=(pages, waste))


def _running_on(parts: Sequence[Part], space: float, room: Room) -> tuple[int, float]:
    """How many more pages parts take that begin in so much space, and what that costs."""
    overleaf, waste, on_page, left = 0, 0.0, 0, space
    for part in parts:
        if part.block.height > left + 1e-6:
            waste += _empty(left, room) + _BROKEN + (_BROKEN if on_page < _HELD else 0.0)
            overleaf, on_page, left = overleaf + 1, 0, room.later
            left -= (part.overleaf or part.block).height + part.below
        else:
            left -= part.block.height + part.below
        on_page += 1
    if overleaf and on_page < _HELD:
        waste += 2 * _BROKEN
    return overleaf, waste + _empty(left, room) + (_KEY_ALONE if overleaf else 0.0)


def _empty(left: float, room: Room) -> float:
    """What so much empty space on a page costs."""
    return max(0.0, left / room.later) ** 2


def _height_with_gap(parts: Sequence[Part], g: Grid) -> float:
    return height_of(parts) + g.row_gap if parts else 0.0
