"""Pieces that come to lie flat on each other: which is on which side.

In: triangles in space, and where their points were shortly before, stage by stage. Out: pairs that lie
together, with the side. Where they are pressed flat, no distance is left to tell it by; they lie as they
came, so it is taken from the last moment at which they were apart.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from .pieces import Array

#: Least overlap (square sheet units), and the least distance (sheet units) that tells a side.
_OVERLAP, _APART = 1e-5, 1e-3


def met(
    rings: Sequence[Sequence[int]],
    places: Array,
    passed: Sequence[Array],
    near: float,
    known: Collection[frozenset[int]] = (),
) -> list[tuple[int, int, bool]]:
    """(one, other, on the one's front) for triangles that lie within `near` (sheet units) of each other's
    plane.

    `passed` are earlier places of all points, the oldest first. Pairs that are `known`, or were never
    apart, are left out.
    """
    corners = np.array(rings, dtype=np.int64)
    t = places[corners]
    n = np.cross(t[:, 1] - t[:, 0], t[:, 2] - t[:, 0])
    n /= np.maximum(np.sqrt((n * n).sum(axis=1)), 1e-300)[:, None]
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
                side = np.cross(p[1] - p[0], p[2] - p[0])
                side /= np.sqrt(side @ side)
                height = float((_share(t[j], spot) @ q - _share(t[i], spot) @ p) @ side)
                if abs(height) > _APART:
                    found.append((i, j, height > 0))
                    break
    return found


def _overlap(one: Array, others: Array, n: Array) -> NDArray[np.bool_]:
    """Which of some triangles in nearly one plane may share more with one than a side.

    Source: two convex outlines are apart where a line along a side of one of them parts them.
    """
    both = np.ones(len(others), dtype=bool)
    across = np.cross(n, np.roll(one, -1, axis=0) - one)
    ways = [np.broadcast_to(a, (len(others), 3)) for a in across]
    ways += [np.cross(n, others[:, (k + 1) % 3] - others[:, k]) for k in range(3)]
    for way in ways:
        far = way / np.sqrt((way * way).sum(axis=1))[:, None]
        mine, theirs = far @ one.T, (others * far[:, None, :]).sum(axis=2)
        common = np.minimum(mine.max(axis=1), theirs.max(axis=1)) - np.maximum(
            mine.min(axis=1), theirs.min(axis=1)
        )
        both &= common > _OVERLAP
    return both


def _common(one: Array, other: Array, n: Array) -> Array | None:
    """The middle of what two triangles in nearly one plane share, None where that is next to nothing."""
    u = one[1] - one[0]
    u = u / np.sqrt(u @ u)
    v = np.cross(n, u)
    a, b = (shapely.Polygon(np.c_[(t - one[0]) @ u, (t - one[0]) @ v]) for t in (one, other))
    common = a.intersection(b)
    if common.area < _OVERLAP:
        return None
    middle = common.centroid
    return one[0] + middle.x * u + middle.y * v


def _share(t: Array, spot: Array) -> Array:
    """How much of each corner of a triangle makes up a point in its plane."""
    across = np.stack([t[1] - t[0], t[2] - t[0]], axis=1)
    (b, c), *_ = np.linalg.lstsq(across, spot - t[0], rcond=None)
    return np.array([1 - b - c, b, c])
