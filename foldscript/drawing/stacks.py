"""Edges that lie in the same place: which is to be drawn inside which, and how high each lies.

In: a state and the edges of its layers. Out: `Stacks`: pairs of edges that share a place, their
paper on the same side of it, with the one that lies deeper in first. Edges hidden under one facet
are left out, for nothing has to be shown there.
"""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from ..geometry.lines import Segment, dot, subtract
from ..paper.seams import collinear_overlaps
from ..paper.state import State
from .rims import Rim, lying_on


class Stacks:
    """Coincident edges of a state, by their index in `edges`.

    Attributes
    ----------
    pairs : (inner, outer, common segment, whether because the inner one lies over the outer one;
        else the outer one is a fold that goes round the inner one)
    """

    def __init__(self, state: State, edges: list[Rim]) -> None:
        self.pairs: list[tuple[int, int, Segment, bool]] = []
        self._beside: dict[int, set[int]] = defaultdict(set)
        self._under: dict[int, set[int]] = defaultdict(set)  # edges that an edge lies over
        self._enclosed: set[int] = set()
        hidden = _hidden(state, edges)
        for (i, j), seg in collinear_overlaps([(k, r.segment) for k, r in enumerate(edges)]):
            a, b = edges[i], edges[j]
            if a.facet == b.facet or hidden[i] or hidden[j] or not _same_way(a, b):
                continue
            self._beside[i].add(j)
            self._beside[j].add(i)
            how = _relation(state, a, b)
            if how is None:
                continue
            inner, over = how
            deep, wide = (i, j) if inner else (j, i)
            self.pairs.append((deep, wide, seg, over))
            if over:
                self._under[deep].add(wide)
            else:
                self._enclosed.add(deep)

    def heights(self, deep: int, wide: int) -> tuple[int, int, int]:
        """(height of `wide`, height of `deep`, number of edges) in the stack they share.

        Counted from below, without edges that a fold of the stack goes round.
        """
        shown = (self._beside[deep] & self._beside[wide]) - self._enclosed
        low = len(shown & self._under[wide])
        high = len(shown & self._under[deep])
        return low, max(low, high) + 1, len(shown) + 2


def _same_way(a: Rim, b: Rim) -> bool:
    """Whether two coincident edges have their paper on the same side."""
    (p, q), (r, s) = a.segment, b.segment
    return dot(subtract(q, p), subtract(s, r)) > 0


def _relation(state: State, a: Rim, b: Rim) -> tuple[bool, bool] | None:
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


def _hidden(state: State, edges: list[Rim]) -> list[bool]:
    """Whether each edge lies wholly under one facet: nothing has to be shown there."""
    import shapely

    over: dict[int, list[int]] = defaultdict(list)
    for i, j in lying_on(state):
        over[i].append(j)
    tried = [(k, f) for k, r in enumerate(edges) for f in over[r.facet]]
    out = [False] * len(edges)
    if not tried:
        return out
    shapes = shapely.polygons([shapely.linearrings(p) for p in state.placed])
    tops, under = shapes[[f for _, f in tried]], [k for k, _ in tried]
    shapely.prepare(shapes)
    sides = [shapely.linestrings(_probes(edges, off)) for off in (1e-6, -1e-6)]
    held = shapely.contains(tops, sides[0][under]) & shapely.contains(tops, sides[1][under])
    for k, h in zip(under, held, strict=True):
        out[k] = out[k] or bool(h)
    return out


def _probes(edges: list[Rim], off: float) -> Any:
    """The middle part of each edge, moved sideways a little."""
    import numpy

    at = numpy.array([r.segment for r in edges])
    start, end = at[:, 0], at[:, 1]
    run = end - start
    normals = numpy.stack([run[:, 1], -run[:, 0]], axis=1)
    aside = off * normals / numpy.hypot(run[:, 0], run[:, 1])[:, None]
    return numpy.stack([start + 0.02 * run + aside, end - 0.02 * run + aside], axis=1)
