"""Paper turned inside out where it lies: no piece comes to another place, and folds bend the other way.

In: the folded paper, and what passes through: the floor of a hull that comes out at its slit, or a folded
band that lies in the hull like a cuff in a sleeve. Out: the paper with other layers in front.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ...geometry.isometries import IDENTITY, map_segment
from ...geometry.lines import Segment, line_through, same_line
from ...paper.components import component
from ...paper.conditions import Pair
from ...paper.layers import Prefer
from ...paper.refold import refold
from ...paper.state import State
from ...paper.toggling import joints_along


@dataclass(frozen=True)
class Everted:
    """What has passed through, what that lies in front of now, the folds between, and the paper then.

    The facets and the joints are those of the paper before.
    """

    passed: frozenset[int]
    behind: frozenset[int]
    hinge: tuple[int, ...]
    after: State


def floor_behind(state: State, layer: int) -> frozenset[int]:
    """The plate of a layer with all that lies behind it: what hands push on there goes along."""
    found = set(state.plate(layer))
    todo = list(found)
    while todo:
        i = todo.pop()
        below = [state.plate(k) for k in state.neighbours[i] if state.above(i, k)]
        more = frozenset[int]().union(*below) - found
        found |= more
        todo.extend(sorted(more))
    return frozenset(found)


def pushed_through(state: State, floor: frozenset[int]) -> Everted:
    """The floor in front of all that it lay behind, as one piece; its folds to the rest bend the other way.

    Raises Collision and Refusal as `refold`.
    """
    orders: dict[Pair, bool] = {
        (m, s): True for m in floor for s in state.neighbours[m] if s not in floor
    }
    after = refold(state, dict.fromkeys(floor, IDENTITY), dict.fromkeys(floor, 0), orders)
    return Everted(floor, frozenset(s for _, s in orders), _hinge(state, floor), after)


def bends(state: State, members: Iterable[int]) -> bool:
    """Whether paper hangs on the rest along more than one line, and so does not just turn about it."""
    lines = [
        line_through(*map_segment(state.facets[state.joints[k].a].place, state.joints[k].segment))
        for k in _hinge(state, frozenset(members))
    ]
    return any(not same_line(lines[0], line) for line in lines)


def cuff(state: State, layers: Iterable[int], creases: Iterable[Segment]) -> frozenset[int] | None:
    """The folded band beyond a crease, with the first of these layers that is on one; None without one.

    It hangs on folds along that crease alone, two of them or more, is itself folded, and other paper lies in
    front of the layer.
    """
    barred = joints_along(state, creases)
    for layer in layers:
        band = component(state, [layer], barred)
        hinge = _hinge(state, band)
        folded = sum(j.folded and {j.a, j.b} <= band for j in state.joints)
        if len(hinge) < 2 or not folded or not all(state.joints[k].folded for k in hinge):
            continue
        floor = state.plate(layer)
        if any(state.above(s, i) for i in floor for s in state.neighbours[i] - band):
            return band
    return None


def cuff_out(
    state: State, band: frozenset[int], floor: frozenset[int], said: Prefer = lambda i, j: None
) -> Everted:
    """The band on the other side of what it hangs on, its floor in front of everything.

    Its folds to the rest bend the other way. Its other layers come out in front as well, as far as the paper
    and what is said of two layers let them.

    Raises Undecided where that leaves a choice, and Collision and Refusal as `refold`.
    """
    hinge = _hinge(state, band)
    orders: dict[Pair, bool] = {}
    for k in hinge:
        joint = state.joints[k]
        orders[joint.a, joint.b] = not state.above(joint.a, joint.b)
    behind = frozenset(s for i in floor for s in state.neighbours[i] - band)
    orders |= {(i, s): True for i in sorted(floor) for s in state.neighbours[i] - band}
    for one, other in state.order:
        above = said(one, other)
        if above is not None and not {(one, other), (other, one)} & orders.keys():
            orders[one, other] = above

    def in_front(i: int, j: int) -> bool | None:
        return None if (i in band) == (j in band) else i in band

    still = dict.fromkeys(band, IDENTITY)
    after = refold(state, still, {i: i for i in band}, orders, in_front, asks=True)
    return Everted(band, behind, hinge, after)


def _hinge(state: State, members: frozenset[int]) -> tuple[int, ...]:
    return tuple(k for k, j in enumerate(state.joints) if (j.a in members) != (j.b in members))
