"""Where a flap disappears under other layers, or comes out from under them: the mouth of its pocket.

In: the paper before and after a move, and an arrow that ends under layers. Out: the arrow with the edge of
the layers over the flap that its straight way crosses last on its way in, or first on its way out. Where the
tip is in sight before and after, the edges are those that the paper beside it goes under, and the tip leaves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ...geometry.cover import outlines
from ...geometry.isometries import inverse
from ...geometry.lines import (
    Point,
    Segment,
    between,
    cross,
    distance,
    line_through,
    meet,
    point_on_segment,
    subtract,
)
from ...geometry.polygons import area, centroid, edges, inside, intersection
from ...geometry.tolerance import FOLDED
from ...paper.signs import Arrow, Sign
from ...paper.state import State

#: How far from a tip, as a part of the way to its flap's middle, its paper is looked at.
_WITHIN = 0.02


def through_its_mouth(sign: Sign, before: State, after: State) -> Sign:
    """An arrow that ends under layers, with the edge that it goes under; any other sign as it is."""
    if not isinstance(sign, Arrow) or not sign.under or distance(sign.tail, sign.head) <= FOLDED:
        return sign
    came = _came(sign, before, after)
    cover = _over(came, before, after)
    if not cover:
        return sign
    way, back = (sign.tail, sign.head), (sign.head, sign.tail)
    if any(_covers(k, came[0], sign.head, after) for k in cover):
        return replace(sign, mouth=_entered(way, after, cover))
    if sign.act != "tuck":
        return sign
    if not _in_sight(sign.tail, before, after):
        leaves = _entered(back, after, cover)
        return replace(sign, leaves=leaves) if leaves else sign
    spot = _deepest(came[0], cover, before, after)
    if spot is None:
        return Arrow("valley", *way)
    goes_in = _before(*spot, before, after), spot[1]
    mouth = _entered(goes_in, after, cover)
    if mouth is None:
        return Arrow("valley", *way)
    if not _cross(way, mouth):  # it goes in beside the place that the words name
        return replace(sign, tail=goes_in[0], head=goes_in[1], mouth=mouth)
    return replace(sign, mouth=mouth, leaves=_entered((sign.head, spot[1]), after, cover))


def _deepest(
    came: int, cover: Sequence[int], before: State, after: State
) -> tuple[int, Point] | None:
    """The facet of the flap of which most is hidden, and the middle of that; None where nothing is."""
    hidden = [
        (round(area(common), 9), i, centroid(common))
        for i in after.plate(came)
        if not _stays(i, before, after)
        for k in cover
        if after.above(k, i) and (common := intersection(after.placed[i], after.placed[k]))
    ]
    if not hidden:
        return None
    _, facet, middle = max(hidden)
    return facet, middle


def _covers(facet: int, flap: int, tip: Point, after: State) -> bool:
    """Whether a facet that lies over a flap hides its tip."""
    ring = after.placed[flap]
    near = between(tip, centroid(ring), _WITHIN)
    return bool(after.above(facet, flap)) and inside(after.placed[facet], near)


def _in_sight(tip: Point, before: State, after: State) -> bool:
    """Whether what is seen at the tip of a flap, before it moves, moves: all that lies over it does."""
    stack = before.facets_at(tip)
    return bool(stack) and any(
        distance(after.where(inverse(before.facets[stack[0]].place)(p)), p) > FOLDED
        for p in (tip, between(tip, centroid(before.placed[stack[0]]), _WITHIN))
    )


def _came(arrow: Arrow, before: State, after: State) -> list[int]:
    """Facets that have come from the tail to the head."""
    return [
        i
        for i in after.facets_at(arrow.head)
        if not _stays(i, before, after)
        and distance(_before(i, arrow.head, before, after), arrow.tail) <= FOLDED
    ]


def _over(came: Sequence[int], before: State, after: State) -> list[int]:
    """Facets that stay where they are and lie over the paper that has come."""
    if not came:
        return []
    stays = [_stays(k, before, after) for k in range(len(after.facets))]
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


def _entered(way: Segment, after: State, cover: Sequence[int]) -> Segment | None:
    """The side of what covers the flap that a straight way crosses last on its way in."""
    found: list[tuple[float, Segment]] = []
    for ring in outlines([after.placed[k] for k in cover]):
        for side in edges(ring):
            at = _cross(way, side)
            if (
                at is not None
                and min(distance(at, p) for p in way) > FOLDED
                and cross(subtract(side[1], side[0]), subtract(way[1], way[0])) > 0
            ):
                found.append((round(distance(at, way[1]), 9), side))
    return min(found)[1] if found else None


def _cross(one: Segment, other: Segment) -> Point | None:
    """Where two segments cross; None where they do not."""
    at = meet(line_through(*one), line_through(*other))
    on_both = at is not None and all(point_on_segment(seg, at, FOLDED) for seg in (one, other))
    return at if on_both else None
