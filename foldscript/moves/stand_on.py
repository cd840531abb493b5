"""Stand on: the whole model is turned in space, and put down on the points that are its feet.

In: a `Request` with points or edges. Out: an `Outcome` whose paper is as it lay, with the goal that its
pose is put down by.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import Point, Segment, overlap_of, scale
from ..languages.wording import phrase
from ..paper.signs import PointSign
from ..pose.goals import Stand
from ..source.diagnostics import Refusal
from .planning.at_points import listed, places, signed
from .planning.fingers import Still
from .planning.request import LineValue, Move, Outcome, PointValue, Request, Solid


def make(request: Request) -> Outcome:
    """Puts the model down on its feet."""
    request.allow("on", "and")
    named = places(request, "on")
    feet = [foot for value in named for foot in _feet(request, value)]
    words = phrase("Stand the model on {what}.", what=listed(named))
    done = signed(request, "foot", named, words, solid=Solid("it stands in space"))
    signs = tuple(PointSign("foot", request.state.where(foot), foot=foot) for foot in feet)
    unit = request.state.sheet.unit_mm
    edges = tuple(
        (scale(a, unit), scale(b, unit)) for value in named for a, b in _along(request, value)
    )
    goal = Stand(tuple(scale(p, unit) for p in feet), edges)
    return replace(done, signs=signs, goals=(goal,))


def _feet(request: Request, value: PointValue | LineValue) -> list[Point]:
    """The point, or the ends of the edge, on the sheet."""
    if isinstance(value, PointValue):
        return [value.sheet or _on_sheet(request, value.at, value.facets)]
    assert value.segment is not None
    return [_on_sheet(request, at, ()) for at in value.segment]


def _on_sheet(request: Request, at: Point, facets: Sequence[int]) -> Point:
    """A place of the figure on the sheet: on the first of the facets named, else on the uppermost there."""
    here = facets or request.state.facets_at(at)
    if not here:
        raise Refusal(
            "stand-where",
            "there is no paper at that place to stand on",
            "name points or an edge of the paper",
            span=request.span,
        )
    return inverse(request.state.facets[here[0]].place)(at)


def _along(request: Request, value: PointValue | LineValue) -> list[Segment]:
    """All paper that lies along an edge, on the sheet; nothing for a point."""
    if isinstance(value, PointValue) or value.segment is None:
        return []
    found: list[Segment] = []
    for facet, placed in zip(request.state.facets, request.state.placed, strict=True):
        for side in zip(placed, (*placed[1:], placed[0]), strict=True):
            part = overlap_of(value.segment, side)
            if part is not None:
                found.append(map_segment(inverse(facet.place), part))
    return found


MOVE = Move(
    "stand",
    "turn the model in space, so that it stands on its feet",
    ("stand on A, B, C and D", "stand on the bottom edge"),
    make,
    by_sight=("stand on {edge}",),
    flat=False,
    fingers=Still(),
)
