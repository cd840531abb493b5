"""Stand on: the whole model is turned in space, and put down on the points that are its feet.

In: a `Request` with points or edges. Out: an `Outcome` whose paper is as it lay, with the goal that its
pose is put down by.
"""

from __future__ import annotations

from dataclasses import replace

from ..geometry.isometries import inverse
from ..geometry.lines import Point, scale
from ..languages.wording import phrase
from ..pose.goals import Stand
from .planning.at_points import listed, places, signed
from .planning.fingers import Still
from .planning.request import LineValue, Move, Outcome, PointValue, Request, Solid


def make(request: Request) -> Outcome:
    """Puts the model down on its feet."""
    request.allow("on", "and")
    named = places(request, "on")
    feet = tuple(foot for value in named for foot in _feet(request, value))
    words = phrase("Stand the model on {what}.", what=listed(named))
    done = signed(request, "landmark", named, words, solid=Solid("it stands in space"))
    return replace(done, goals=(Stand(feet),))


def _feet(request: Request, value: PointValue | LineValue) -> list[Point]:
    """The point, or the ends of the edge, on the sheet in mm."""
    state = request.state
    if isinstance(value, PointValue):
        ends = [value.sheet or inverse(state.facets[value.facets[0]].place)(value.at)]
    else:
        assert value.segment is not None
        ends = []
        for at in value.segment:
            facet = state.facets_at(at)[0]
            ends.append(inverse(state.facets[facet].place)(at))
    return [scale(p, state.sheet.unit_mm) for p in ends]


MOVE = Move(
    "stand",
    "turn the model in space, so that it stands on its feet",
    ("stand on A, B, C and D", "stand on the bottom edge"),
    make,
    flat=False,
    fingers=Still(),
)
