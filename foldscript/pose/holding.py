"""Places that hands hold: which pieces and points of the paper are meant, and whether they stay together.

In: the paper in pieces or layers, a goal. Out: points and pieces, and what was reached, measured on the
finished places.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations

import numpy as np

from ..geometry.polygons import depth
from .goals import Goal, Hold
from .layers import Layers
from .pieces import Array, Pieces
from .pose import Reached

#: Millimetres that layers that are held may be apart.
_TOGETHER = 0.5


def held_piece(pieces: Pieces, goal: Hold) -> int:
    """The piece that a hand holds."""
    deep = [depth(pieces.polygon(k), goal.point) for k in range(len(pieces.rings))]
    return max(range(len(deep)), key=lambda k: (round(deep[k], 9), -k))


def together(pieces: Pieces, space: Array, goal: Hold) -> Reached:
    """How far the layers that are held have come apart, in mm."""
    state = pieces.state
    there: list[Array] = []
    for k, ring in enumerate(pieces.rings):
        facet = state.facets[pieces.facets[k]]
        flat = [facet.place(p) for p in pieces.polygon(k)]
        around = tuple(flat if facet.shows_front else flat[::-1])
        if depth(around, goal.at) > -1e-6:
            known = np.c_[np.array(flat), np.ones(len(flat))]
            affine, *_ = np.linalg.lstsq(known, space[list(ring)], rcond=None)
            there.append(np.array([*goal.at, 1.0]) @ affine)
    apart = max((math.dist(p, q) for p, q in combinations(there, 2)), default=0.0)
    return Reached("hold", 0.0, apart, "mm", apart <= _TOGETHER)


def held_corners(layers: Layers, goals: Sequence[Goal]) -> list[int]:
    """The corners of a net at which layers are held together."""
    nodes = layers.nodes
    return [
        int(np.argmin(((nodes - goal.at) ** 2).sum(axis=1)))
        for goal in goals
        if isinstance(goal, Hold)
    ]


def held_points(layers: Layers, goal: Hold) -> tuple[int, ...]:
    """All points of a net that lie where it is held."""
    (node,) = held_corners(layers, [goal])
    return tuple(int(v) for v in np.flatnonzero(layers.node == node))
