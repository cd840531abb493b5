"""Pieces that come to lie flat on each other: which is on which side.

In: plane pieces in space, and where their points were shortly before, stage by stage. Out: pairs that lie
together, with the side, and pairs of which it cannot be told. Where they are pressed flat, no distance is
left to tell it by; they lie as they came, so it is taken from the last moment at which they were apart.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from ..geometry.tolerance import EPS
from .pieces import Array
from .vectors import cross

#: Least overlap (square sheet units), and the least distance (sheet units) that tells a side.
_OVERLAP, _APART = 1e-5, 1e-3
#: Where they share less in width (sheet units), nothing is seen of it.
_THIN = 1e-3
#: The distance that tells a side where they lie in the end.
_TOLD = 1e-4


@dataclass(frozen=True)
class Meeting:
    """Pairs of pieces that lie together: of which it is known on which side (one, other, on the one's
    front), and of which it is not.
    """

    sides: tuple[tuple[int, int, bool], ...]
    unsure: tuple[tuple[int, int], ...]


def met(
    rings: Sequence[Sequence[int]],
    places: Array,
    passed: Sequence[Array],
    near: float,
    known: Collection[frozenset[int]] = (),
) -> Meeting:
    """Pieces that lie within `near` (sheet units) of each other's plane.

    `passed` are earlier places of all points, the oldest first. Pairs that are `known` are left out; those
    that were never apart are unsure, where no height tells them either.
    """
    most = max(len(ring) for ring in rings)  # the last corner of shorter ones is told more often
    corners = np.array([[*ring, *ring[-1:] * (most - len(ring))] for ring in map(tuple, rings)])
    t = places[corners]
    n = _normals(t)
    sides: list[tuple[int, int, bool]] = []
    unsure: list[tuple[int, int]] = []
    for i, j in _overlapping(t, n, near):
        if frozenset((i, j)) in known:
            continue
        spot, wide = _common(t[i], t[j], n[i])
        if spot is None:
            continue
        for before, least in [*((p, _APART) for p in reversed(passed)), (places, _TOLD)]:
            p, q = (before[corners[k]] for k in (i, j))
            (side,) = _normals(p[None])
            height = float((_share(t[j], spot) @ q - _share(t[i], spot) @ p) @ side)
            if abs(height) > least:
                sides.append((i, j, height > 0))
                break
        else:
            if wide:
                unsure.append((i, j))
    return Meeting(tuple(sides), tuple(unsure))


def _normals(rings: Array) -> Array:
    """Unit normals of polygons in space (m × k × 3), on the side from which they run counter-clockwise."""
    n = cross(rings, np.roll(rings, -1, axis=1)).sum(axis=1)
    return n / np.maximum(np.sqrt((n * n).sum(axis=1)), 1e-300)[:, None]


def _overlapping(t: Array, n: Array, near: float) -> list[tuple[int, int]]:
    """Pairs of pieces (m × k × 3, with normals) in nearly one plane that may share more than a side.

    Source: two outlines are apart where a line along a side of one of them parts them.
    """
    low, high = t.min(axis=1) - near, t.max(axis=1) + near
    beside = np.abs(n @ n.T) > 0.999
    for k in range(3):
        beside &= (low[:, None, k] <= high[None, :, k]) & (high[:, None, k] >= low[None, :, k])
    i, j = np.nonzero(np.triu(beside, 1))
    on = np.abs(((t[j] - t[i, :1]) * n[i, None]).sum(axis=2)).max(axis=1) < near
    i, j = i[on], j[on]
    for which in (0, 1):
        mine = t[j if which else i]
        sides = cross(n[i, None], np.roll(mine, -1, axis=1) - mine)
        both = np.ones(len(i), dtype=bool)
        for side in np.moveaxis(sides, 1, 0):
            long = np.sqrt((side * side).sum(axis=1))
            far = side / np.where(long > 0, long, np.inf)[:, None]
            one, other = ((t[k] * far[:, None]).sum(axis=2) for k in (i, j))
            common = np.minimum(one.max(axis=1), other.max(axis=1)) - np.maximum(
                one.min(axis=1), other.min(axis=1)
            )
            both &= (common > _OVERLAP) | (long <= 0)
        i, j = i[both], j[both]
    return list(zip(i.tolist(), j.tolist(), strict=True))


def _common(one: Array, other: Array, n: Array) -> tuple[Array | None, bool]:
    """The middle of what two pieces in nearly one plane share, None where that is next to nothing; and
    whether it is more than a slip beside a common side.
    """
    u = one[1] - one[0]
    u = u / np.sqrt(u @ u)
    v = cross(n, u)
    a, b = (shapely.Polygon(np.c_[(t - one[0]) @ u, (t - one[0]) @ v]) for t in (one, other))
    common = shapely.intersection(a, b, grid_size=EPS)
    if common.area < _OVERLAP:
        return None, False
    middle = common.centroid
    if not common.intersects(middle):
        middle = common.representative_point()
    wide = not shapely.is_empty(shapely.buffer(common, -_THIN / 2))
    return one[0] + middle.x * u + middle.y * v, wide


def _share(t: Array, spot: Array) -> Array:
    """How much of each of its corners makes up a point in a piece's plane: the least that does."""
    middle = t.mean(axis=0)
    across = np.r_[(t - middle).T, np.ones((1, len(t)))]
    share, *_ = np.linalg.lstsq(across, np.r_[spot - middle, 1.0], rcond=None)
    return share
