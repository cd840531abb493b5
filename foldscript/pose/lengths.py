"""Lengths made true to the last digit: the least that points have to move for it.

In: triangular pieces and places that are nearly right. Out: places at which every side of every triangle
has its length on the sheet. Layers that were solved as one part again here by what their lengths differ,
hundredths of a millimetre at most; the proof looks at the result.

Each round solves the lengths, made linear, for the shortest move (Newton's method with the least norm).
Where paper is plane its lengths are not independent, so a trace of damping is kept.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .pieces import Array, Pieces

#: Shares of a length that are nothing.
_NOTHING = 1e-13
_ROUNDS = 12


def true_lengths(pieces: Pieces, places: Array) -> Array:
    """Places (n × 3, sheet units) with true lengths, or the nearest to them that was found."""
    sides = {tuple(sorted((r[k - 1], r[k]))) for r in pieces.rings for k in range(len(r))}
    ends = np.array(sorted(sides))
    span = pieces.points[ends[:, 0]] - pieces.points[ends[:, 1]]
    rest = np.sqrt((span * span).sum(axis=1))
    rows, columns = np.arange(len(ends))[:, None], 3 * ends[:, :, None] + np.arange(3)
    best, least, x = places, np.inf, places
    for _ in range(_ROUNDS):
        d = x[ends[:, 0]] - x[ends[:, 1]]
        now = np.sqrt((d * d).sum(axis=1))
        off = float((np.abs(now - rest) / rest).max())
        if off < least:
            best, least = x, off
        if off < _NOTHING or off > 3 * least:
            break
        u = d / now[:, None]
        slope = np.zeros((len(ends), places.size))
        slope[rows, columns[:, 0]] = u
        slope[rows, columns[:, 1]] = -u
        normal = slope @ slope.T
        normal[np.diag_indices_from(normal)] += 1e-9
        x = x + (slope.T @ np.linalg.solve(normal, rest - now)).reshape(-1, 3)
    return best


def laid_back(places: Array, points: Sequence[int], flat: Array) -> Array:
    """All places moved as one, so that some points lie as near as can be to where they lie flat (n × 3).

    Source: W. Kabsch, A solution for the best rotation to relate two sets of vectors (1976).
    """
    a, b = places[points], flat[points]
    u, _, vt = np.linalg.svd((a - a.mean(axis=0)).T @ (b - b.mean(axis=0)))
    turn = u @ np.diag([1.0, 1.0, np.sign(np.linalg.det(u @ vt))]) @ vt
    return (places - a.mean(axis=0)) @ turn + b.mean(axis=0)
