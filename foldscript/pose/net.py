"""The net that is solved for: layers that stay together made one, bars and hinges between its points.

In: `Layers`, and the gaps that open. Out: a `Net`. Layers on both sides of a gap that does not open share
their points from there on, so they cannot part or slide, and there is less to solve.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..paper.union_find import UnionFind
from .gaps import Gap
from .layers import Layers
from .pieces import Pieces
from .pose import Line
from .springs import Array, Contacts, Indices

#: What layers are apart when they begin to move (sheet units).
_HAIR = 1e-3
NO_CONTACTS = Contacts(
    np.zeros((0, 3), dtype=np.int64),
    np.zeros((0, 3), dtype=np.int64),
    np.zeros((0, 3)),
    np.zeros(0),
)


@dataclass(frozen=True)
class Net:
    """Points and what holds them.

    Attributes
    ----------
    pieces : the triangles that it was made from
    of : for each point of theirs, its point of the net
    corners : triangles × 3, points of the net
    bars, rest : m × 2 points, and their lengths on the sheet
    hinges : m × 4 points (a, b, left of it, right of it); `seams` the seam of each, `flat` its flat angle,
        `kinds`
    start : points × 3, where the net lies when flat
    contacts : neighbouring layers that have to stay on their side of each other
    """

    pieces: Pieces
    of: Indices
    corners: Indices
    bars: Indices
    rest: Array
    hinges: Indices
    seams: Indices
    flat: Array
    kinds: tuple[Line, ...]
    start: Array
    contacts: Contacts

    def where(self, kind: Line) -> NDArray[np.bool_]:
        """Which hinges are of a kind."""
        return np.array([k is kind for k in self.kinds])


def knit(layers: Layers, opened: Iterable[Gap], held: Iterable[int] = ()) -> Net:
    """The net of layers of which only these gaps may open, and at corners of the net that are held none."""
    free = set(opened)
    joined = UnionFind(len(layers.flat))
    for c, some in enumerate(layers.columns):
        for k in range(1, len(some)):
            if (c, k) not in free:
                for v in layers.corners[some[k]]:
                    joined.unite(int(v), layers.at(some[k - 1], int(layers.node[v])))
    for node in held:
        first, *others = (int(v) for v in np.flatnonzero(layers.node == node))
        for v in others:
            joined.unite(first, v)
    roots = [joined.find(v) for v in range(len(layers.flat))]
    number = {root: n for n, root in enumerate(sorted(set(roots)))}
    of = np.array([number[r] for r in roots], dtype=np.int64)
    return strung(layers.pieces, of, layers.flat, _contacts(layers, of, of[layers.corners]))


def strung(pieces: Pieces, of: Indices, flat: Array, contacts: Contacts | None = None) -> Net:
    """The net of triangular pieces whose points are made one as `of` says, and lie flat at `flat` (n × 2)."""
    rest: dict[tuple[int, int], list[float]] = defaultdict(list)
    for ring in pieces.rings:
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
            i, j = sorted((int(of[a]), int(of[b])))
            rest[(i, j)].append(math.dist(pieces.points[a], pieces.points[b]))
    bars = sorted(rest)
    hinges: list[tuple[int, int, int, int]] = []
    seams: list[int] = []
    for k, seam in enumerate(pieces.seams):
        if seam.right < 0:
            continue
        third = [
            next(v for v in pieces.rings[t] if v not in (seam.start, seam.end))
            for t in (seam.left, seam.right)
        ]
        a, b, c, d = (int(of[v]) for v in (seam.start, seam.end, *third))
        if len({a, b, c, d}) == 4:
            hinges.append((a, b, c, d))
            seams.append(k)
    start = np.zeros((int(of.max()) + 1, 3))
    start[of, :2] = flat
    return Net(
        pieces,
        of,
        of[np.array(pieces.rings, dtype=np.int64)],
        np.array(bars, dtype=np.int64),
        np.array([sum(rest[b]) / len(rest[b]) for b in bars]),
        np.array(hinges, dtype=np.int64).reshape(-1, 4),
        np.array(seams, dtype=np.int64),
        np.array([pieces.seams[k].angle for k in seams]),
        tuple(pieces.seams[k].kind for k in seams),
        start,
        contacts or NO_CONTACTS,
    )


def _contacts(layers: Layers, of: Indices, corners: Indices) -> Contacts:
    lower: list[Indices] = []
    upper: list[list[int]] = []
    share: list[list[float]] = []
    up: list[float] = []
    for some in layers.columns:
        for low, high in itertools.pairwise(some):
            above = [int(of[layers.at(high, int(layers.node[v]))]) for v in layers.corners[low]]
            apart = [above[k] != corners[low][k] for k in range(3)]
            if not any(apart):
                continue
            spots = [[float(k == j) for j in range(3)] for k in range(3) if apart[k]]
            for weights in (*spots, [1 / 3] * 3):
                lower.append(corners[low])
                upper.append(above)
                share.append(weights)
                up.append(1.0 if layers.fronts[low] else -1.0)
    return Contacts(
        np.array(lower, dtype=np.int64).reshape(-1, 3),
        np.array(upper, dtype=np.int64).reshape(-1, 3),
        np.array(share).reshape(-1, 3),
        np.array(up),
    )


def hair_apart(layers: Layers, net: Net) -> Array:
    """The net lying flat with its layers a hair apart: every point as high as its triangles lie, in the
    mean.
    """
    total, count = np.zeros(len(net.start)), np.zeros(len(net.start))
    for t, (_, below) in enumerate(layers.place):
        for v in net.corners[t]:
            total[v] += below
            count[v] += 1
    start = net.start.copy()
    start[:, 2] = _HAIR * total / count
    return start
