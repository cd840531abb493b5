"""Shape: the model is opened out in three dimensions, and is no longer flat."""

from __future__ import annotations

from dataclasses import replace

from ..geometry.lines import Segment, add, distance
from ..languages.wording import Phrase, phrase
from ..paper.openings import likeliest
from ..paper.signs import Arrow, PointSign
from ..paper.silhouette import centre
from ..paper.state import State
from ..pose.goals import Bring, Goal, Open
from .planning.at_points import OPEN_OUT, landmark, listed, opening_out, places, signed, spot_of
from .planning.claims import NothingMoves
from .planning.fingers import Still
from .planning.request import LineValue, Move, Outcome, PointValue, Request, Solid
from .planning.standing_up import opened

#: How far a mouth opens where nothing is said, as a share of its edge.
HALF_OPEN = 0.5
SOLID = Solid("it was opened out and shaped")


def make(request: Request) -> Outcome:
    """Shows the sign at the places named, or where the layers part most likely; an arrow to a goal."""
    request.allow("", "at", "and", "to")
    if request.clause("", "at") is None:
        found = likeliest(request.state)
        sign = opening_out(centre(request.state))
        if found is not None:
            sign = opening_out(found.at, add(found.at, found.outward), opens=found.edge)
        return Outcome(
            request.state,
            (sign,),
            Phrase("Open the model out and shape it."),
            solid=SOLID,
            claims=(NothingMoves(),),
        )
    named = places(request, "", "at")
    target = places(request, "to")[0] if request.clause("to") is not None else None
    if target is not None:
        return _brought(request, named, target)
    words = phrase("Open the model out at {what} and shape it.", what=listed(named))
    done = signed(request, OPEN_OUT, named, words, solid=SOLID)
    signs = tuple(opened(request.state, s) for s in done.signs)
    mouths = [s.opens for s in signs if isinstance(s, PointSign) and s.opens and not s.slit]
    goals = (mouth(request.state, mouths[0], None),) if len(mouths) == 1 == len(signs) else ()
    return replace(done, signs=signs, goals=_of_one_sheet(request.state, goals))


def _of_one_sheet(state: State, goals: tuple[Goal, ...]) -> tuple[Goal, ...]:
    """The goals, where the model can be stood up: of several sheets put together only the sign is shown."""
    return () if state.sheet.others else goals


def mouth(state: State, edge: Segment, width: float | None) -> Open:
    """The goal of opening an edge, half as wide as it is long where nothing is said."""
    long = distance(*edge) * state.sheet.unit_mm
    return Open(edge, HALF_OPEN * long, at_most=True) if width is None else Open(edge, width)


def _brought(
    request: Request, named: list[PointValue | LineValue], target: PointValue | LineValue
) -> Outcome:
    """Points that are raised, and come to another place of the shaped model."""
    words = phrase(
        "Lift the paper at {what} and bring it to {goal}.", what=listed(named), goal=target.words
    )
    done = signed(request, OPEN_OUT, [*named, target], words, solid=SOLID)
    goal = spot_of(target)
    arrows = tuple(Arrow("raise", spot_of(p), goal) for p in named)
    brought = tuple(Bring(p.sheet, goal) for p in named if isinstance(p, PointValue) and p.sheet)
    goals = _of_one_sheet(request.state, brought)
    return replace(done, signs=(*arrows, landmark(goal)), goals=goals)


MOVE = Move(
    "shape",
    "open the model out in three dimensions; it is flat no longer",
    ("shape", "shape at A", "shape A and B", "shape A and B to O"),
    make,
    flat=False,
    fingers=Still(),
)
