"""Pagination: a model's head and notes, rows of figures and key, brought to pages.

In: a model's blocks, and pages to put them on. Out: the pages made up. As few pages as possible,
evenly filled; the key stands where it costs least.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from .. import measures
from ..document import Block, stacked
from ..grid import Grid
from ..sizes import PageSize
from .cells import CellRow, in_the_middle, with_aside
from .makeup import PageMakeup, SpacedBlock, height_of
from .page_breaks import Cost, PageRoom, page_breaks

#: The key's parts when it is so wide, in points; () for no key.
KeyBlocks = Callable[[float], tuple[SpacedBlock, ...]]


@dataclass(frozen=True)
class ModelBlocks:
    """A model's blocks, in the order they are read: head, notes too long for it, rows of figures.

    `close` tells that head and notes are set closer than usual.
    """

    head: Block
    notes: tuple[SpacedBlock, ...]
    rows: tuple[CellRow, ...]
    close: bool = False

    def above(self, g: Grid) -> float:
        """Height of what stands above the rows, with the least space below it."""
        return self.head.height + g.row_gap + _height_with_gap(self.notes, g)

    def compact(self, g: Grid) -> float:
        """Height of everything with the least space between the rows."""
        rows = sum(row.height + g.row_gap for row in self.rows)
        return self.above(g) + rows

    def begins(self, g: Grid) -> bool:
        """Whether the first figures stand on the page with the head, or there are none."""
        return not self.rows or self.above(g) + self.rows[0].height <= g.height + measures.ROUNDING

    def open_on(self, pages: PageMakeup) -> None:
        """Puts what is read before the first fold: head and notes."""
        pages.put(self.head, pages.grid.row_gap)
        for part in self.notes:
            pages.put(part.block, part.below)


def page_count(blocks: ModelBlocks, g: Grid, size: PageSize) -> int:
    """How many pages a model takes."""
    pages = PageMakeup(g, size)
    paginate(pages, blocks)
    return len(pages.items)


def no_key(width: float) -> tuple[SpacedBlock, ...]:
    """A key without entries."""
    return ()


def paginate(pages: PageMakeup, blocks: ModelBlocks, key: KeyBlocks = no_key) -> None:
    """Fills pages with a model, from the top of a new one."""
    g = pages.grid
    pages.turn()
    blocks.open_on(pages)
    room = PageRoom(
        first=g.bottom - pages.y,
        later=g.height,
        gap=g.row_gap,
        most=g.rows_most,
        stretch=g.row_gap_most - g.row_gap,
        above=1,
    )
    plan = _plan(blocks.rows, room, key, g)
    pages.waste += plan.cost[1] + (measures.COSTS.head_close if blocks.close else 0.0)
    for number, share in enumerate(plan.shares):
        if number > 0:
            pages.turn()
        after = plan.key if number == plan.key_page else ()
        group = plan.rows[share.start : share.stop]
        gap = pages.even_gap(group, after, below_head=number == 0)
        for place, row in enumerate(group, 1):
            closer = measures.KEY.above if after and place == len(group) else 1.0
            pages.row(row, closer * gap)
        if number < plan.last:
            pages.y = max(pages.y, g.bottom - height_of(after))
        pages.parts(after)


def sharing(pages: PageMakeup, blocks: Sequence[ModelBlocks]) -> int:
    """How many of these models, from the first on, stand on one page together; at least one."""
    g = pages.grid
    height, rows, count = 0.0, 0, 0
    for one in blocks:
        height += one.compact(g) + (measures.SHARED_GAP * g.row_gap if count else 0.0)
        rows += len(one.rows)
        if height > g.height or rows > g.rows_most:
            break
        count += 1
    return max(1, count)


def paginate_together(pages: PageMakeup, blocks: Sequence[ModelBlocks]) -> list[float]:
    """Short models one below the other on a new page; gives the height each starts at."""
    g = pages.grid
    pages.turn()
    between = measures.SHARED_GAP * g.row_gap
    used = sum(one.compact(g) for one in blocks) + between * (len(blocks) - 1)
    spaces = sum(len(one.rows) for one in blocks)
    gap = min(g.row_gap_most, g.row_gap + max(0.0, g.height - used) / max(1, spaces))
    tops: list[float] = []
    for one in blocks:
        tops.append(pages.y)
        one.open_on(pages)
        for row in one.rows:
            pages.row(row, gap)
        pages.y += between
    return tops


@dataclass(frozen=True)
class _Plan:
    """Rows, which of them stand on which page, and the key at the foot of one of these.

    `cost` is the number of pages, and how poorly they are filled.
    """

    rows: tuple[CellRow, ...]
    shares: tuple[range, ...]
    key: tuple[SpacedBlock, ...] = ()
    key_page: int = -1
    cost: Cost = (0, 0.0)

    @property
    def last(self) -> int:
        """The number of the last page with rows, or for the key."""
        return len(self.shares) - 1

    def closing(self, key: tuple[SpacedBlock, ...]) -> _Plan:
        """The plan with a key on the last page, from where it may run on."""
        return replace(self, key=key, key_page=self.last)


def _plan(rows: tuple[CellRow, ...], room: PageRoom, key: KeyBlocks, g: Grid) -> _Plan:
    """The way with the fewest, most evenly filled pages.

    The key stands in the columns that the last row leaves free, where it is hardly higher or saves a page;
    else below the last row, from where it may run on to the next page; or, where that saves a page or
    fills the pages much better, at the very foot of an earlier page.
    """
    return min(_plans(rows, room, key, g), key=lambda plan: plan.cost)


def _plans(rows: tuple[CellRow, ...], room: PageRoom, key: KeyBlocks, g: Grid) -> Iterator[_Plan]:
    costs, held = measures.COSTS, measures.KEY.held
    heights = [row.size for row in rows]
    free = g.columns - len(rows[-1].cells) if rows and not rows[-1].wide else 0
    parts = key(g.width)
    if free and (blocks := key(g.span(free))):
        aside = stacked([part.block for part in blocks], blocks[0].below)
        if aside.height <= room.later:
            wider = (*rows[:-1], with_aside(rows[-1], aside))
            shares = page_breaks([row.size for row in wider], room)
            high = costs.key_higher * (aside.height > costs.key_aside * rows[-1].height)
            high += costs.key_high * max(0.0, aside.height / g.key_most - 1.0)
            yield _costed(_Plan(wider, shares.pages), room, high)
    if rows:
        rows = (*rows[:-1], in_the_middle(rows[-1], g))
    tail = _height_of_key(parts, g)
    end = page_breaks(heights, replace(room, tail=tail))
    yield _costed(_Plan(rows, end.pages).closing(parts), room, 0.0)
    if not parts or not rows:
        return
    alone = (*page_breaks(heights, room).pages, range(len(rows), len(rows)))
    yield _costed(_Plan(rows, alone).closing(parts), room, 0.0)
    for count in range(held, len(parts) - held + 1, held):
        begun = page_breaks(heights, replace(room, tail=_height_of_key(parts[:count], g)))
        yield _costed(_Plan(rows, begun.pages).closing(parts), room, 0.0)
    for number in range(len(end.pages)):
        less = replace(room, reserved=(number, tail))
        early = page_breaks(heights, less).pages
        if number >= len(early) - 1 or not early[number]:
            continue
        if rows[early[number].start].height <= less.space(number) + measures.ROUNDING:
            yield _costed(_Plan(rows, early, parts, number), room, costs.key_early)


def _costed(plan: _Plan, room: PageRoom, more: float) -> _Plan:
    """The plan with its cost: `more`, and the squares of the part of every page that is left empty."""
    costs = measures.COSTS
    waste = more
    pages = len(plan.shares)
    for number, share in enumerate(plan.shares):
        group = plan.rows[share.start : share.stop]
        keyed = bool(plan.key) and number == plan.key_page
        left = room.space(number) - sum(row.height for row in group)
        left -= room.gap * (max(0, len(group) - 1) + measures.KEY.above * keyed)
        gaps = room.spaces(number, len(group), keyed)
        if keyed and number == plan.last:
            overleaf, poor = _running_on(plan.key, left, room, gaps)
            pages += overleaf
            waste += poor
        else:
            empty = room.emptiness_inside if number < plan.last else room.emptiness_last
            waste += empty(left - (height_of(plan.key) if keyed else 0.0), gaps)
        if not group:
            waste += costs.head_alone if number == 0 else costs.key_alone
        elif 0 < number < plan.last and sum(len(row.cells) for row in group) == 1:
            waste += costs.single
        elif number and all(not f.label for row in group for f, _ in row.cells):
            waste += costs.finished_with_key if keyed else costs.finished_alone
        elif keyed and number == pages - 1 and _only_finished(group[-1]):
            waste += costs.finished_with_key
    return replace(plan, cost=(pages, waste))


def _only_finished(row: CellRow) -> bool:
    """Whether a row leaves columns free beside the finished model."""
    return not row.wide and all(not figure.label for figure, _ in row.cells)


def _running_on(
    parts: Sequence[SpacedBlock], space: float, room: PageRoom, gaps: float
) -> tuple[int, float]:
    """How many more pages parts take that begin in so much space, below gaps, and what that costs."""
    costs, held = measures.COSTS, measures.KEY.held
    overleaf, waste, on_page, left = 0, 0.0, 0, space
    for part in parts:
        if part.block.height > left + measures.ROUNDING:
            waste += (
                room.emptiness(left, gaps)
                + costs.key_broken
                + (costs.key_broken if on_page < held else 0.0)
            )
            overleaf, on_page, left = overleaf + 1, 0, room.later
            left -= (part.overleaf or part.block).height + part.below
        else:
            left -= part.block.height + part.below
        on_page += 1
    if overleaf and on_page < held:
        waste += 2 * costs.key_broken
    waste += room.emptiness_last(left, 0 if overleaf else gaps)
    return overleaf, waste + (costs.key_alone if overleaf else 0.0)


def _height_with_gap(parts: Sequence[SpacedBlock], g: Grid) -> float:
    return height_of(parts) + g.row_gap if parts else 0.0


def _height_of_key(parts: Sequence[SpacedBlock], g: Grid) -> float:
    return height_of(parts) + measures.KEY.above * g.row_gap if parts else 0.0
