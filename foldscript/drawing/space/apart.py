"""Layers that lie flat together, drawn a hair apart, for pictures that are turned and know depths alone.

In: a pose. Out: for every point how far it is moved: as far as the layers that meet there are moved in the
mean, each along the way in which its stack lies, so that no joint opens.
"""

from __future__ import annotations

import numpy as np

from ...paper.union_find import UnionFind
from ...pose.pose import Pose
from .camera import Array

#: How far apart neighbours of a stack are drawn (mm): thick paper.
THICK = 0.08
#: The longest chain of layers that is followed.
_MOST = 200


def apart(pose: Pose, thick: float = THICK, most: float = np.inf) -> Array:
    """Shifts of points (n × 3, mm): neighbours of a stack `thick` apart, a whole stack `most`."""
    total, count = np.zeros((len(pose.space), 3)), np.zeros(len(pose.space))
    for piece, shift in zip(pose.pieces, by_layers(pose, thick, most), strict=True):
        corners = list(piece.corners)
        total[corners] += shift
        count[corners] += 1
    return total / np.maximum(count, 1)[:, None]


def by_layers(pose: Pose, thick: float, most: float) -> Array:
    """The same for whole pieces (n × 3, mm): moved so, their joints open."""
    space = np.array(pose.space, dtype=float)
    count = len(pose.pieces)
    if not pose.touching:
        return np.zeros((count, 3))
    normals = np.array([_normal(space[list(piece.corners)]) for piece in pose.pieces])
    stacks = UnionFind(count)
    for pair in pose.touching:
        stacks.unite(pair.one, pair.other)
    ways = np.zeros((count, 3))
    for stack in stacks.sets():
        first = min(stack)
        ways[list(stack)] = normals[first]
    one = np.array([pair.one for pair in pose.touching])
    other = np.array([pair.other for pair in pose.touching])
    on_front = np.array([pair.on_front for pair in pose.touching])
    along = (normals[one] * ways[one]).sum(axis=1) > 0
    nearer = on_front == along
    below, above = np.where(nearer, one, other), np.where(nearer, other, one)
    rank = np.zeros(count)
    for _ in range(_MOST):
        new = rank.copy()
        np.maximum.at(new, above, rank[below] + 1)
        if (new == rank).all():
            break
        rank = new
    for stack in stacks.sets():
        some = list(stack)
        high = float(np.ptp(rank[some]))
        rank[some] -= (rank[some].min() + rank[some].max()) / 2
        rank[some] *= min(thick, most / max(high, 1.0))
    return rank[:, None] * ways


def _normal(ring: Array) -> Array:
    n = np.cross(ring - ring[0], np.roll(ring, -1, axis=0) - ring[0]).sum(axis=0)
    size = float(np.sqrt(n @ n))
    return n / size if size > 0 else n
