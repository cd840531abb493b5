"""All ways in which the layers of a crease pattern can lie.

In: a `Pattern`, and for each crease whether it is a mountain, a valley, or left open. Out: layer orders
and mountain/valley assignments, listed or counted, or one folded `State`.

A crease is a valley where the fronts of the sheet meet: the upper one of its two layers shows its back.
Senses are given for the sheet as it lies with its front up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from types import MappingProxyType

from foldscript.geometry.isometries import map_segment
from foldscript.geometry.polygons import Polygon
from foldscript.paper.conditions import Hinge, Pair, conditions
from foldscript.paper.layers import WORK_LIMIT, Collision, OutOfWork, Solver
from foldscript.paper.overlaps import Overlaps
from foldscript.paper.signs import Sense
from foldscript.paper.state import State, placed_outline
from foldscript.source.diagnostics import Refusal

from .patterns import Pattern

#: One sense per crease as given to `pattern`; None leaves it open.
Senses = Sequence[Sense | None]

#: Which layer lies above: (i, j), i < j, is True when facet i lies above facet j.
Order = dict[Pair, bool]


def orders(
    pattern: Pattern, senses: Senses | None = None, *, work_limit: int = WORK_LIMIT
) -> Iterator[Order]:
    """Every layer order of a pattern, each once, always in the same order; none is no error.

    Parameters
    ----------
    senses : one for each crease given to `pattern` (also where others cross it); None: all open

    Raises
    ------
    Refusal : 'too-complex' when the search sets more than `work_limit` orders of two layers
    ValueError : when the number of senses is not that of the creases
    """
    try:
        solver = _solver(pattern, senses)
    except Collision:
        return
    try:
        yield from solver.orders(work_limit=work_limit)
    except OutOfWork:
        raise _too_complex() from None


def count_orders(
    pattern: Pattern, senses: Senses | None = None, *, work_limit: int = WORK_LIMIT
) -> int:
    """How many layer orders there are; arguments and errors as for `orders`."""
    return sum(1 for _ in orders(pattern, senses, work_limit=work_limit))


def assignments(
    pattern: Pattern, senses: Senses | None = None, *, work_limit: int = WORK_LIMIT
) -> Iterator[tuple[Sense, ...]]:
    """Every way to make the folds mountains and valleys that some layer order allows, each once.

    Gives one sense for each of `pattern.folds`; arguments and errors as for `orders`.
    """
    try:
        solver = _solver(pattern, senses)
    except Collision:
        return
    seen: set[tuple[Sense, ...]] = set()
    try:
        for order in solver.orders(work_limit=work_limit):
            senses_now = senses_of(pattern, order)
            if senses_now not in seen:
                seen.add(senses_now)
                yield senses_now
    except OutOfWork:
        raise _too_complex() from None


def count_assignments(
    pattern: Pattern, senses: Senses | None = None, *, work_limit: int = WORK_LIMIT
) -> int:
    """How many mountain/valley assignments there are; arguments and errors as for `orders`."""
    return sum(1 for _ in assignments(pattern, senses, work_limit=work_limit))


def senses_of(pattern: Pattern, order: Order) -> tuple[Sense, ...]:
    """The sense of each of the pattern's folds under a layer order."""
    return tuple(
        Sense.VALLEY
        if _above(order, f.a, f.b) != pattern.facets[f.a].shows_front
        else Sense.MOUNTAIN
        for f in pattern.folds
    )


def folded(pattern: Pattern, order: Order) -> State:
    """The pattern as a folded state."""
    return State(pattern.sheet, pattern.facets, MappingProxyType(dict(sorted(order.items()))))


def fold_pattern(pattern: Pattern, senses: Senses | None = None) -> State:
    """The pattern folded with the first of its layer orders.

    Raises
    ------
    Collision : when there is none; it names the facets that would pass through each other
    Refusal : 'too-complex' when the search gives up
    """
    try:
        return folded(pattern, _solver(pattern, senses).solve())
    except OutOfWork:
        raise _too_complex() from None


def _solver(pattern: Pattern, senses: Senses | None) -> Solver:
    if senses is not None and len(senses) != pattern.count:
        raise ValueError(f"{pattern.count} creases need as many senses, not {len(senses)}")
    facets = pattern.facets
    placed = [placed_outline(f) for f in facets]
    pairs = every_pair(placed)
    hinges = [
        Hinge(f.a, f.b, map_segment(facets[f.a].place, f.segment), True) for f in pattern.folds
    ]
    known: Order = {}
    for fold in pattern.folds if senses is not None else ():
        sense = senses[fold.crease] if senses is not None else None
        if sense is None:
            continue
        above = (sense is Sense.VALLEY) != facets[fold.a].shows_front
        i, j = _pair(fold.a, fold.b)
        value = above if i == fold.a else not above
        if known.setdefault((i, j), value) != value:
            raise Collision("interleaved", (i, j), hinges[0].segment[0])
    return Solver(placed, pairs, known, conditions(placed, hinges))


def every_pair(placed: Sequence[Polygon]) -> list[Pair]:
    """All pairs i < j of polygons that share area."""
    overlaps = Overlaps(placed)
    return [pair for pair in combinations(range(len(placed)), 2) if overlaps.pair(*pair)]


def _pair(i: int, j: int) -> Pair:
    return (i, j) if i < j else (j, i)


def _above(order: Order, i: int, j: int) -> bool:
    return order[i, j] if i < j else not order[j, i]


def _too_complex() -> Refusal:
    return Refusal(
        "too-complex",
        "the orders of the layers could not be listed within the work limit",
        "give more creases as mountain or valley, or allow more work",
    )
