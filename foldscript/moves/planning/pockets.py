"""Where fingers slip into pockets while paper is raised: the `opening` clause.

In: a `Request`. Out: the points named, and for each the layer that is parted from the next.
"""

from __future__ import annotations

from ...geometry.isometries import inverse
from ...geometry.lines import add, scale, subtract
from ...geometry.polygons import centroid
from ...pose.goals import Part
from ...source.diagnostics import Refusal
from .at_points import places
from .request import LineValue, PointValue, Request

#: Share of the way to the middle of a layer by which a place on its edge is taken to be inside.
_INSIDE = 1e-2


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
        at = inverse(facet.place)(place.at)
        inside = add(at, scale(subtract(centroid(facet.outline), at), _INSIDE))
        found.append((place, Part(inside, facet.shows_front == lowest)))
    return found
