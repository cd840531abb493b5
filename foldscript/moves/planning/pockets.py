"""Where fingers slip into pockets while paper is raised: the `opening` clause.

In: a `Request`. Out: the points named, and for each the layer that is parted from the next.
"""

from __future__ import annotations

import math

from ...geometry.isometries import inverse
from ...geometry.lines import Point, add, scale, subtract
from ...geometry.polygons import centroid, depth
from ...paper.state import State
from ...pose.goals import Part
from ...source.diagnostics import Refusal
from .at_points import places
from .request import LineValue, PointValue, Request

#: Share of the way to the middle of a layer by which a place on its edge is taken to be inside.
_INSIDE = 1e-2
#: A place nearer to the border of a layer (sheet units) is on it.
_ON = 1e-3
#: How far round a place it is looked whether paper lies there (sheet units).
_ROUND = 0.02


def slipped_into(request: Request) -> list[tuple[PointValue | LineValue, Part]]:
    """Where fingers slip in: under the uppermost layer at a point, or over the lowest where that is named.

    Raises Refusal, 'opening-where', for what is no point of the paper.
    """
    if request.clause("opening") is None:
        return []
    found: list[tuple[PointValue | LineValue, Part]] = []
    for place in places(request, "opening"):
        if not isinstance(place, PointValue) or not place.facets:
            raise Refusal(
                "opening-where",
                "after 'opening' come points of the pockets",
                *(f"write it like: {form}" for form in request.forms),
                span=request.span,
            )
        state, layer = request.state, place.facets[0]
        facet = state.facets[layer]
        lowest = all(state.above(layer, other) is not True for other in range(len(state.facets)))
        through = _through_slit(state, place.at, layer)
        at = inverse(facet.place)(place.at)
        inside = add(at, scale(subtract(centroid(facet.outline), at), _INSIDE))
        found.append((place, Part(inside, facet.shows_front == lowest, upward=lowest == through)))
    return found


def _through_slit(state: State, at: Point, layer: int) -> bool:
    """Whether a place of a layer is seen only between the edges of all others there, as a hull's floor is."""
    plate = frozenset(state.plate(layer))
    others = (k for k in state.facets_at(at) if k not in plate)
    return all(depth(state.placed[k], at) < _ON for k in others) and all_round(state, at, plate)


def all_round(state: State, at: Point, facets: frozenset[int]) -> bool:
    """Whether some of these facets lie on all sides of a place."""
    ways = (math.radians(15 + 30 * k) for k in range(12))
    spots = ((at[0] + _ROUND * math.cos(w), at[1] + _ROUND * math.sin(w)) for w in ways)
    return all(facets & set(state.facets_at(spot)) for spot in spots)
