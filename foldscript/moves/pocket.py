"""Pockets: where the layers of a model part into a front and a back.

In: a divided state and the mouth of the pocket, a place on the edge of the model where its layers lie
open. Out: ways to part the layers there, the likeliest first; each tells for every piece whether it
goes with the front or with the back.

What lies over a front layer goes with the front, what lies under a back layer with the back; the rest
goes with what it hangs on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..geometry.isometries import map_segment
from ..geometry.lines import Point, Segment, add, point_on_segment, scale
from ..paper.state import State

#: How far inside the mouth the layers are looked at, in sheet units.
STEP = 1e-3


@dataclass(frozen=True)
class Parted:
    """The pieces of a state that belong to the front of a pocket, and those of its back."""

    front: frozenset[int]
    back: frozenset[int]


def partings(state: State, mouth: Point, along: Point, inward: Point) -> Iterator[Parted]:
    """Ways to part the layers at the mouth of a pocket, the most even first.

    Parameters
    ----------
    mouth : a folded point on the edge of the model
    along : unit vector along that edge, toward where the layers are looked at
    inward : unit vector into the model
    """
    beside = add(mouth, scale(along, STEP))
    spot = add(beside, scale(inward, STEP))
    stack = state.facets_at(spot)
    joined = [
        (joint.a, joint.b)
        for joint in state.joints
        if joint.folded and point_on_segment(_placed(state, joint.a, joint.segment), beside)
    ]
    count = len(stack)
    for k in sorted(range(1, count), key=lambda k: (abs(2 * k - count), k)):
        front, back = frozenset(stack[:k]), frozenset(stack[k:])
        if any((a in front) != (b in front) for a, b in joined if {a, b} <= front | back):
            continue
        parted = _spread(state, set(front), set(back))
        if parted is not None:
            yield parted


def _placed(state: State, facet: int, segment: Segment) -> Segment:
    return map_segment(state.facets[facet].place, segment)


def _spread(state: State, front: set[int], back: set[int]) -> Parted | None:
    """Every piece's side; None when one would have to go with both."""
    links: list[list[tuple[int, bool]]] = [[] for _ in state.facets]
    for joint in state.joints:
        links[joint.a].append((joint.b, joint.folded))
        links[joint.b].append((joint.a, joint.folded))
    count = len(state.facets)
    while len(front) + len(back) < count:
        grown = False
        for i in range(count):
            if i in front or i in back:
                continue
            over = any(state.above(i, k) for k in state.neighbours[i] & front)
            under = any(state.above(k, i) for k in state.neighbours[i] & back)
            if over and under:
                return None
            if over or under:
                (front if over else back).add(i)
                grown = True
        if grown:
            continue
        for folded in (False, True):
            for i in range(count):
                if i in front or i in back:
                    continue
                near = {k for k, f in links[i] if f == folded}
                if near & front or near & back:
                    (front if near & front else back).add(i)
                    grown = True
                    break
            if grown:
                break
        if not grown:
            return None
    return Parted(frozenset(front), frozenset(back))
