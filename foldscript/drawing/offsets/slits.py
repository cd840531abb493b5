"""Slits along folded edges: their lower side comes out from under the upper one where they open.

In: a state, the sides of its facets, moves of their corners. Out: moves with which such a slit is seen, from
its closed end, where both sides hang together, to its mouth. All other layers may be laid together where
there are many; a slit that nobody sees is read as a fold.
"""

from __future__ import annotations

from ...geometry.lines import Point, add, distance, dot, midpoint, point_on_segment, scale, subtract
from ...paper.state import State
from .half_edges import HalfEdge

#: Sheet units within which a side lies on a cut, and sides in the same place.
_ON = 1e-6


def gaping(
    state: State, half_edges: tuple[HalfEdge, ...], moves: tuple[Point, ...]
) -> tuple[Point, ...]:
    """The moves, with the corners of lower sides at mouths of slits at least 1 farther out than those of the
    upper sides that they were cut from.
    """
    if not state.cuts:
        return moves
    moved = list(moves)
    sides = [edge for edge in half_edges if edge.mate is None and _on_cut(state, edge)]
    for upper in sides:
        for lower in sides:
            if state.above(upper.facet, lower.facet) is not True or not _cut_apart(
                state, upper, lower
            ):
                continue
            for above, below in ((upper.start, lower.start), (upper.end, lower.end)):
                if above == below:
                    continue
                out = dot(subtract(moved[below], moved[above]), upper.outward)
                if out < 1.0:
                    moved[below] = add(moved[below], scale(upper.outward, 1.0 - out))
    return tuple(moved)


def _on_cut(state: State, edge: HalfEdge) -> bool:
    place = state.facets[edge.facet].place
    middle = midpoint(*edge.segment)
    return any(point_on_segment((place(c[0]), place(c[1])), middle, _ON) for c in state.cuts)


def _cut_apart(state: State, one: HalfEdge, other: HalfEdge) -> bool:
    """Whether two sides in the same place are of one line of the sheet, cut where it was folded."""
    here = [state.facets[k].place for k in (one.facet, other.facet)]
    if here[0].flips == here[1].flips:
        return False
    same = all(distance(p, q) < _ON for p, q in zip(one.segment, other.segment, strict=True))
    return same and any(
        all(point_on_segment((place(c[0]), place(c[1])), p, _ON) for place in here)
        for c in state.cuts
        for p in [midpoint(*one.segment)]
    )
