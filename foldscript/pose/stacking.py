"""Which of two pieces that lie flat together is on which side, told by paper beside and between them.

In: plane pieces in space, the pairs of which it is known, and those of which it is not. Out: what follows
for these. Two rules hold for paper that does not pass through itself. Where both pieces go on over one line,
whatever it is folded by, the one that lies on the front of the other still does so beyond it: the outer of
two folds that are shut together is outside on both its sides. And what lies on a piece lies on all that is
under that, where the three lie over each other.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from ..geometry.tolerance import EPS
from .pieces import Array
from .pose import Edge

#: Sheet units within which lines are one, and so much of a line both have to have.
_ON, _LONG = 1e-5, 1e-3
#: Least that three pieces share (square sheet units).
_SHARED = 1e-5

#: (one, other) -> whether the other lies on the one's front.
Sides = Mapping[tuple[int, int], bool]


def concluded(
    rings: Sequence[Sequence[int]],
    places: Array,
    edges: Sequence[Edge],
    known: Sides,
    unsure: Sequence[tuple[int, int]],
) -> dict[tuple[int, int], bool]:
    """What follows of the pairs that are not sure, as far as anything does."""
    stack = _Stack(rings, places, edges, known)
    found: dict[tuple[int, int], bool] = {}
    left = list(unsure)
    while left:
        new = {pair: side for pair in left for side in [stack.side(*pair)] if side is not None}
        if not new:
            break
        for (one, other), side in new.items():
            stack.learn(one, other, side)
        found |= new
        left = [pair for pair in left if pair not in new]
    return found


class _Stack:
    """Pieces, and what is known of them."""

    def __init__(
        self, rings: Sequence[Sequence[int]], places: Array, edges: Sequence[Edge], known: Sides
    ) -> None:
        self._rings = [places[list(ring)] for ring in rings]
        self._normals = np.array([_normal(ring) for ring in self._rings])
        self._places = places
        self._lines: list[list[tuple[Edge, int]]] = [[] for _ in rings]
        for edge in edges:
            if edge.right is not None:
                self._lines[edge.left].append((edge, edge.right))
                self._lines[edge.right].append((edge, edge.left))
        self._sides: dict[tuple[int, int], bool] = {}
        self._beside: list[set[int]] = [set() for _ in rings]
        for (one, other), side in known.items():
            self.learn(one, other, side)

    def learn(self, one: int, other: int, side: bool) -> None:
        """Takes note of a pair, both ways round."""
        alike = float(self._normals[one] @ self._normals[other]) > 0
        self._sides[one, other] = side
        self._sides[other, one] = side != alike
        self._beside[one].add(other)
        self._beside[other].add(one)

    def side(self, one: int, other: int) -> bool | None:
        """Whether the other lies on the one's front; None where nothing tells."""
        beyond = self._beyond(one, other)
        return self._between(one, other) if beyond is None else beyond

    def _beyond(self, one: int, other: int) -> bool | None:
        """As the pieces lie into which both go on over a common line."""
        for line, next_one in self._lines[one]:
            for also, next_other in self._lines[other]:
                side = self._sides.get((next_one, next_other))
                if side is None or not self._one_line(line, also):
                    continue
                here = self._same_way(line, one, other)
                if here and self._same_way(line, next_one, next_other):
                    return side
        return None

    def _between(self, one: int, other: int) -> bool | None:
        """As a piece that lies between them has it."""
        for third in sorted(self._beside[one] & self._beside[other]):
            alike = float(self._normals[one] @ self._normals[third]) > 0
            first = self._sides[one, third]
            if first == (self._sides[third, other] == alike) and self._share(one, third, other):
                return first
        return None

    def _one_line(self, line: Edge, other: Edge) -> bool:
        """Whether two edges have a good part in common."""
        a, b = self._places[[line.start, line.end]]
        way = b - a
        long = float(np.sqrt(way @ way))
        if long <= 0:
            return False
        away = self._places[[other.start, other.end]] - a
        along = away @ way / long
        off = away - along[:, None] * way / long
        common = min(float(along.max()), long) - max(float(along.min()), 0.0)
        return float(np.abs(off).max()) < _ON and common > _LONG

    def _same_way(self, line: Edge, one: int, other: int) -> bool:
        """Whether two pieces lie on the same side of a line."""
        a, b = self._places[[line.start, line.end]]
        way = (b - a) / np.sqrt((b - a) @ (b - a))
        ins: list[Array] = []
        for piece in (one, other):
            off = self._rings[piece].mean(axis=0) - a
            ins.append(off - (off @ way) * way)
        return float(ins[0] @ ins[1]) > 0

    def _share(self, *three: int) -> bool:
        """Whether three pieces lie over each other somewhere."""
        ring, n = self._rings[three[0]], self._normals[three[0]]
        u = ring[1] - ring[0]
        u = u / np.sqrt(u @ u)
        axes = np.array([u, np.cross(n, u)]).T
        common = shapely.Polygon((ring - ring[0]) @ axes)
        for piece in three[1:]:
            shape = shapely.Polygon((self._rings[piece] - ring[0]) @ axes)
            common = shapely.intersection(common, shape, grid_size=EPS)
        return float(shapely.area(common)) > _SHARED


def _normal(ring: Array) -> Array:
    n = np.cross(ring - ring[0], np.roll(ring, -1, axis=0) - ring[0]).sum(axis=0)
    return n / max(float(np.sqrt(n @ n)), 1e-300)
