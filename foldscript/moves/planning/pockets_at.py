"""Pockets that lie at a point: between which two layers paper may go in there.

In: a state and a point on it. Out: the gaps between neighbouring layers of the stack there; of a point on a
layer that was said ('second layer at P') only those next to that layer. Those whose layers a fold joins are
what one calls a pocket first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from ...geometry.cover import union
from ...geometry.lines import Point, Segment
from ...geometry.polygons import area, centroid, intersection
from ...geometry.tolerance import EPS
from ...paper.state import State
from ...source.diagnostics import Refusal
from .request import PointValue

#: How far from a place the stack beside it is looked at, in sheet units, and in how many directions.
_NEAR, _DIRECTIONS = 1e-4, 64
#: How a script names the layers of a stack, from the top.
FROM_TOP = (
    *("top layer", "second layer", "third layer", "fourth layer", "fifth layer"),
    *("sixth layer", "seventh layer", "eighth layer", "ninth layer", "tenth layer"),
)


@dataclass(frozen=True)
class Gap:
    """Two flat pieces of paper, one next below the other.

    `said` is what a script calls them there, '' for one that lies deeper than a script counts.
    """

    over: frozenset[int]
    below: frozenset[int]
    said: tuple[str, str]


def pockets_at(state: State, point: PointValue) -> list[Gap]:
    """The pockets at a point, the topmost first. Raises Refusal when there are none."""
    plates = _plates(state, point.at)
    own = state.plate(point.facets[0]) if point.layer else None
    order = {plate: k for k, plate in enumerate(plates)}
    pairs = {
        pair
        for spot in _around(point.at)
        for pair in pairwise(_plates(state, spot))
        if set(pair) <= order.keys() and (own is None or own in pair)
    }
    gaps = [
        Gap(over, below, (_called(order[over], len(plates)), _called(order[below], len(plates))))
        for over, below in sorted(pairs, key=lambda pair: (order[pair[0]], order[pair[1]]))
    ]
    if not gaps:
        raise Refusal(
            "no-pocket",
            f"there is no pocket at {point.words.render()}: only one layer lies there",
            "name a point on the edge of the pocket where it is open",
            span=point.span,
        )
    return gaps


def _plates(state: State, at: Point) -> list[frozenset[int]]:
    """The flat pieces of paper at a place, the topmost first."""
    return list(dict.fromkeys(state.plate(i) for i in state.facets_at(at)))


def _around(at: Point) -> list[Point]:
    """Places close by on all sides: on an edge of a layer the stack is not the same on both sides of it."""
    turns = [(k + 0.5) * 2 * math.pi / _DIRECTIONS for k in range(_DIRECTIONS)]
    return [(at[0] + _NEAR * math.cos(t), at[1] + _NEAR * math.sin(t)) for t in turns]


def beside(state: State, point: PointValue, gap: Gap) -> bool:
    """Whether a gap is next to the layer that a named point lies on."""
    return bool(point.letter) and state.plate(point.facets[0]) in (gap.over, gap.below)


def lies_in(before: State, gap: Gap, after: State, spots: Sequence[Point]) -> bool:
    """Whether a flap with these places on the sheet lies right under the one layer and right on the other.

    Where none is named below, the flap may lie deeper under the one above.
    Between its own paper and another layer that no fold joins to it, it lies in no pocket.
    """
    own = {i for spot in spots for i in before.facets_on_sheet(spot)}
    if own & (gap.over | gap.below) and not joined(before, gap):
        return False

    def now(plate: frozenset[int]) -> set[int]:
        return {k for i in plate for k in after.facets_on_sheet(centroid(before.facets[i].outline))}

    moved = {i for spot in spots for i in after.facets_on_sheet(spot)}
    over, below = now(gap.over) - moved, now(gap.below) - moved
    if not gap.below:
        return any(after.above(k, i) for k in over for i in moved)
    return any(_next_to(after, k, i) for k in over for i in moved) and any(
        _next_to(after, i, k) for k in below for i in moved
    )


def _next_to(state: State, upper: int, lower: int) -> bool:
    """Whether one layer lies over another with nothing between them, at least in a part."""
    if not state.above(upper, lower):
        return False
    common = intersection(state.placed[upper], state.placed[lower])
    between = [
        part
        for k in state.neighbours[upper] & state.neighbours[lower]
        if state.above(upper, k) and state.above(k, lower)
        if (part := intersection(common, state.placed[k]))
    ]
    return union(between).area < area(common) - EPS


def _called(index: int, count: int) -> str:
    """What a layer is called by its place in the stack; '' where a script has no word for that."""
    if index == count - 1:
        return "bottom layer"
    return FROM_TOP[index] if index < len(FROM_TOP) else ""


def joined(state: State, gap: Gap) -> bool:
    """Whether a fold joins the two layers, or both to one layer that closes the pocket between them."""
    return bool(closing(state, gap))


def closing(state: State, gap: Gap) -> list[Segment]:
    """The folds, as they lie, that join the two layers, or both to one layer between them."""
    near: list[dict[int, list[Segment]]] = [{}, {}]
    for joint, seg in state.fold_segments:
        for i, k in ((joint.a, joint.b), (joint.b, joint.a)):
            for side, plate in zip(near, (gap.over, gap.below), strict=True):
                if i in plate:
                    side.setdefault(k, []).append(seg)
    direct = [seg for k in sorted(near[0].keys() & gap.below) for seg in near[0][k]]
    between = [
        seg
        for k in sorted(near[0].keys() & near[1].keys())
        if any(state.above(i, k) for i in gap.over) and any(state.above(k, j) for j in gap.below)
        for seg in (*near[0][k], *near[1][k])
    ]
    return direct or between
