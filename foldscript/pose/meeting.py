"""Pieces that come to lie flat on each other: which is on which side.

In: plane pieces in space, and where their points were shortly before, stage by stage. Out: pairs that lie
together, with the side. Where they are pressed flat, no distance is left to tell it by; they lie as they
came, so it is taken from the last moment at which they were apart.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.tolerance import EPS
from .pieces import Array
from .vectors import cross

#: Least overlap (square sheet units), and the least distance (sheet units) that tells a side.
_OVERLAP, _APART = 1e-5, 1e-3


def met(
    rings: Sequence[Sequence[int]],
    places: Array,
    passed: Sequence[Array],
    near: float,
    known: Collection[frozenset[int]] = (),
) -> list[tuple[int, int, bool]]:
    """(one, other, on the one's front) for pieces that lie within `near` (sheet units) of each other's
    plane.

    `passed` are earlier places of all points, the oldest first. Pairs that are `known`, or were never
    apart, are left out.
    """
    most = max(len(ring) for ring in rings)  # the last corner of shorter ones is told more often
    corners = np.array([[*ring, *ring[-1:] * (most - len(ring))] for ring in map(tuple, rings)])
    t = places[corners]
    n = _normals(t)
    low, high = t.min(axis=1) - near, t.max(axis=1) + near
    found: list[tuple[int, int, bool]] = []
    for i in range(len(corners)):
        beside = (low[i + 1 :] <= high[i]).all(axis=1) & (high[i + 1 :] >= low[i]).all(axis=1)
        others = i + 1 + np.flatnonzero(beside)
        others = others[np.abs(n[others] @ n[i]) > 0.999]
        others = others[(np.abs((t[others] - t[i, 0]) @ n[i]).max(axis=1) < near)]
        for j in (int(k) for k in others[_overlap(t[i], t[others], n[i])]):
            if frozenset((i, j)) in known:
                continue
            spot = _common(t[i], t[j], n[i])
            if spot is None:
                continue
            for before in reversed(passed):
                p, q = (before[corners[k]] for k in (i, j))
                (side,) = _normals(p[None])
                height = float((_share(t[j], spot) @ q - _share(t[i], spot) @ p) @ side)
                if abs(height) > _APART:
                    found.append((i, j, height > 0))
                    break
    return found


def _normals(rings: Array) -> Array:
    """Unit normals of polygons in space (m × k × 3), on the side from which they run counter-clockwise."""
    n = cross(rings, np.roll(rings, -1, axis=1)).sum(axis=1)
    return n / np.maximum(np.sqrt((n * n).sum(axis=1)), 1e-300)[:, None]


def _overlap(one: Array, others: Array, n: Array) -> NDArray[np.bool_]:
    """Which of some pieces in nearly one plane may share more with one than a side.

    Source: two outlines are apart where a line along a side of one of them parts them.
    """
    both = np.ones(len(others), dtype=bool)
    across = cross(n, np.roll(one, -1, axis=0) - one)
    ways = [np.broadcast_to(a, (len(others), 3)) for a in across]
    ways += [cross(n, side) for side in np.moveaxis(np.roll(others, -1, axis=1) - others, 1, 0)]
    for way in ways:
        long = np.sqrt((way * way).sum(axis=1))
        far = way / np.where(long > 0, long, np.inf)[:, None]
        mine, theirs = far @ one.T, (others * far[:, None, :]).sum(axis=2)
        common = np.minimum(mine.max(axis=1), theirs.max(axis=1)) - np.maximum(
            mine.min(axis=1), theirs.min(axis=1)
        )
        both &= (common > _OVERLAP) | (long <= 0)
    return both


def _common(one: Array, other: Array, n: Array) -> Array | None:
    """The middle of what two pieces in nearly one plane share, None where that is next to nothing."""
    u = one[1] - one[0]
    u = u / np.sqrt(u @ u)
    v = cross(n, u)
    a, b = (shapely.Polygon(np.c_[(t - one[0]) @ u, (t - one[0]) @ v]) for t in (one, other))
    common = shapely.intersection(a, b, grid_size=EPS)
    if common.area < _OVERLAP:
        return None
    middle = common.centroid
    if not common.intersects(middle):
        middle = common.representative_point()
    return one[0] + middle.x * u + middle.y * v


def _share(t: Array, spot: Array) -> Array:
    """How much of each of its corners makes up a point in a piece's plane: the least that does."""
    middle = t.mean(axis=0)
    across = np.r_[(t - middle).T, np.ones((1, len(t)))]
    share, *_ = np.linalg.lstsq(across, np.r_[spot - middle, 1.0], rcond=None)
    return share
