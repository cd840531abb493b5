"""Paper that passes through paper: the deepest place of it.

In: points in space and the polygons of a pose. Out: a depth in the points' unit, 0 where nothing crosses.

Every polygon is cut into triangles, which are held against each other. Where two polygons go through each
other, the depth is the least of how far both run along the line where their planes meet, and of how far each
reaches to either side of the other: two sheets that cross like an X are deep in each other, though their
rims may lie together.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .vectors import cross

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

#: So many triangles are held against all others at once.
_AT_ONCE = 256
#: No depth, in the unit of the points.
_NONE = 1e-9
#: Ears whose shapes differ by less are as well shaped as each other.
_AS_WELL = 1e-6


def deepest(
    space: Array, rings: Sequence[Sequence[int]], sheet: Array, parts: Sequence[int] | None = None
) -> float:
    """Deepest crossing; `rings` run counter-clockwise on the sheet, whose points (n × 2) are used to cut
    them. Polygons of the same one of `parts` are not held against each other.
    """
    return Crossings(rings, sheet, parts).deepest(space)


class Crossings:
    """Polygons cut into triangles once, to be looked at in many places."""

    def __init__(
        self,
        rings: Sequence[Sequence[int]],
        sheet: Array,
        parts: Sequence[int] | None = None,
    ) -> None:
        cut = [(n, t) for n, ring in enumerate(rings) for t in triangles(ring, sheet)]
        self._corners = np.array([t for _, t in cut], dtype=np.int64)
        self._ring = np.array([n for n, _ in cut])
        self._part = self._ring if parts is None else np.array([parts[n] for n, _ in cut])

    def deepest(self, space: Array) -> float:
        """Deepest crossing at these places (n × 3)."""
        corners = space[self._corners]
        low, high = corners.min(axis=1), corners.max(axis=1)
        found: list[tuple[Indices, Array, Array]] = []
        for first in range(0, len(corners), _AT_ONCE):
            some = slice(first, first + _AT_ONCE)
            near = (low[first:] < high[some, None]).all(axis=2)
            near &= (high[first:] > low[some, None]).all(axis=2)
            near &= self._part[first:] != self._part[some, None]
            one, other = np.nonzero(np.triu(near, 1))
            one, other = one + first, other + first
            mine, theirs = self._corners[one], self._corners[other]
            apart = (mine[:, :, None] == theirs[:, None, :]).sum(axis=(1, 2)) < 2
            one, other = one[apart], other[apart]
            if len(one):
                on, sides, run = _through(corners[one], corners[other])
                pairs = np.c_[self._ring[one[on]], self._ring[other[on]]]
                found.append((pairs, sides, run))
        if not found:
            return 0.0
        pairs, which = np.unique(
            np.concatenate([p for p, _, _ in found]), axis=0, return_inverse=True
        )
        reach, along = np.zeros((len(pairs), 4)), np.zeros(len(pairs))
        np.maximum.at(reach, which.ravel(), np.concatenate([sides for _, sides, _ in found]))
        np.add.at(along, which.ravel(), np.concatenate([run for _, _, run in found]))
        return float(np.minimum(reach.min(axis=1), along).max(initial=0.0))


def _through(one: Array, other: Array) -> tuple[NDArray[np.bool_], Array, Array]:
    """Which pairs of triangles (m × 3 × 3 each) go through each other; of these how far each reaches to
    either side of the other's plane (k × 4), and how far both run along the line where the planes meet (k).
    """
    n, m = _normals(one), _normals(other)
    h = ((other - one[:, :1]) * n[:, None]).sum(axis=2)
    g = ((one - other[:, :1]) * m[:, None]).sum(axis=2)
    sides = np.stack([h.max(axis=1), -h.min(axis=1), g.max(axis=1), -g.min(axis=1)], axis=1)
    on = sides.min(axis=1) > _NONE
    way = cross(n[on], m[on])
    size = np.sqrt((way * way).sum(axis=1))
    way /= np.maximum(size, 1e-300)[:, None]
    (a, b), (c, d) = _span(one[on], g[on], way), _span(other[on], h[on], way)
    run = np.where(size > 0, np.minimum(b, d) - np.maximum(a, c), 0.0)
    meets = run > _NONE
    on[np.flatnonzero(on)[~meets]] = False
    return on, sides[on], run[meets]


def _span(corners: Array, height: Array, way: Array) -> tuple[Array, Array]:
    """From where to where triangles are cut by a plane that their corners have these heights over, along a
    way in it."""
    along = (corners * way[:, None]).sum(axis=2)
    low, high = np.full(len(corners), np.inf), np.full(len(corners), -np.inf)
    for i, j in ((0, 1), (1, 2), (2, 0)):
        p, q = height[:, i], height[:, j]
        cut = (p * q <= 0) & (p - q != 0)
        at = along[:, i] + (along[:, j] - along[:, i]) * p / np.where(cut, p - q, 1.0)
        low = np.where(cut, np.minimum(low, at), low)
        high = np.where(cut, np.maximum(high, at), high)
    return low, high


def _normals(corners: Array) -> Array:
    n = cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    return n / np.maximum(np.sqrt((n * n).sum(axis=1)), 1e-300)[:, None]


def triangles(
    ring: Sequence[int], sheet: Array, first: Callable[[int], Any] | None = None
) -> list[tuple[int, int, int]]:
    """A polygon cut into triangles with its own corners: ears are cut off, the best-shaped first.

    Of ears that are as well shaped as each other that goes first whose tip comes `first` in the order of
    these keys; by default the first of the ring.
    """
    left = list(ring)
    out: list[tuple[int, int, int]] = []
    while len(left) > 3:
        ears: list[tuple[float, int]] = []
        for k in range(len(left)):
            a, b, c = (sheet[left[k - 1]], sheet[left[k]], sheet[left[(k + 1) % len(left)]])
            turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
            longest = max(((b - a) ** 2).sum(), ((c - b) ** 2).sum(), ((c - a) ** 2).sum())
            if turn <= 1e-7 * longest or (ears and turn / longest < max(ears)[0] - _AS_WELL):
                continue
            others = [m for m in left if m not in (left[k - 1], left[k], left[(k + 1) % len(left)])]
            if not any(_holds(sheet[m], a, b, c) for m in others):
                ears.append((float(turn / longest), k))
        best = max(ears, default=(0.0, 1))[0]
        picks = [k for shape, k in ears if shape >= best - _AS_WELL] or [1]
        pick = picks[0] if first is None else min(picks, key=lambda k: first(left[k]))
        out.append((left[pick - 1], left[pick], left[(pick + 1) % len(left)]))
        del left[pick]
    out.append((left[0], left[1], left[2]))
    return out


def _holds(p: Array, a: Array, b: Array, c: Array) -> bool:
    """Whether a point lies in a triangle or on its rim."""
    return all(
        (v[0] - u[0]) * (p[1] - u[1]) - (v[1] - u[1]) * (p[0] - u[0]) > -1e-7 * ((v - u) ** 2).sum()
        for u, v in ((a, b), (b, c), (c, a))
    )
