"""Paper that passes through paper: the deepest place of it.

In: points in space and the polygons of a pose. Out: a depth in the points' unit, 0 where nothing crosses.

Every polygon is cut into triangles; each side of one is held against each triangle that it shares no corner
with. Where a side goes through, the depth is the least way that would take it out again: to either of its
ends, or to the triangle's nearest side.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .vectors import cross

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

#: So many triangles are held against all sides at once.
_AT_ONCE = 256
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
        self._part = None if parts is None else np.array([parts[n] for n, _ in cut])
        owners: dict[tuple[int, int], set[int]] = {}
        for n, ring in enumerate(rings):
            for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
                owners.setdefault((min(a, b), max(a, b)), set()).add(
                    0 if parts is None else parts[n]
                )
        self._sides = np.array(sorted(owners), dtype=np.int64)
        some = [
            owners[side] for side in sorted(owners)
        ]  # of a side between two parts both are meant
        self._owner = np.array([next(iter(own)) if len(own) == 1 else -1 for own in some])

    def deepest(self, space: Array) -> float:
        """Deepest crossing at these places (n × 3)."""
        ends = space[self._sides]
        corners = space[self._corners]
        low, high = ends.min(axis=1), ends.max(axis=1)
        box_low, box_high = corners.min(axis=1), corners.max(axis=1)
        worst = 0.0
        for first in range(0, len(corners), _AT_ONCE):
            some = slice(first, first + _AT_ONCE)
            near = (low <= box_high[some, None]).all(axis=2)
            near &= (high >= box_low[some, None]).all(axis=2)
            if self._part is not None:
                near &= self._owner != self._part[some, None]
            t, s = np.nonzero(near)
            t += first
            met = (self._corners[t][:, :, None] == self._sides[s][:, None, :]).any(axis=(1, 2))
            t, s = t[~met], s[~met]
            if len(t):
                worst = max(worst, _through(corners[t], ends[s]))
        return worst


def _through(corners: Array, ends: Array) -> float:
    """How deep the deepest of some sides (m × 2 × 3) goes through its triangle (m × 3 × 3)."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    n = cross(b - a, c - a)
    size = np.sqrt((n * n).sum(axis=1))
    n = n / np.maximum(size, 1e-300)[:, None]
    p, q = ends[:, 0], ends[:, 1]
    d0, d1 = ((p - a) * n).sum(axis=1), ((q - a) * n).sum(axis=1)
    on = (d0 * d1 < 0) & (size > 0)
    if not on.any():
        return 0.0
    a, b, c, n, p, q, d0, d1 = (v[on] for v in (a, b, c, n, p, q, d0, d1))
    at = p + (q - p) * (d0 / (d0 - d1))[:, None]
    inside = np.minimum.reduce([_within(at, u, v, n) for u, v in ((a, b), (b, c), (c, a))])
    depth = np.minimum(np.minimum(np.abs(d0), np.abs(d1)), inside)
    return max(0.0, float(depth.max()))


def _within(at: Array, u: Array, v: Array, n: Array) -> Array:
    inward = cross(n, v - u)
    return ((at - u) * inward).sum(axis=1) / np.sqrt((inward * inward).sum(axis=1))


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
