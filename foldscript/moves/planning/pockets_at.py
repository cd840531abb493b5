"""Pockets that lie at a point: between which two layers paper may go in there.

In: a state and a point on it. Out: the gaps between neighbouring layers of the stack there that are pockets:
their layers hold together by a fold, so that what goes in stays in. A point that stands for one layer names
the gaps next to that layer only.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from ...paper.state import State
from ...source.diagnostics import Refusal
from .request import PointValue

#: How a script names the layers of a stack, from the top.
_FROM_TOP = (
    *("top layer", "second layer", "third layer", "fourth layer", "fifth layer"),
    *("sixth layer", "seventh layer", "eighth layer", "ninth layer", "tenth layer"),
)


@dataclass(frozen=True)
class Gap:
    """Two flat pieces of paper, one next below the other; `said` is what a script calls them there."""

    over: frozenset[int]
    below: frozenset[int]
    said: tuple[str, str]

    def words(self, at: str) -> str:
        """'between top layer at P and second layer at P', as a script says it."""
        return " and ".join(f"{layer} at {at}" for layer in self.said)


def pockets_at(state: State, point: PointValue) -> list[Gap]:
    """The pockets at a point, the topmost first. Raises Refusal when there are none."""
    stack = [frozenset(state.plate(i)) for i in state.facets_at(point.at)]
    plates = list(dict.fromkeys(stack))
    own = state.plate(point.facets[0]) if _on_one_layer(point) and point.facets else None
    gaps = [
        Gap(over, below, (_called(k, len(plates)), _called(k + 1, len(plates))))
        for k, (over, below) in enumerate(pairwise(plates))
        if own is None or own in (over, below)
    ]
    found = [gap for gap in gaps if _hold_together(state, gap)]
    if not found:
        raise Refusal(
            "no-pocket",
            f"there is no pocket at {point.words.render()}: "
            + (
                "only one layer lies there"
                if len(plates) < 2
                else "no two layers that lie on each other there are joined by a fold"
            ),
            "name a point on the edge of the pocket where it is open",
            "to lie under a layer that holds nothing say 'under' and a point of it",
            span=point.span,
        )
    return found


def _on_one_layer(point: PointValue) -> bool:
    return point.layer or bool(point.letter and not point.seen)


def _called(index: int, count: int) -> str:
    """What a layer is called by its place in the stack."""
    if index == count - 1 or index >= len(_FROM_TOP):
        return "bottom layer"
    return _FROM_TOP[index]


def _hold_together(state: State, gap: Gap) -> bool:
    """Whether a fold joins the two layers, or both to one layer that closes the pocket between them."""
    beside = [
        {
            k
            for joint in state.joints
            if joint.folded
            for i, k in ((joint.a, joint.b), (joint.b, joint.a))
            if i in plate
        }
        for plate in (gap.over, gap.below)
    ]
    joined = bool(beside[0] & gap.below)
    between = [
        k
        for k in beside[0] & beside[1]
        if any(state.above(i, k) for i in gap.over) and any(state.above(k, j) for j in gap.below)
    ]
    return joined or bool(between)
