"""From the paper as it lies, and what hands then do, to the pose: the simplest way that leads there.

In: a state, and goals, stage by stage. Out: a `Pose` with its proof. Flaps that are
only raised turn as they are, exactly; where other creases have to give way, and for everything else, paper
that gives a little finds its place.
"""

from __future__ import annotations

from ..paper.state import State
from ..source.diagnostics import Refusal
from .goals import Raise, Stages
from .opening import opened
from .pose import Pose
from .raising import raised


def stood(state: State, stages: Stages) -> Pose:
    """The pose; whether it may be drawn, its proof says.

    Raises Refusal where it cannot be told what is to open, or which creases are meant, and for several
    sheets that are put together: nothing is known of what holds them to each other.
    """
    if state.sheet.others:
        raise Refusal(
            "several-sheets",
            "it is put together of several sheets, and only a model of one sheet is stood up",
        )
    goals = [goal for some in stages for goal in some]
    turns = [goal for goal in goals if isinstance(goal, Raise)]
    if len(turns) == len(goals):
        pose = raised(state, turns)
        if pose.proof.holds:
            return pose
    return opened(state, stages)
