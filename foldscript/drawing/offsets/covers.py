"""Which layers lie over which, and what lies hidden under them, before anything is drawn.

In: a state. Out: `Covers`, which answers for many points at once whether layers lie over them. Facets
are convex, so a point lies on one where it lies on the inner side of each of its edges.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from ...geometry.polygons import Polygon
from ...geometry.tolerance import EPS
from ...paper.state import State

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

#: So many distances of points from edges are worked out at once (16 MB of numbers).
_AT_ONCE = 2_000_000


class Covers:
    """Layers over layers, as arrays.

    Attributes
    ----------
    below, above : facets, and facets that lie on them, for every pair that overlaps, in order
    """

    def __init__(self, state: State) -> None:
        import numpy

        self._placed = state.placed
        pairs = numpy.array(list(state.order), dtype=int).reshape(-1, 2)
        over = numpy.fromiter(state.order.values(), bool, len(pairs))
        below, above = numpy.where(over[:, None], pairs[:, ::-1], pairs).T
        order = numpy.lexsort((above, below))
        self.below, self.above = below[order], above[order]

    def hidden(
        self, spots: NDArray[numpy.float64], owners: NDArray[numpy.intp]
    ) -> NDArray[numpy.bool_]:
        """Whether all points of each set (n, points, 2) lie under one layer over the facet that owns it."""
        import numpy

        order = numpy.argsort(owners, kind="stable")
        first = numpy.searchsorted(owners[order], numpy.arange(len(self._placed) + 1))
        count = first[self.below + 1] - first[self.below]
        out = numpy.zeros(len(spots), dtype=bool)
        # a stack of n layers has n * n / 2 pairs with points of their own: so many at once as memory allows
        done = numpy.cumsum(count)
        most = max(1, _AT_ONCE // (spots.shape[1] * self._sides[1].shape[1]))
        cuts = numpy.searchsorted(done, numpy.arange(most, done[-1:].sum() + most, most))
        for some in numpy.split(numpy.arange(len(count)), cuts):
            self._hide(spots, order, first, some, out)
        return out

    def _hide(
        self,
        spots: NDArray[numpy.float64],
        order: NDArray[numpy.intp],
        first: NDArray[numpy.intp],
        pairs: NDArray[numpy.intp],
        out: NDArray[numpy.bool_],
    ) -> None:
        """Marks the sets that some pairs hide; `order` sorts them by owner, `first` is where each begins."""
        import numpy

        normals, reach = self._sides
        below, above = self.below[pairs], self.above[pairs]
        count = first[below + 1] - first[below]
        start = numpy.repeat(first[below] - numpy.cumsum(count) + count, count)
        at = order[start + numpy.arange(len(start))]
        tops = numpy.repeat(above, count)
        tops, at = tops[~out[at]], at[~out[at]]
        x, y = spots[at][:, :, None, 0], spots[at][:, :, None, 1]
        side = x * normals[tops][:, None, :, 0] + y * normals[tops][:, None, :, 1]
        under = (side - reach[tops][:, None] < EPS).all((1, 2))
        out[at[under]] = True

    @cached_property
    def _sides(self) -> tuple[NDArray[numpy.float64], NDArray[numpy.float64]]:
        """Outward normals of every facet's edges and how far they reach; rows filled up with no edges."""
        import numpy

        rings: tuple[Polygon, ...] = self._placed
        most = max(len(ring) for ring in rings)
        normals = numpy.zeros((len(rings), most, 2))
        reach = numpy.ones((len(rings), most))
        rows = [i * most + k for i, ring in enumerate(rings) for k in range(len(ring))]
        at = numpy.array([p for ring in rings for p in ring])
        run = numpy.array([p for ring in rings for p in (*ring[1:], ring[0])]) - at
        out = numpy.stack([run[:, 1], -run[:, 0]], axis=1)
        normals.reshape(-1, 2)[rows] = out
        reach.reshape(-1)[rows] = (out * at).sum(1)
        return normals, reach
