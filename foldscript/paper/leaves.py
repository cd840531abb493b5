"""Flaps turned like the leaves of a book, about a line where they are joined.

In: a state and the line of the spine. Out: the state with its uppermost or undermost flap turned to
the other side. No new crease is made: the flap bends only where there is a fold or a crease already.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..geometry.lines import Line, distance, flipped
from ..source.diagnostics import Refusal
from .flap import Blocked, Flap, flap, fold_flap, moving_parts, sheet_segments
from .layers import Collision
from .seams import remainder
from .signs import Sense
from .state import State


@dataclass(frozen=True)
class Turned:
    """A flap that has been turned: the flap as it lay, and the paper afterwards."""

    flap: Flap
    after: State


def turn_leaf(state: State, spine: Line, *, front: bool) -> Turned | None:
    """Turns the nearest flap on the spine's left over to its right, in front of everything or behind.

    None when no flap there can be turned without a new crease.
    """
    parts = moving_parts(state, spine)
    stack = state.top_down(parts)
    sense = Sense.VALLEY if front else Sense.MOUNTAIN
    for seed in stack if front else stack[::-1]:
        try:
            leaf = flap(state, spine, [seed])
            if not _bends_on_creases(state, leaf) or len(leaf.facets) == len(state.facets):
                continue
            return Turned(leaf, fold_flap(state, leaf, sense))
        except (Refusal, Blocked, Collision):
            continue
    return None


def leaf_round(state: State, spine: Line) -> tuple[Turned, Turned] | None:
    """One flap from the spine's left to its right in front, and one from right to left behind.

    So as many flaps lie on either side as before. None when either cannot be turned.
    """
    first = turn_leaf(state, spine, front=True)
    if first is None:
        return None
    second = turn_leaf(first.after, flipped(spine), front=False)
    return None if second is None else (first, second)


def _bends_on_creases(state: State, leaf: Flap) -> bool:
    """Whether the flap bends only where there is a fold or a flat crease."""
    there = [*state.creases, *(j.segment for j in state.joints if j.folded)]
    bends = sheet_segments(state, leaf.creases)
    return all(distance(*s) <= 1e-7 for s in remainder(bends, there))
