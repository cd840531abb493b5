"""Places and widths that were asked for, measured on paper that stands; measured once more where it is rolled
or rounded afterwards.

In: pieces, places, goals. Out: what was reached. Rolling and rounding carry points on: one that was brought
to its place before is there in the end only if it did not go with the roll.
"""

from __future__ import annotations

import math
from collections import defaultdict, deque
from collections.abc import Collection, Sequence

import numpy as np

from ..geometry.lines import Point
from .apart import Apart
from .goals import Bring, Goal, Hold, Open, Pull, Spread
from .holding import together
from .pieces import Array, Pieces
from .pose import Reached
from .pulling import carried, drawn_out

#: How much of a width asked has to be there, and how much more may be.
_WIDTH = (0.85, 1.15)
#: Millimetres that a point may be off the place that it is brought to.
_PLACE = 2.0


#: What is told of a width that was asked.
WIDTH = "width"


def brought(pieces: Pieces, goal: Bring) -> int:
    """The point of the paper that a goal brings."""
    return int(np.argmin(((pieces.points - goal.point) ** 2).sum(axis=1)))


def brought_to(pieces: Pieces, goal: Bring, space: Array) -> Reached:
    """How far a point is from the place that it is brought to, mm."""
    unit = pieces.state.sheet.unit_mm
    place = space[brought(pieces, goal)]
    off = math.dist(place, (goal.to[0] * unit, goal.to[1] * unit, 0.0))
    return Reached("bring", 0.0, off, "mm", off <= _PLACE)


def opened_by(pieces: Pieces, pair: Apart, space: Array) -> Reached:
    """How far apart two places are, mm."""
    low, high = (
        [(float(x), float(y)) for x, y in pieces.points[list(ends)]]
        for ends in (pair.low, pair.high)
    )
    between = tuple(zip(low, high, pair.share, strict=True))
    got = math.dist(*pair.places(space))
    return _wide(pair.width * pieces.state.sheet.unit_mm, got, between)


def _wide(asked: float, got: float, between: tuple[tuple[Point, Point, float], ...]) -> Reached:
    near = _WIDTH[0] <= got / asked <= _WIDTH[1]
    return Reached(WIDTH, asked, got, "mm", near, between)


def measured_again(
    pieces: Pieces,
    space: Array,
    goals: Sequence[Goal],
    reached: Sequence[Reached],
    done: Collection[Goal],
) -> list[Reached]:
    """What was `reached` of goals, measured where the paper (pieces, and places in mm) is now.

    Those that were `done` before keep what they had: what comes after may undo them. A hand does not let go.
    """
    asked: dict[str, deque[Goal]] = defaultdict(deque)
    for goal in goals:
        match goal:
            case Bring():
                asked["bring"].append(goal)
            case Hold():
                asked["hold"].append(goal)
            case Pull():
                asked["pull"].append(goal)
            case Open() | Spread():
                asked["width"].append(goal)
            case _:
                pass
    return [
        _again(pieces, space, one, asked[one.goal].popleft() if asked[one.goal] else None, done)
        for one in reached
    ]


def _again(
    pieces: Pieces, space: Array, one: Reached, goal: Goal | None, done: Collection[Goal]
) -> Reached:
    match goal:
        case Hold():
            return together(pieces, space, goal)
        case Bring() if goal not in done:
            return brought_to(pieces, goal, space)
        case Pull() if goal not in done:
            return drawn_out(pieces, goal, space)
        case Open() | Spread() if goal not in done:
            lows, highs, share = zip(*one.between, strict=True)
            low, high = (
                np.array(share) @ [carried(pieces, space, p)[1] for p in some]
                for some in (lows, highs)
            )
            return _wide(one.asked, math.dist(low, high), one.between)
        case _:
            return one
