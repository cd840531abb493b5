"""Whether flaps can get to where they stand: every flap turned about its creases little by little.

In: pieces, the angles that their seams have and are to have, which of them are turned together. Out: where
all points are on the way, and how deep paper goes through paper there. Where a flap stands nothing shows any
longer what it went through: the layer that lay on it, or paper that stood in between.

Hands turn all flaps at once, or one after the other, in the order said or the other way round; it is enough
that one of these ways is free.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import shapely
from numpy.typing import NDArray

from ..geometry.lines import Point
from ..geometry.tolerance import EPS
from ..paper.union_find import UnionFind
from .crossing import Crossings
from .making import Layer
from .pieces import Array, Pieces
from .proof import normal, turned_by
from .turning import turned

#: Radians that a flap is turned by between two looks.
_STEP = math.radians(7.5)
#: Radians of the first look, when layers that lay together have hardly parted: what is on the wrong side of
#: the next one then was under it.
_FIRST = math.radians(0.5)
#: The last look, as a share of the way: shortly before the end, so that what comes to lie flat is on a side.
_LAST = 0.98
#: Sheet units that places of one point may differ by on the way; more, where other creases have to give way.
_GAPES = 1e-6
#: Layers whose common place is one within this (sheet units) lie together.
_TOGETHER = 1e-7
#: A share of the way at which nothing is flat or upright by chance.
_SOMEWHERE = 0.37
#: How far from their middle to a corner of what two layers share it is looked how they part.
_INSIDE = 0.9
#: Millimetres that are no depth.
_NONE = 1e-3


@dataclass(frozen=True)
class Passage:
    """A way.

    Attributes
    ----------
    places : of all points (n × 3 each, sheet units), the last ones shortly before the end
    depth : deepest that paper goes through paper, mm
    under : (piece, piece, place of the folded plane): layers of which the one that is turned lies under the
        other there, which is in its way
    gapes : whether other creases would have to give way
    """

    places: tuple[Array, ...] = ()
    depth: float = 0.0
    under: tuple[int, int, Point] | None = None
    gapes: bool = False

    @property
    def worth(self) -> tuple[bool, bool, float]:
        """Less, the freer it is."""
        return self.gapes, self.under is not None, self.depth


def passage(
    pieces: Pieces,
    ended: Sequence[float],
    groups: Sequence[Sequence[int]],
    still: int,
    layers: Sequence[Layer],
) -> Passage:
    """The freest of the ways from the flat angles to those that have `ended`.

    Parameters
    ----------
    groups : seams that turn together
    still : piece that stays
    layers : pieces that lie over each other when flat
    """
    begun = [seam.angle for seam in pieces.seams]
    moving = [[k for k in some if abs(ended[k] - begun[k]) > 1e-9] for some in groups]
    moving = [some for some in moving if some]
    if not moving:
        return Passage()
    every = [k for some in moving for k in some]
    orders = [[every], *([moving, moving[::-1]] if len(moving) > 1 else [])]
    looks = _Looks(pieces, _parts(pieces, ended, every, still), layers)
    best: Passage | None = None
    for order in orders:
        way = looks.along(begun, ended, order, still)
        if best is None or way.worth < best.worth:
            best = way
        if best.worth <= (False, False, _NONE):
            break
    return best or Passage()


def _parts(pieces: Pieces, ended: Sequence[float], moving: Sequence[int], still: int) -> list[int]:
    """For each piece the part that it goes with: those whose seams keep their angles on the way.

    A flap may hang by further seams in line that nobody has named.
    """
    angles = [seam.angle for seam in pieces.seams]
    for k in moving:
        angles[k] += (ended[k] - angles[k]) * _SOMEWHERE
    places, _ = turned(pieces, angles, still)
    normals = [normal(places[list(ring)]) for ring in pieces.rings]
    joined = UnionFind(len(pieces.rings))
    for seam in pieces.seams:
        if seam.right >= 0:
            sides = normals[seam.left], normals[seam.right]
            now = turned_by(*sides, places[seam.start], places[seam.end])
            if abs(math.remainder(now - seam.angle, 2 * math.pi)) < 1e-6:
                joined.unite(seam.left, seam.right)
    return [joined.find(k) for k in range(len(pieces.rings))]


class _Looks:
    """Looks at paper on its way."""

    def __init__(self, pieces: Pieces, part: Sequence[int], layers: Sequence[Layer]) -> None:
        self._pieces = pieces
        self._crossings = Crossings(pieces.rings, pieces.points, part)
        self._layers = _all_over(pieces, [one for one in layers if part[one[0]] != part[one[1]]])
        self._below = self._shares(0)
        self._above = self._shares(1)

    def _shares(self, which: int) -> tuple[NDArray[np.int64], Array]:
        """For each pair of layers three corners of the one, and the shares of them that make up the place
        where both lie."""
        pieces = [layer[1] if which else layer[0] for layer in self._layers]
        broad = {piece: _broadest_of(self._pieces, piece) for piece in sorted(set(pieces))}
        if not pieces:
            return np.zeros((0, 3), dtype=np.int64), np.zeros((0, 3))
        corners = np.array([broad[piece][0] for piece in pieces], dtype=np.int64)
        known = np.array([broad[piece][1] for piece in pieces])
        spots = np.array([(*layer[3], 1.0) for layer in self._layers])
        share = np.linalg.solve(known.transpose(0, 2, 1), spots[:, :, None])[:, :, 0]
        return corners, share.astype(np.float64)

    def along(
        self,
        begun: Sequence[float],
        ended: Sequence[float],
        order: Sequence[Sequence[int]],
        still: int,
    ) -> Passage:
        """One way: groups of seams turned one after the other."""
        pieces, unit = self._pieces, self._pieces.state.sheet.unit_mm
        angles = list(begun)
        places: list[Array] = []
        together = np.ones(len(self._layers), dtype=bool)
        depth, under = 0.0, None
        for n, some in enumerate(order):
            first = list(angles)
            far = max(abs(ended[k] - first[k]) for k in some)
            steps = max(2, math.ceil(far / _STEP))
            shares = [min(_FIRST / far, 0.5 / steps), *(k / steps for k in range(1, steps)), _LAST]
            if n < len(order) - 1:
                shares.append(1.0)
            for f in shares:
                for k in some:
                    angles[k] = first[k] + (ended[k] - first[k]) * f
                now, gap = turned(pieces, angles, still)
                if gap > _GAPES:
                    return Passage(gapes=True)
                places.append(now)
                found, together = self._apart(now, together)
                under = under or found
                depth = max(depth, self._crossings.deepest(now * unit))
            for k in some:
                angles[k] = ended[k]
        return Passage(tuple(places), depth, under)

    def _apart(
        self, now: Array, together: NDArray[np.bool_]
    ) -> tuple[tuple[int, int, Point] | None, NDArray[np.bool_]]:
        """Layers that have parted to the wrong side, if any; which lie together still."""
        if not len(together):
            return None, together
        low, high = (
            (now[corners] * share[:, :, None]).sum(axis=1)
            for corners, share in (self._below, self._above)
        )
        a, b, c = (now[self._below[0][:, k]] for k in range(3))
        sheet = self._pieces.points[self._below[0]]
        p, q = sheet[:, 1] - sheet[:, 0], sheet[:, 2] - sheet[:, 0]
        across = p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]
        front = np.array([one[2] for one in self._layers])
        n = np.cross(b - a, c - a) * np.where(across > 0, 1.0, -1.0)[:, None]
        n /= np.sqrt((n * n).sum(axis=1))[:, None]
        height = ((high - low) * n).sum(axis=1) * np.where(front, 1.0, -1.0)
        wrong = np.flatnonzero(together & (height < -_TOGETHER))
        still = together & (np.abs(high - low).max(axis=1) < _TOGETHER)
        if not wrong.size:
            return None, still
        one, other, _, spot = self._layers[int(wrong[0])]
        return (one, other, spot), still


def _all_over(pieces: Pieces, layers: Sequence[Layer]) -> list[Layer]:
    """The same layers, each at its middle and once more near every corner of what they share: one that is
    turned about a line through their middle parts from the other beside that.
    """
    flat = [
        shapely.Polygon([pieces.state.facets[f].place(p) for p in pieces.polygon(k)])
        for k, f in enumerate(pieces.facets)
    ]
    shapes = np.array(flat, dtype=object)
    pairs = np.array([layer[:2] for layer in layers], dtype=np.int64).reshape(-1, 2)
    common = shapely.intersection(shapes[pairs[:, 0]], shapes[pairs[:, 1]], grid_size=EPS)
    out = list(layers)
    for (one, other, front, (x, y)), hull in zip(layers, shapely.convex_hull(common), strict=True):
        for u, v in shapely.get_coordinates(hull)[:-1].tolist():
            out.append((one, other, front, (x + _INSIDE * (u - x), y + _INSIDE * (v - y))))
    return out


def _broadest_of(pieces: Pieces, piece: int) -> tuple[tuple[int, int, int], Array]:
    """Three corners of a piece, and their places (x, y, 1) in the folded plane."""
    ring = pieces.rings[piece]
    place = pieces.state.facets[pieces.facets[piece]].place
    flat = [place((float(x), float(y))) for x, y in pieces.points[list(ring)]]
    i, j, k = _broadest(flat)
    return (ring[i], ring[j], ring[k]), np.array([(*flat[n], 1.0) for n in (i, j, k)])


def _broadest(flat: Sequence[Point]) -> tuple[int, int, int]:
    """The three corners of a polygon that hold the largest triangle."""
    n = len(flat)

    def area(i: int, j: int, k: int) -> float:
        (ax, ay), (bx, by), (cx, cy) = flat[i], flat[j], flat[k]
        return abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax))

    return max(
        combinations(range(n), 3), key=lambda some: (round(area(*some), 9), [-k for k in some])
    )
