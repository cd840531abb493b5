"""Lengths made true to the last digit: the least that points have to move for it.

In: triangular pieces and places that are nearly right. Out: places at which every side of every triangle
has its length on the sheet. Layers that were solved as one stay together as far as their lengths agree, and
part again by what these differ; the proof looks at the result.

Each round solves the lengths, made linear, for the shortest move (Newton's method with the least norm).
Where paper is plane its lengths are not independent, so a trace of damping is kept; where that throws narrow
slips of paper about, it is done again in short moves, until they are as near as a proof asks.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from .blocks import Blocks
from .net import Net
from .orbits import Indices
from .pieces import Array, Pieces

#: Shares of a length that are nothing.
_NOTHING = 1e-13
_ROUNDS = 12
#: Damping, and how near is near enough where much of it is needed.
_TRACE, _MUCH, _NEAR = 1e-9, 1e-4, 3e-5


def true_lengths(pieces: Pieces, places: Array) -> Array:
    """Places (n × 3, sheet units) with true lengths, or the nearest to them that was found."""
    sides = {tuple(sorted((r[k - 1], r[k]))) for r in pieces.rings for k in range(len(r))}
    ends = np.array(sorted(sides), dtype=np.int64)
    span = pieces.points[ends[:, 0]] - pieces.points[ends[:, 1]]
    rest = np.sqrt((span * span).sum(axis=1))
    return _stretched(places, ends, rest, pieces.points)


def true_together(net: Net, places: Array) -> Array:
    """Places of the points of the pieces (n × 3, sheet units) with true lengths, from places of the net's.

    First as the net has them, for where paper is nearly plane a share of 1e-6 of a length is a tenth of a
    millimetre across it, and layers that lie together would each go their own way.
    """
    apart = net.bars[:, 0] != net.bars[:, 1]
    joined = _stretched(places, net.bars[apart], net.rest[apart], net.start[:, :2])
    return true_lengths(net.pieces, joined[net.of])


def _stretched(places: Array, ends: Indices, rest: Array, flat: Array) -> Array:
    """Places at which sides (m × 2 points) have the lengths `rest`; `flat` (n × 2) tells which are near."""
    one, other, sign = _meeting(ends, len(places))
    blocks = Blocks(one, other, flat[ends].mean(axis=1))
    best, least, x, damping = places, np.inf, places, _TRACE
    for _ in range(_ROUNDS):
        d = x[ends[:, 0]] - x[ends[:, 1]]
        now = np.sqrt((d * d).sum(axis=1))
        off = float((np.abs(now - rest) / rest).max())
        if off > 3 * least and damping < _MUCH and least > _NEAR:
            x, damping = best, _MUCH
            d = x[ends[:, 0]] - x[ends[:, 1]]
            now = np.sqrt((d * d).sum(axis=1))
        elif off > 3 * least:
            break
        if off < least:
            best, least = x, off
        if off < (_NOTHING if damping < _MUCH else _NEAR):
            break
        u = d / now[:, None]
        pull = blocks.solved(sign * (u[one] * u[other]).sum(axis=1), rest - now, damping)
        pull = pull[:, None] * u
        x = x.copy()
        np.add.at(x, ends[:, 0], pull)
        np.add.at(x, ends[:, 1], -pull)
    return best


def _meeting(ends: Indices, count: int) -> tuple[Indices, Indices, Array]:
    """Pairs of sides that share a point, each side with itself too, and -1 where it is the first point of one
    and the second of the other.
    """
    at: list[list[tuple[int, float]]] = [[] for _ in range(count)]
    for k, (a, b) in enumerate(ends):
        at[a].append((k, 1.0))
        at[b].append((k, -1.0))
    rows = [(k, m, p * q) for some in at for k, p in some for m, q in some]
    return (
        np.array([k for k, _, _ in rows], dtype=np.int64),
        np.array([m for _, m, _ in rows], dtype=np.int64),
        np.array([s for _, _, s in rows]),
    )


def laid_back(places: Array, points: Sequence[int], flat: Array) -> Array:
    """All places moved as one, so that some points lie as near as can be to where they lie flat (n × 3).

    Source: W. Kabsch, A solution for the best rotation to relate two sets of vectors (1976).
    """
    a, b = places[points], flat[points]
    u, _, vt = np.linalg.svd((a - a.mean(axis=0)).T @ (b - b.mean(axis=0)))
    turn = u @ np.diag([1.0, 1.0, np.sign(np.linalg.det(u @ vt))]) @ vt
    return (places - a.mean(axis=0)) @ turn + b.mean(axis=0)
