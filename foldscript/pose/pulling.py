"""Points that are pulled away from what is held: which points, what opens for it, how far they came.

In: paper in layers, a goal. Out: points of the net, gaps that open, what was reached.
"""

from __future__ import annotations

import math
from collections import deque

import numpy as np

from ..geometry.lines import Point
from ..geometry.polygons import depth
from ..paper.state import State
from ..source.diagnostics import Refusal
from .gaps import Gap, Gaps
from .goals import Pull
from .layers import Layers
from .pieces import Array, Pieces
from .pose import Reached
from .proof import normal

#: Shares of what a point is pulled by that have to be there, and may be.
_PULLED = (0.85, 1.15)
#: Sheet units from which on two places do not lie over each other.
_BESIDE = 1e-3


def pulled(layers: Layers, goal: Pull) -> tuple[int, int]:
    """The point of a net that is pulled, and the one that is held."""
    points = layers.pieces.points
    one, other = (int(np.argmin(((points - p) ** 2).sum(axis=1))) for p in (goal.point, goal.held))
    return one, other


def aside(state: State, goal: Pull) -> bool:
    """Whether a point is pulled out of the plane beside what is held, and not over it."""
    return bool(goal.way[2]) and math.dist(*(state.where(p) for p in _ends(goal))) > _BESIDE


def _ends(goal: Pull) -> tuple[Point, Point]:
    return goal.point, goal.held


def beside_held(layers: Layers, goal: Pull) -> list[int]:
    """The other corners of a triangle at what is held."""
    _, held = pulled(layers, goal)
    ring = next(ring for ring in layers.pieces.rings if held in ring)
    return [v for v in ring if v != held]


def drawn_out(pieces: Pieces, goal: Pull, space: Array) -> Reached:
    """How much farther than flat a point is from what is held, in mm.

    Where it is pulled out of the plane beside that, how high it is above the plane of the paper there.
    """
    state = pieces.state
    (_, one), (k, other) = (carried(pieces, space, p) for p in _ends(goal))
    if aside(state, goal):
        front = state.facets[pieces.facets[k]].shows_front
        up = normal(space[list(pieces.rings[k])]) * (1.0 if front else -1.0)
        got = float((one - other) @ up) * goal.way[2]
    else:
        flat = math.dist(*(state.where(p) for p in _ends(goal)))
        got = math.dist(one, other) - flat * state.sheet.unit_mm
    near = _PULLED[0] <= got / goal.by <= _PULLED[1]
    return Reached("pull", goal.by, got, "mm", near)


def carried(pieces: Pieces, space: Array, p: Point) -> tuple[int, Array]:
    """The piece that has a place of the sheet, and where it has it in space."""
    deep = [depth(pieces.polygon(k), p) for k in range(len(pieces.rings))]
    piece = max(range(len(deep)), key=lambda k: (round(deep[k], 9), -k))
    ring = list(pieces.rings[piece])
    known = np.c_[pieces.points[ring], np.ones(len(ring))]
    affine, *_ = np.linalg.lstsq(known, space[ring], rcond=None)
    return piece, np.array([*p, 1.0]) @ affine


def along_the_way(gaps: Gaps, goal: Pull) -> set[Gap]:
    """The spaces inside the folds between a point that is pulled and what is held: the shortest way from the
    one to the other, facet by facet.

    Raises Refusal, 'no-opening', where no fold lies between them.
    """
    layers = gaps.layers
    state = layers.pieces.state
    first = state.facets_on_sheet(goal.held)
    last = set(state.facets_on_sheet(goal.point))
    came: dict[int, int] = {k: k for k in first}
    waiting = deque(first)
    while waiting and not last & came.keys():
        here = waiting.popleft()
        for joint in state.joints:
            if here in (joint.a, joint.b):
                other = joint.b if here == joint.a else joint.a
                if other not in came:
                    came[other] = here
                    waiting.append(other)
    end = next((k for k in came if k in last), None)
    found: set[Gap] = set()
    while end is not None and came[end] != end:
        found |= _beside_fold(gaps, end, came[end])
        end = came[end]
    if not found:
        raise Refusal(
            "no-opening",
            "no fold lies between the point that is pulled and what is held, and flat paper does not stretch",
        )
    return {gap for space in gaps.spaces(found) for gap in space}


def _beside_fold(gaps: Gaps, one: int, other: int) -> set[Gap]:
    """The gaps between two facets where both lie in a column."""
    facets = gaps.layers.pieces.facets
    found: set[Gap] = set()
    for c, some in enumerate(gaps.layers.columns):
        here = [k for k, t in enumerate(some) if facets[t] in (one, other)]
        if len(here) == 2:
            found |= {(c, k) for k in range(here[0] + 1, here[1] + 1)}
    return found
