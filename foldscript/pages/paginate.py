"""Sharing rows out over pages.

In: the height of every row, the room on the first and on later pages, and the height of what
follows the last row. Out: which rows stand on which page. As few pages as possible; among those,
no last page with a single figure on it, and pages as evenly filled as can be.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

_ROOM = 1e-6  # points; heights that add up to the page exactly still fit


@dataclass(frozen=True, slots=True)
class Row:
    """Height in points of a row of figures, and how many figures stand in it."""

    height: float
    figures: int


@dataclass(frozen=True, slots=True)
class Room:
    """Room for rows, in points: on the first page, on a later page, between rows; most rows a page.

    `tail` is the height needed below the last row, on the same page if it fits there.
    """

    first: float
    later: float
    gap: float
    most: int
    tail: float = 0.0


_Cost = tuple[int, int, float]


def paginate(rows: Sequence[Row], room: Room) -> list[range]:
    """Row numbers of each page; the last range is empty when the tail needs a page of its own.

    The first range is empty when the head leaves no room for a row. A row taller than a page gets
    one to itself: callers make sure that there is none.
    """
    best: list[tuple[_Cost, list[range]] | None] = [None] * (len(rows) + 1)
    best[0] = ((0, 0, 0.0), [])
    for end in range(1, len(rows) + 1):
        for start in range(max(0, end - room.most), end):
            before = best[start]
            if before is None:
                continue
            (pages, lonely, unevenness), ranges = before
            if start == 0 and _filled(rows[:end], room.gap) > room.first + _ROOM:
                pages, ranges = 1, [range(0)]  # the head alone
            height = _filled(rows[start:end], room.gap)
            space = room.first if not ranges else room.later
            if height > space + _ROOM and (end - start > 1 or not ranges):
                continue
            last = end == len(rows)
            ranges = [*ranges, range(start, end)]
            pages += 1
            if last and room.tail and height + room.tail > space + _ROOM:
                ranges.append(range(end, end))
                pages += 1
            if last and pages > 1 and sum(row.figures for row in rows[start:end]) == 1:
                lonely += 1
            used = height + (room.tail if last else 0.0)
            spare = max(0.0, 1.0 - used / space)
            cost = (pages, lonely, unevenness + spare * spare)
            found = best[end]
            if found is None or cost < found[0]:
                best[end] = (cost, ranges)
    done = best[len(rows)]
    assert done is not None  # a single row always finds a page
    if not rows:
        return [range(0)]
    return done[1]


def _filled(rows: Sequence[Row], gap: float) -> float:
    return sum(row.height for row in rows) + gap * (len(rows) - 1)
