"""Which polygons a side of one of them parts from each other, for many pairs at once.

In: rings of corners, and pairs of their numbers. Out: for each pair whether the one lies, but for less than a
width, beyond a side of the other: then they have no more than such a strip in common. It is far quicker than
to cut one out of the other, and of pieces that lie in one plane most pairs only touch.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

#: Corners of a polygon may lie so far beyond a side that is part of its hull, as a share of that side.
_STRAIGHT = 1e-9


def parted(
    rings: Sequence[ArrayLike],
    one: NDArray[np.int64],
    other: NDArray[np.int64],
    width: float = 0.0,
) -> NDArray[np.bool_]:
    """Whether a side parts the polygons of each pair; no side that lies within its polygon's hull does.

    Parameters
    ----------
    rings : corners of every polygon (n × 2), either way round
    one, other : pairs of numbers of polygons
    width : of the strip that they may share and are parted still, in the unit of the corners
    """
    found = np.zeros(len(one), dtype=bool)
    if not len(one):
        return found
    corners = _corners(rings)
    for k in range(corners.shape[1]):
        start = corners[:, k]
        way = np.roll(corners, -1, axis=1)[:, k] - start
        long = np.hypot(way[:, 0], way[:, 1])
        on_hull = (long > 0.0) & (_beside(start, way, corners).min(axis=1) >= -_STRAIGHT * long**2)
        for here, there in ((one, other), (other, one)):
            left = np.flatnonzero(~found & on_hull[here])
            mine = here[left]
            inside = _beside(start[mine], way[mine], corners[there[left]])
            found[left] = inside.max(axis=1) <= width * long[mine]
    return found


def _beside(
    start: NDArray[np.float64], way: NDArray[np.float64], corners: NDArray[np.float64]
) -> NDArray[np.float64]:
    """How far corners (n × m × 2) lie to the left of lines, times the length of each line's way (n × 2)."""
    off = corners - start[:, None]
    return way[:, :1] * off[..., 1] - way[:, 1:] * off[..., 0]


def _corners(rings: Sequence[ArrayLike]) -> NDArray[np.float64]:
    """All rings counter-clockwise and with as many corners: the last of each comes again and again."""
    every = [np.asarray(ring, dtype=float).reshape(-1, 2) for ring in rings]
    out = np.zeros((len(every), max(len(ring) for ring in every), 2))
    for k, ring in enumerate(every):
        if len(ring):
            out[k, : len(ring)] = ring
            out[k, len(ring) :] = ring[-1]
    x, y = out[..., 0], out[..., 1]
    areas = (x * np.roll(y, -1, axis=1) - np.roll(x, -1, axis=1) * y).sum(axis=1)
    out[areas < 0] = out[areas < 0][:, ::-1]
    return out
