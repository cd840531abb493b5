"""Folded maps and strips by brute force: every pile is tried, no layer condition of the package used.

A map of equal cells folds into one cell; its layers are a pile. A strip of unequal cells is tried with
every combination of 'i above j'.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from functools import cache

from foldscript.paper.signs import Sense

Cell = tuple[int, int]
Bond = tuple[Cell, Cell]


def bonds(columns: int, rows: int) -> list[Bond]:
    """Neighbouring cells, in the order of `sheets.grid_creases`."""
    upright = [((x, y), (x + 1, y)) for y in range(rows) for x in range(columns - 1)]
    level = [((x, y), (x, y + 1)) for y in range(rows - 1) for x in range(columns)]
    return [*upright, *level]


@cache
def map_foldings(columns: int, rows: int) -> tuple[tuple[Sense, ...], ...]:
    """The senses of all creases, once for every pile that a map of equal cells folds into.

    Two creases that come to lie on the same side of the pile may not interleave.
    """
    cells = [(x, y) for y in range(rows) for x in range(columns)]
    sides: dict[tuple[bool, int], list[Bond]] = {}
    for (x, y), other in bonds(columns, rows):
        level = other[0] == x
        sides.setdefault((level, (y if level else x) % 2), []).append(((x, y), other))
    found = []
    for pile in itertools.permutations(cells):  # topmost first
        height = {cell: k for k, cell in enumerate(pile)}
        if all(_nested([_span(height, b) for b in side]) for side in sides.values()):
            found.append(
                tuple(
                    # the upper cell of a valley fold shows its back
                    Sense.VALLEY if sum(min(bond, key=height.__getitem__)) % 2 else Sense.MOUNTAIN
                    for bond in bonds(columns, rows)
                )
            )
    return tuple(found)


def _span(height: Mapping[Cell, int], bond: Bond) -> tuple[int, int]:
    a, b = height[bond[0]], height[bond[1]]
    return (a, b) if a < b else (b, a)


def _nested(spans: Sequence[tuple[int, int]]) -> bool:
    return not any(
        a < c < b < d or c < a < d < b for (a, b), (c, d) in itertools.combinations(spans, 2)
    )


def strip_orders(widths: Sequence[int]) -> Iterator[dict[tuple[int, int], bool]]:
    """Every sound 'i above j' of a folded strip of cells with these widths (whole numbers)."""
    ends = [0]
    for k, width in enumerate(widths):
        ends.append(ends[-1] + (width if k % 2 == 0 else -width))
    spans = [(min(p), max(p)) for p in itertools.pairwise(ends)]
    cells = range(len(widths))
    pairs = [
        (i, j)
        for i, j in itertools.combinations(cells, 2)
        if max(spans[i][0], spans[j][0]) < min(spans[i][1], spans[j][1])
    ]
    for values in itertools.product((True, False), repeat=len(pairs)):
        order = dict(zip(pairs, values, strict=True))
        if _strip_is_sound(ends, spans, order):
            yield order


def _strip_is_sound(
    ends: Sequence[int], spans: Sequence[tuple[int, int]], order: Mapping[tuple[int, int], bool]
) -> bool:
    height: dict[int, dict[int, int]] = {}  # in each unit of length: cell -> how many lie under it
    for at in range(min(ends), max(ends)):
        here = [k for k, (lo, hi) in enumerate(spans) if lo <= at < hi]
        under = {k: sum(_over(order, k, m) for m in here if m != k) for k in here}
        if sorted(under.values()) != list(range(len(here))):
            return False
        height[at] = under
    for turn in range(1, len(ends) - 1):
        left = spans[turn - 1][1] == ends[turn]  # the two cells lie left of their fold
        under = height[ends[turn] - 1 if left else ends[turn]]
        lo, hi = sorted((under[turn - 1], under[turn]))
        for k, (start, end) in enumerate(spans):
            if start < ends[turn] < end and lo < under[k] < hi:
                return False
        for other in range(1, len(ends) - 1):
            if other != turn and ends[other] == ends[turn]:
                inner = [lo < under[k] < hi for k in (other - 1, other) if k in under]
                if len(inner) == 2 and inner[0] != inner[1]:
                    return False
    return True


def _over(order: Mapping[tuple[int, int], bool], i: int, j: int) -> bool:
    return order[i, j] if i < j else not order[j, i]
