"""Page breaks: which rows stand on which page.

In: the height of every row, the room on the first and on later pages, and the height of what
follows the last row. Out: which rows stand on which page. As few pages as possible; among those,
pages filled alike, and no single figure left over for the last page unless the page before it
would be left rather empty.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .. import measures


@dataclass(frozen=True, slots=True)
class RowSize:
    """Height in points of a row, how many figures stand in it, and whether something else does.

    `goes_on` tells that it begins with what belongs to the row before: a step half way.
    """

    height: float
    figures: int
    accompanied: bool = False
    goes_on: bool = False


@dataclass(frozen=True, slots=True)
class PageRoom:
    """Room for rows, in points: on the first page, on a later page, between rows; most rows a page.

    `tail` is the height needed below the last row, on the same page if it fits there; `stretch` how much
    wider a gap may be made where rows leave room; `above` how many gaps stand above the first page's rows.
    `reserved` is the number of a page, and the height needed at its foot.
    """

    first: float
    later: float
    gap: float
    most: int
    tail: float = 0.0
    stretch: float = 0.0
    above: int = 0
    reserved: tuple[int, float] = (-1, 0.0)

    def space(self, page: int) -> float:
        """Room for the rows of a page, counted from 0."""
        number, height = self.reserved
        return (self.later if page else self.first) - (height if page == number else 0.0)

    def spaces(self, page: int, rows: int, followed: bool = False) -> float:
        """How many gaps there are on a page with so many rows, of which one above a key is narrower."""
        between = max(0, rows - 1) + (self.above if rows and not page else 0)
        return between + (measures.KEY.above if followed or page == self.reserved[0] else 0.0)

    def emptiness(self, left: float, gaps: float = 0.0) -> float:
        """What it costs that so much height is left on a page when its gaps have been stretched."""
        m = measures.COSTS
        part = max(0.0, left - self.stretch * gaps) / self.later
        return part**2 + m.foot * max(0.0, part - m.foot_free)

    def emptiness_last(self, left: float, gaps: float) -> float:
        """The same on the last page, where a reader looks for nothing more."""
        return measures.COSTS.last * self.emptiness(left, gaps)

    def emptiness_inside(self, left: float, gaps: float) -> float:
        """The same on a page that more of the model follows, which should not look like a last one."""
        m = measures.COSTS
        poor = left - self.stretch * gaps > m.poor_from * self.later
        return self.emptiness(left, gaps) + (m.poor if poor else 0.0)


#: Number of pages; then how poorly they are filled: the sum of squares of the part left empty on
#: every page, and more for a tail or a single figure alone on a page (`measures.PageCosts`); twice as much
#: where nothing else keeps the last figure company.
Cost = tuple[int, float]


@dataclass(frozen=True, slots=True)
class PageBreaks:
    """Row numbers of each page, and the cost by which two ways of sharing out are compared."""

    pages: tuple[range, ...]
    cost: Cost = (0, 0.0)


def page_breaks(rows: Sequence[RowSize], room: PageRoom) -> PageBreaks:
    """The best way to share rows out.

    The last range is empty when the tail needs a page of its own, and the first when the head
    leaves no room for a row. A row taller than its page, less what is reserved there, gets one to itself:
    callers make sure that there is none.
    """
    if not rows:
        fits = room.tail <= room.first + measures.ROUNDING
        return PageBreaks((range(0),) if fits else (range(0), range(0)))
    head_alone = rows[0].height > room.space(0) + measures.ROUNDING
    start = PageBreaks((range(0),), (1, 0.0)) if head_alone else PageBreaks(())
    best: list[PageBreaks | None] = [start] + [None] * len(rows)
    for end in range(1, len(rows) + 1):
        for begin in range(max(0, end - room.most), end):
            before = best[begin]
            if before is None:
                continue
            found = _with_page(before, rows, range(begin, end), room)
            rival = best[end]
            if found is not None and (rival is None or found.cost < rival.cost):
                best[end] = found
    done = best[len(rows)]
    assert done is not None  # one row a page is always possible
    return done


def _with_page(
    before: PageBreaks, rows: Sequence[RowSize], share: range, room: PageRoom
) -> PageBreaks | None:
    """One more page with these rows; None when they are too much for it."""
    costs = measures.COSTS
    pages, waste = before.cost
    group = rows[share.start : share.stop]
    height = sum(row.height for row in group) + room.gap * (len(group) - 1)
    number = len(before.pages)
    space = room.space(number)
    if height > space + measures.ROUNDING and (len(group) > 1 or not before.pages):
        return None
    shares = [*before.pages, share]
    waste += costs.half_parted * (bool(before.pages) and group[0].goes_on)
    gaps = room.spaces(number, len(group))
    if share.stop < len(rows):
        waste += room.emptiness_inside(space - height, gaps)
        if before.pages and sum(row.figures for row in group) == 1:
            waste += costs.single
    else:
        if height + room.tail > space + measures.ROUNDING:
            shares.append(range(share.stop, share.stop))
            waste += room.emptiness(space - height, gaps) + costs.tail_alone
            waste += room.emptiness_last(room.later - room.tail, 0)
        else:
            gaps = room.spaces(number, len(group), room.tail > 0.0)
            waste += room.emptiness_last(space - height - room.tail, gaps)
        if len(shares) > 1 and sum(row.figures for row in group) == 1:
            waste += (
                costs.tail_alone if room.tail or group[-1].accompanied else 2 * costs.tail_alone
            )
    return PageBreaks(tuple(shares), (pages + len(shares) - len(before.pages), waste))
