"""Paper looked at from itself: the same problem, however the model lies on the table.

In: a state and goals. Out: the same as the first facet has them, lying as the sheet lay, front up; and
the way back for a pose that was found there. Paper that hardly holds its shape comes to rest here or there by
the last digit of a number; so all images of a model are solved in the same numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from ..geometry.isometries import IDENTITY, Isometry, compose, inverse, map_segment
from ..geometry.lines import Point, Segment, midpoint
from ..paper.state import Facet, State
from .goals import Blow, Bring, Goal, Hold, Open, Pull, Raise, Spread, Stages, carried
from .pose import Pose, Vector

#: Decimals of placements and of places (sheet units) that tell all images of a model alike.
_PLACED, _AT = 14, 12


@dataclass(frozen=True)
class OwnFrame:
    """Paper and goals in the paper's own frame; `motion` leads there from the folded plane."""

    state: State
    stages: Stages
    motion: Isometry

    def lines(self, lines: Sequence[Segment]) -> list[Segment]:
        """Lines of the folded plane in this frame, in an order of its own."""
        ends = (sorted(_rounded(map_segment(self.motion, line))) for line in lines)
        return sorted((p, q) for p, q in ends)

    def back(self, pose: Pose, stages: Stages) -> Pose:
        """A pose of this frame where the model lies, with its goals as they were told there."""
        if self.motion == IDENTITY:
            return pose
        home = inverse(self.motion)
        over = -1.0 if home.flips else 1.0
        turn = np.array([[home.a, home.b, 0.0], [home.c, home.d, 0.0], [0.0, 0.0, over]])
        shift = np.array([home.tx, home.ty, 0.0]) * self.state.sheet.unit_mm
        space = np.round(np.array(pose.space) @ turn.T + shift, 12) + 0.0
        where = pose.proof.where
        return replace(
            pose,
            space=tuple(_vector(row) for row in space),
            goals=tuple(goal for some in stages for goal in some),
            proof=pose.proof if where is None else replace(pose.proof, where=home(where)),
        )


def own_frame(state: State, stages: Stages) -> OwnFrame:
    """The paper in its own frame."""
    motion = inverse(state.facets[0].place)
    facets = tuple(
        Facet(f.outline, Isometry(*(round(v, _PLACED) + 0.0 for v in compose(motion, f.place))))
        for f in state.facets
    )
    order = {k: not v for k, v in state.order.items()} if motion.flips else state.order
    goals = tuple(tuple(_carried(state, goal, motion) for goal in some) for some in stages)
    return OwnFrame(state.relaid(facets, order), goals, motion)


def _carried(state: State, goal: Goal, motion: Isometry) -> Goal:
    """A goal in another frame, its numbers rounded."""
    goal = carried(goal, motion)
    match goal:
        case Open(edge=edge) | Blow(edge=edge) if edge is not None:
            return replace(goal, edge=_rounded(edge))
        case Spread() | Hold():
            return replace(goal, at=_place(goal.at))
        case Bring():
            return replace(goal, to=_place(goal.to))
        case Pull(way=(x, y, z)):
            return replace(
                goal, way=(round(x, _AT) + 0.0, round(y, _AT) + 0.0, round(z, _AT) + 0.0)
            )
        case Raise():
            senses = (*goal.senses, *(0 for _ in goal.creases[len(goal.senses) :]))
            pairs = zip(goal.creases, senses, strict=True)
            return replace(goal, senses=tuple(s or _valley(state, crease) for crease, s in pairs))
        case _:
            return goal


def _valley(state: State, crease: Segment) -> int:
    """The side that is inside of a valley as the reader sees it: 1 the front, -1 the back."""
    facets = state.facets_on_sheet(midpoint(*crease))
    return 1 if facets and state.facets[facets[0]].shows_front else -1


def _rounded(segment: Segment) -> Segment:
    return _place(segment[0]), _place(segment[1])


def _place(p: Point) -> Point:
    return round(p[0], _AT) + 0.0, round(p[1], _AT) + 0.0


def _vector(row: np.ndarray) -> Vector:
    x, y, z = (float(v) for v in row)
    return (x, y, z)
