"""Paper that passes through paper: the deepest place of it.

In: points in space and the polygons of a pose. Out: a depth in the points' unit, 0 where nothing crosses.

Every polygon is cut into triangles; each side of one is held against each triangle that it shares no corner
with. Where a side goes through, the depth is the least way that would take it out again: to either of its
ends, or to the triangle's nearest side.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


def deepest(space: Array, rings: Sequence[Sequence[int]], sheet: Array) -> float:
    """Deepest crossing; `rings` run counter-clockwise on the sheet, whose points (n × 2) are used to cut
    them.
    """
    corners = np.array([t for ring in rings for t in triangles(ring, sheet)], dtype=np.int64)
    sides = np.array(
        sorted(
            {(min(a, b), max(a, b)) for r in rings for a, b in zip(r, (*r[1:], r[0]), strict=True)}
        ),
        dtype=np.int64,
    )
    worst = 0.0
    p, q = space[sides[:, 0]], space[sides[:, 1]]
    low, high = np.minimum(p, q), np.maximum(p, q)
    for tri in corners:
        a, b, c = space[tri]
        n = np.cross(b - a, c - a)
        size = float(np.sqrt(n @ n))
        if size <= 0.0:
            continue
        n /= size
        box_low, box_high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
        near = (low <= box_high).all(axis=1) & (high >= box_low).all(axis=1)
        near &= ~np.isin(sides, tri).any(axis=1)
        from_, to = (p[near] - a) @ n, (q[near] - a) @ n
        through = from_ * to < 0
        if not through.any():
            continue
        d0, d1 = from_[through], to[through]
        start, end = p[near][through], q[near][through]
        at = start + (end - start) * (d0 / (d0 - d1))[:, None]
        inside = np.minimum.reduce([_within(at, u, v, n) for u, v in ((a, b), (b, c), (c, a))])
        depth = np.minimum(np.minimum(np.abs(d0), np.abs(d1)), inside)
        worst = max(worst, float(depth.max()))
    return worst


def _within(at: Array, u: Array, v: Array, n: Array) -> Array:
    inward = np.cross(n, v - u)
    return (at - u) @ (inward / np.sqrt(inward @ inward))


def triangles(ring: Sequence[int], sheet: Array) -> list[tuple[int, int, int]]:
    """A polygon cut into triangles with its own corners: ears are cut off, the best-shaped first."""
    left = list(ring)
    out: list[tuple[int, int, int]] = []
    while len(left) > 3:
        best, pick = -1.0, 1
        for k in range(len(left)):
            a, b, c = (sheet[left[k - 1]], sheet[left[k]], sheet[left[(k + 1) % len(left)]])
            turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
            longest = max(((b - a) ** 2).sum(), ((c - b) ** 2).sum(), ((c - a) ** 2).sum())
            if turn / longest <= best or turn <= 1e-7 * longest:
                continue
            others = [m for m in left if m not in (left[k - 1], left[k], left[(k + 1) % len(left)])]
            if not any(_holds(sheet[m], a, b, c) for m in others):
                best, pick = turn / longest, k
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
