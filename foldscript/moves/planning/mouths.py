"""Where a flap disappears under other layers: the mouth of its pocket.

In: the paper before and after a move, and an arrow that ends under layers. Out: the arrow with the edge of
the layers over the flap that its straight way crosses last; as it was where no layer that stays lies there.
"""

from __future__ import annotations

from dataclasses import replace

from ...geometry.cover import outlines
from ...geometry.isometries import inverse
from ...geometry.lines import Point, Segment, distance, line_through, meet, point_on_segment
from ...geometry.polygons import centroid, edges
from ...geometry.tolerance import FOLDED
from ...paper.signs import Arrow, Sign
from ...paper.state import State


def through_its_mouth(sign: Sign, before: State, after: State) -> Sign:
    """An arrow that ends under layers, with the edge that it goes under; any other sign as it is."""
    if not isinstance(sign, Arrow) or not sign.under or distance(sign.tail, sign.head) <= FOLDED:
        return sign
    cover = _over(sign, before, after)
    return replace(sign, mouth=_entered(sign, after, cover)) if cover else sign


def _over(arrow: Arrow, before: State, after: State) -> list[int]:
    """Facets that stay where they are and lie over the paper that has come from the tail to the head."""
    stays = [_stays(k, before, after) for k in range(len(after.facets))]
    came = [
        i
        for i in after.facets_at(arrow.head)
        if not stays[i] and distance(_before(i, arrow.head, before, after), arrow.tail) <= FOLDED
    ]
    if not came:
        return []
    flap = [i for i in after.plate(came[0]) if not stays[i]]
    return [k for k in range(len(stays)) if stays[k] and any(after.above(k, i) for i in flap)]


def _stays(facet: int, before: State, after: State) -> bool:
    """Whether a facet lies where it lay, the same side up."""
    ring = after.placed[facet]
    x, y = centroid(ring)
    inner = ((x, y), *(((2 * x + p[0]) / 3, (2 * y + p[1]) / 3) for p in ring[:2]))
    return all(distance(_before(facet, p, before, after), p) <= FOLDED for p in inner)


def _before(facet: int, at: Point, before: State, after: State) -> Point:
    """Where a place on a facet was before."""
    return before.where(inverse(after.facets[facet].place)(at))


def _entered(arrow: Arrow, after: State, cover: list[int]) -> Segment | None:
    """The side of what covers the flap that its straight way crosses last."""
    way = (arrow.tail, arrow.head)
    found: list[tuple[float, Segment]] = []
    for ring in outlines([after.placed[k] for k in cover]):
        for side in edges(ring):
            at = meet(line_through(*way), line_through(*side))
            if (
                at is not None
                and point_on_segment(side, at, FOLDED)
                and point_on_segment(way, at, FOLDED)
                and min(distance(at, p) for p in way) > FOLDED
            ):
                found.append((round(distance(at, arrow.head), 9), side))
    return min(found)[1] if found else None
