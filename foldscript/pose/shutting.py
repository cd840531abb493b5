"""Sinks half way: the sheet as it is opened for them, and shut again part of the way along its new folds.

In: a `Change` in triangles. Out: places for its points. A point that is sunk has folds turned to their other
side, which hands do with the paper opened out. So the sheet is begun flat, a little in relief as its folds
will have it, and every fold is brought the same share of the way to where it is flat again. Uncreased paper
bends a little for it. Edges and corners that come to lie together are kept from passing each other.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
from threadpoolctl import threadpool_limits

from .change import Change
from .elastic import Elastic
from .lengths import laid_back, true_lengths
from .net import strung
from .orbits import Indices
from .pieces import Array
from .springs import Wanted
from .symmetry import of_folds

#: Height of the relief at first, as a share of what folds at a point are long.
_RELIEF = 0.02
#: In so many steps folds are brought to their share, each with so many looks at what would pass each other.
_STEPS, _LOOKS = 30, 3
#: What would pass is kept so far apart (sheet units), so hard.
_APART, _KEPT = 0.01, 300.0
#: Points that land nearer to each other (sheet units) come to lie together.
_MEET = 1e-6


def shut(change: Change, share: float, stiff: float) -> Array:
    """Places (n × 3, sheet units) with all folds pulled to a share of their angles, laid where the paper
    will lie; `stiff` is how hard paper is to bend against how hard its folds are pulled.
    """
    with threadpool_limits(1):
        return _shut(change, share, stiff)


def _shut(change: Change, share: float, stiff: float) -> Array:
    pieces = change.pieces
    points = len(pieces.points)
    flat = np.c_[pieces.points, np.zeros(points)]
    net = strung(pieces, np.arange(points), pieces.points)
    will = change.will[net.seams]
    folds = np.abs(will) > 0.1
    paper = Elastic(
        net,
        of_folds(pieces, change.will),
        np.where(folds, 1.0, stiff),
        np.zeros(len(will)),
        30.0,
        flat + _relief(change),
    )
    paper.angle = np.arctan2(np.sin(paper.angle), np.cos(paper.angle))
    pairs = _meeting(change)
    for k in range(1, _STEPS + 1):
        paper.rest = np.where(folds, will * share * k / _STEPS, 0.0)
        for _ in range(_LOOKS):
            paper.wanted = _kept_apart(flat, paper.x, pairs)
            paper.relax(6)
    for hard in (100.0, 300.0, 1000.0, 3000.0):
        paper.hard = hard
        for _ in range(_LOOKS):
            paper.wanted = _kept_apart(flat, paper.x, pairs)
            paper.relax(10)
    landed = np.c_[change.landing, np.zeros(points)]
    return laid_back(true_lengths(pieces, paper.x), range(points), landed)


def _relief(change: Change) -> Array:
    """Ends of mountains a little up, of valleys down, as the sheet's front shows them."""
    points = change.pieces.points
    up = np.zeros((len(points), 3))
    for seam, will in zip(change.pieces.seams, change.will, strict=True):
        if seam.right >= 0 and abs(will) > 0.1:
            way = points[seam.end] - points[seam.start]
            high = np.copysign(_RELIEF * np.sqrt(way @ way), -will)
            up[[seam.start, seam.end], 2] += high
    return up


def _meeting(change: Change) -> Indices:
    """Pairs of points (m × 2) that come to lie together."""
    end = change.end
    some = combinations(range(len(end)), 2)
    found = [(a, b) for a, b in some if float(np.abs(end[a] - end[b]).max()) < _MEET]
    return np.array(found, dtype=np.int64).reshape(-1, 2)


def _kept_apart(flat: Array, now: Array, pairs: Indices) -> Wanted | None:
    """Those of the pairs that would pass each other, kept on the sides that they have on the open sheet."""
    one, other = pairs.T
    way = flat[other] - flat[one]
    way /= np.sqrt((way * way).sum(axis=1))[:, None]
    on = ((now[other] - now[one]) * way).sum(axis=1) < _APART
    count = int(on.sum())
    if not count:
        return None
    return Wanted(
        pairs[on],
        np.tile([-1.0, 1.0], (count, 1)),
        way[on],
        np.full(count, _APART),
        np.full(count, _KEPT),
    )
