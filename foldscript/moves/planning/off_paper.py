"""A point beside the paper, told: how far, what is nearest, and where the points lie that it was said by.

In: a `Request` and the point. Out: the refusal.
"""

from __future__ import annotations

import re

from ...geometry.lines import Point, Segment, between, distance, dot, subtract
from ...geometry.polygons import edges
from ...geometry.tolerance import EPS
from ...source.diagnostics import Refusal, write
from .request import PointValue, Request

#: Letters of points, also several in a row ('line KP').
_LETTERS = re.compile(r"[A-Z]\d?(?![a-z])")
#: Points of which it is said where they lie.
_MOST = 2


def off_the_paper(request: Request, point: PointValue) -> Refusal:
    """The refusal of a point where no paper lies."""
    near = _nearest(request, point.at)
    away = distance(near, point.at) * request.unit_mm
    words = request.words_at(near)
    place = f"the {words}" if " " in words else words
    by = f"nearest to {place}" if words else f"nearest to the place {request.locate(near)}"
    lie = [f"{name} lies {where}" for name in _named(point) if (where := _where(request, name))]
    return Refusal(
        "off-the-paper",
        "; ".join(
            (
                f"{point.words.render()} is not on the paper: it is {away:.0f} mm beside it, {by}",
                *lie[:_MOST],
            )
        ),
        *((write(point.span, words, f"say '{words}' for that"),) if words else ()),
        "choose a point that lies on the paper now",
        span=point.span,
    )


def _nearest(request: Request, spot: Point) -> Point:
    """The place on the paper that is nearest to a spot beside it."""
    feet = (_foot(side, spot) for ring in request.state.placed for side in edges(ring))
    return min(feet, key=lambda at: (round(distance(at, spot), 9), at))


def _foot(side: Segment, spot: Point) -> Point:
    p, q = side
    along = subtract(q, p)
    square = dot(along, along)
    part = dot(subtract(spot, p), along) / square if square > EPS else 0.0
    return between(p, q, min(1.0, max(0.0, part)))


def _named(point: PointValue) -> list[str]:
    """The letters of the points that a point is said by."""
    return list(dict.fromkeys(_LETTERS.findall(point.words.render())))


def _where(request: Request, name: str) -> str:
    """'20 mm from corner B': where a point with a name lies, by another; '' where that cannot be said."""
    state, corners = request.state, request.state.sheet.corner_names
    if name not in request.points:
        return ""
    here = state.where(request.points[name])
    others = [
        (round(distance(here, state.where(at)) * request.unit_mm), other)
        for other, at in request.points.items()
        if other != name and other in corners
    ]
    if not others:
        return ""
    mm, other = min(others)
    return f"on corner {other}" if mm == 0 else f"{mm} mm from corner {other}"
