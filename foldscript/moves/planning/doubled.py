"""Doubled flaps that are folded in along a line: which they are, and how they come out inside out.

In: a point's layers and the line. Out: the flap that is held by folds along that line alone, parted into what
hangs on the upper and on the lower ones of the layers that hold it; and the paper with these folds open, the
flap's halves swung out on their own sides of each other.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass

from ...geometry import polygons
from ...geometry.isometries import reflection
from ...geometry.lines import Line
from ...geometry.tolerance import EPS
from ...paper.components import adjacency, component_beside
from ...paper.conditions import Pair
from ...paper.layers import Collision
from ...paper.refold import refold
from ...paper.state import State
from ...source.diagnostics import Refusal
from .request import PointValue, Request


@dataclass(frozen=True)
class Doubled:
    """A flap of two halves, and the joints along the line that hold it."""

    front: frozenset[int]
    back: frozenset[int]
    hinge: tuple[int, ...]

    def is_doubled(self, state: State) -> bool:
        """Whether a fold lies between its halves."""
        return any(
            joint.folded and {joint.a, joint.b} & self.front and {joint.a, joint.b} & self.back
            for joint in state.joints
        )

    def is_flap(self, state: State) -> bool:
        """Whether no more paper turns than stays."""
        turned = sum(polygons.area(state.facets[i].outline) for i in self.front | self.back)
        whole = sum(polygons.area(facet.outline) for facet in state.facets)
        return turned <= whole / 2 + EPS


def held_flap(state: State, layers: Iterable[int], line: Line) -> Doubled | None:
    """The first flap of these layers that only folds along the line hold, on the line's left.

    None where paper would have to bend there anew, or nothing is folded along the line.
    """
    for facet in layers:
        members = component_beside(state, line, [facet])
        hinge = tuple(k for k, j in enumerate(state.joints) if (j.a in members) != (j.b in members))
        if not hinge:
            continue
        beyond = any(polygons.half_plane_extent(state.placed[i], line)[0] < -EPS for i in members)
        if beyond or not all(state.joints[k].folded for k in hinge):
            return None
        return Doubled(*_halves(state, members, hinge), hinge)
    return None


def _halves(
    state: State, movers: frozenset[int], hinge: tuple[int, ...]
) -> tuple[frozenset[int], frozenset[int]]:
    """Which pieces hang on the upper ones of the layers that hold the flap, and which on the lower ones."""
    ends = [
        (j.a, j.b) if j.a in movers else (j.b, j.a) for j in map(state.joints.__getitem__, hinge)
    ]
    holders = {s for _, s in ends}
    front: dict[int, bool] = {}
    for m, s in sorted(ends):
        over = sum(state.above(other, s) is True for other in holders)
        under = sum(state.above(s, other) is True for other in holders)
        if over != under:
            front.setdefault(m, over < under)
    joined = adjacency(j for j in state.joints if j.a in movers and j.b in movers)
    queue = deque(sorted(front))
    while queue:
        i = queue.popleft()
        for k in joined.get(i, ()):
            if k not in front:
                front[k] = front[i]
                queue.append(k)
    return (
        frozenset(k for k, over in front.items() if over),
        frozenset(k for k, over in front.items() if not over),
    )


def turned_out(state: State, flap: Doubled, line: Line) -> State:
    """Both halves reflected, what hangs on the front in front of everything, the other half behind.

    Raises Refusal and Collision as `refold`.
    """
    movers = flap.front | flap.back
    orders: dict[Pair, bool] = {}
    for m in movers:
        for s in range(len(state.facets)):
            if s not in movers or (m in flap.front and s in flap.back):
                orders[m, s] = m in flap.front
    return refold(
        state,
        dict.fromkeys(movers, reflection(line)),
        {m: 0 if m in flap.front else 1 for m in movers},
        orders,
    )


def comes_out_doubled(state: State, layers: Iterable[int], line: Line) -> bool:
    """Whether the flap of these layers comes out inside out along the line (the flap on its left)."""
    flap = held_flap(state, layers, line)
    if flap is None or not flap.is_doubled(state) or not flap.is_flap(state):
        return False
    try:
        turned_out(state, flap, line)
    except (Refusal, Collision):
        return False
    return True


def lies_folded(request: Request, p: PointValue, line: Line) -> Refusal | None:
    """Of a fold along a line, the flap on its left, which is a doubled one and folded there already."""
    if not comes_out_doubled(request.state, p.facets, line):
        return None
    name = p.words.render()
    return Refusal(
        "lies-folded",
        f"along this line {name} is folded already: that fold would open, no paper bend",
        f"to bring it out, say 'turn inside out {name} along ...', and name the fold",
        span=request.span,
    )
