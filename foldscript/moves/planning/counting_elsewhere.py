"""A number of layers counted anywhere on the paper that moves, not only where the words point.

A wing may have two layers at its tip and four beside its fold, and lie on another like it: `4 layers` is true
of it, though at the tip four layers are those of both wings.

In: the paper, the fold line, what the words point at. Out: the flaps that some number of layers takes along.
They follow from the paper alone, in no order that could matter.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass

from ...geometry.cover import cells
from ...paper.flap import Flap, flap, moving_parts
from ...paper.state import State
from ...source.diagnostics import Refusal
from .alignment import Alignment
from .counting import Way, pile_at, thickest
from .request import Request

#: Places times layers that are counted at most; beyond, a number is counted only where the words point.
_MOST = 400


@dataclass(frozen=True)
class Counted:
    """A flap that a number of layers takes along: so many where most of them lie over each other.

    `starts` are the facets that were counted, a set for every way to count.
    """

    flap: Flap
    layers: int
    starts: tuple[frozenset[int], ...]


def counted_anywhere(
    state: State, one: Alignment, carriers: Sequence[int], others: Iterable[int], way: Way
) -> list[Counted]:
    """The flaps that hold one of the carriers, counted at every place from the side that folds."""
    also = frozenset(others)
    piles = _piles(state, one, carriers, way)
    if sum(map(len, piles)) > _MOST:
        return []
    carrying = set(carriers)
    starts = {
        frozenset(i for plate in pile[:count] for i in plate)
        for pile in piles
        for count in range(1, len(pile) + 1)
    }
    found: dict[tuple[int, ...], list[frozenset[int]]] = {}
    flaps: dict[tuple[int, ...], Flap] = {}
    for start in starts:
        if not start & carrying:
            continue
        with suppress(Refusal):
            moving = flap(state, one.line, start | also)
            flaps[moving.facets] = moving
            found.setdefault(moving.facets, []).append(start)
    return [
        Counted(flaps[facets], thickest(state, facets, flaps[facets].parts), tuple(some))
        for facets, some in sorted(found.items())
    ]


def _piles(
    state: State, one: Alignment, carriers: Collection[int], way: Way
) -> set[tuple[tuple[int, ...], ...]]:
    """The layers, from the side that folds, wherever the smallest flaps of the carriers lie."""
    parts = moving_parts(state, one.line)
    members: set[int] = set()
    for seed in carriers:
        with suppress(Refusal):
            members.update(flap(state, one.line, [seed]).facets)
    piles = {
        tuple(tuple(plate) for plate in pile_at(state, parts, spot, way))
        for spot, _ in cells([parts[i] for i in sorted(parts)])
    }
    return {pile for pile in piles if any(i in members for plate in pile for i in plate)}


def several_counted(request: Request, flaps: Sequence[Flap]) -> Refusal:
    """Refuses a number of layers that several flaps have, each at another place."""
    tops = (_alone_in(request.state, moving, flaps) for moving in flaps)
    names = sorted({request.describe(i) for i in tops if i is not None})
    which = f": {' or '.join(names)}" if len(names) == len(flaps) else ""
    return Refusal(
        "which-layers",
        f"{len(flaps)} flaps of so many layers can move here{which}",
        "name with 'moving' a point that only the flap that is meant has",
        span=request.span,
    )


def _alone_in(state: State, moving: Flap, flaps: Sequence[Flap]) -> int | None:
    """The topmost facet of a flap that is in none of the others."""
    others = {i for one in flaps if one is not moving for i in one.facets}
    return next(iter(state.top_down(set(moving.facets) - others)), None)
