"""Edges that lie in the same place: which is to be drawn inside which, and how high each lies.

In: a state and the edges of its layers. Out: `Stacks`: pairs of edges that share a place, their
paper on the same side of it, with the one that lies deeper in first. Edges hidden under one facet
are left out, for nothing has to be shown there.
"""

from __future__ import annotations

from collections import defaultdict

from ...geometry.lines import Segment, dot
from ...paper.seams import collinear_overlaps
from ...paper.state import State
from .covers import Covers
from .half_edges import HalfEdge

#: (inner edge, outer edge, common segment, whether the inner one lies over the outer one)
Pair = tuple[int, int, Segment, bool]

#: How far beside an edge (sheet units), and from its ends (part of it), is looked whether it is hidden.
_ASIDE, _ASIDE_ALONG = 1e-6, 0.02


class Stacks:
    """Coincident edges of a state, by their index in `edges`.

    Attributes
    ----------
    pairs : (inner, outer, common segment, whether because the inner one lies over the outer one;
        else the outer one is a fold that goes round the inner one)
    """

    def __init__(self, state: State, edges: list[HalfEdge], covers: Covers) -> None:
        self.pairs: list[Pair] = []
        # sets of edges, a bit each
        self._beside: dict[int, int] = defaultdict(int)
        self._under: dict[int, int] = defaultdict(int)  # edges that an edge lies over
        self._enclosed = 0
        seen = [(k, edges[k].segment) for k in _not_hidden(edges, covers)]
        for (i, j), seg in collinear_overlaps(seen):
            a, b = edges[i], edges[j]
            if a.facet == b.facet or dot(a.along, b.along) < 0:
                continue  # their paper lies on different sides
            self._beside[i] |= 1 << j
            self._beside[j] |= 1 << i
            how = _relation(state, a, b)
            if how is None:
                continue
            inner, over = how
            deep, wide = (i, j) if inner else (j, i)
            self.pairs.append((deep, wide, seg, over))
            if over:
                self._under[deep] |= 1 << wide
            else:
                self._enclosed |= 1 << deep

    def heights(self, deep: int, wide: int) -> tuple[int, int, int]:
        """(height of `wide`, height of `deep`, number of edges) in the stack they share.

        Counted from below, without edges that a fold of the stack goes round.
        """
        shown = self._beside[deep] & self._beside[wide] & ~self._enclosed
        low = (shown & self._under[wide]).bit_count()
        high = (shown & self._under[deep]).bit_count()
        return low, max(low, high) + 1, shown.bit_count() + 2


def _relation(state: State, a: HalfEdge, b: HalfEdge) -> tuple[bool, bool] | None:
    """(whether `a` is to lie further in than `b`, whether that is because one lies over the other).

    The second is False where one is a fold that goes round the other. None: nothing asks for it.
    """
    known = [
        x
        for f in (a.facet, a.mate)
        for g in (b.facet, b.mate)
        if f is not None and g is not None and (x := state.above(f, g)) is not None
    ]
    if not known:
        return None
    if all(known) or not any(known):
        return known[0], True
    if b.mate is not None and state.above(a.facet, b.facet) != state.above(a.facet, b.mate):
        return True, False
    return (False, False) if a.mate is not None else None


def _not_hidden(edges: list[HalfEdge], covers: Covers) -> list[int]:
    """Edges that do not lie wholly under one layer, a little beyond them either way."""
    import numpy

    ends = numpy.array([r.segment for r in edges])
    aside = _ASIDE * numpy.array([r.outward for r in edges])
    run = _ASIDE_ALONG * (ends[:, 1] - ends[:, 0])
    start, end = ends[:, 0] + run, ends[:, 1] - run
    probes = numpy.stack([start + aside, end + aside, start - aside, end - aside], axis=1)
    hidden = covers.hidden(probes, numpy.array([r.facet for r in edges]))
    return numpy.flatnonzero(~hidden).tolist()
