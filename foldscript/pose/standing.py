"""From the paper as it lies, and what hands then do, to the pose: the simplest way that leads there.

In: a state, and goals, stage by stage. Out: a `Pose` with its proof. Flaps that are
only raised turn as they are, exactly; where other creases have to give way, and for everything else, paper
that gives a little finds its place. On which feet it is put down is settled when it stands.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from itertools import takewhile

from ..geometry.remembered import remembered
from ..paper.state import State
from ..source.diagnostics import Refusal
from .afterwards import raised_on
from .curling import curled
from .elastic import Work
from .flattening import opened_flat
from .goals import EXACT, WHOLE, Close, Curl, Goal, Hold, Open, Raise, Round, Stages, Stand, Turned
from .levelling import has_level, judged, levelled
from .measuring import WIDTH
from .opening import opened
from .packing import closed_up
from .pose import Amiss, Pose
from .proof import missed
from .raising import raised
from .resting import stands
from .rounding import rounded
from .upright import upright

#: What works a pose out.
_Solve = Callable[[State, Stages, Work | None], Pose]
#: × the width of a mouth that no number was said of: tried one after the other.
_NARROWER = (0.8, 0.6, 0.4)
#: × the work of a pose: as much at most goes into a model that flaps may then be raised on.
_BASE = 0.5


def stood(state: State, stages: Stages, work: Work | None = None) -> Pose:
    """The pose; whether it may be drawn, its proof says. A mouth without a width opens as wide as it can.

    With `work` no more is done than is left of that.

    Raises Refusal where it cannot be told what is to open, or which creases are meant, and for several
    sheets that are put together: nothing is known of what holds them to each other.
    """
    said = stages
    if has_level([goal for some in stages for goal in some]):
        stages = levelled(state, stages, partial(_stood, work=work))
    pose = _stood(state, stages, work)
    if any(isinstance(goal, Open) and goal.at_most for some in stages for goal in some):
        pose = _as_wide_as_it_goes(state, stages, pose, work)
    return judged(state, pose, said)


def _as_wide_as_it_goes(state: State, stages: Stages, pose: Pose, work: Work | None = None) -> Pose:
    """The pose with mouths narrower than asked, where it is not found so wide. To what a mouth did not come
    when it was pulled wider, it is not pulled.
    """
    wide, came_to = 1.0, 1.0
    for part in _NARROWER:
        if pose.proof.holds:
            break
        share = wide * _share_reached(pose, wide, stages)
        came_to = share if share >= _NARROWER[-1] else came_to
        if part <= came_to:
            narrower = tuple(tuple(_narrowed(g, part) for g in some) for some in stages)
            wide, pose = part, _stood(state, narrower, work)
    return pose


def _share_reached(pose: Pose, wide: float, stages: Stages) -> float:
    """How much of the width that it was pulled to, so much of what is asked, the mouth has that has come to
    least of it.
    """
    asked = [wide * g.width for some in stages for g in some if isinstance(g, Open) and g.at_most]
    mouths = (
        r
        for r in pose.proof.reached
        if r.goal == WIDTH and any(math.isclose(r.asked, width) for width in asked)
    )
    return min((r.got / r.asked for r in mouths if not r.enough), default=1.0)


def _narrowed(goal: Goal, part: float) -> Goal:
    return (
        replace(goal, width=part * goal.width) if isinstance(goal, Open) and goal.at_most else goal
    )


def _stood(state: State, stages: Stages, work: Work | None = None) -> Pose:
    return _once(_solved, state, stages, work)


def _once(solve: _Solve, state: State, stages: Stages, work: Work | None) -> Pose:
    """What `solve` gives, worked out once of stages with which others begin, or to which is only added."""
    known = _known(state)
    found = known.get((solve, stages))
    if found is None:
        found = solve(state, stages, work)
        if work is None or found.proof.holds:
            known[solve, stages] = found
    return found


@remembered
def _known(state: State) -> dict[tuple[_Solve, Stages], Pose]:
    """Poses of a paper that have been found, or are not to be found with any work."""
    return {}


def _solved(state: State, stages: Stages, work: Work | None) -> Pose:
    whole = [goal for some in stages for goal in some if isinstance(goal, WHOLE)]
    rest = [goal for some in stages for goal in some if not isinstance(goal, WHOLE)]
    if len(rest) == 1 and isinstance(rest[0], Close):
        return _set_up(closed_up(state, rest[0]), whole)
    if state.sheet.others:
        raise Refusal(
            "several-sheets",
            "it is put together of several sheets, and only a model of one sheet is stood up",
        )
    if whole:
        solved = tuple(
            tuple(goal for goal in some if not isinstance(goal, WHOLE)) for some in stages
        )
        return _set_up(_stood(state, tuple(some for some in solved if some), work), whole)
    afterwards = _raised_afterwards(state, stages, work)
    if afterwards is not None:
        return afterwards
    goals = [goal for some in stages for goal in some]
    curls = [goal for goal in goals if isinstance(goal, Curl)]
    turns = [goal for goal in goals if isinstance(goal, Raise)]
    flaps = [flap for curl in curls for flap in [opened_flat(state, turns, curl)] if flap]
    rounds = [goal for goal in goals if isinstance(goal, Round)]
    holds = [goal for goal in goals if isinstance(goal, Hold)]
    exact = all(isinstance(goal, EXACT) for goal in goals)
    pose = raised(state, turns, flaps, holds) if exact else None
    if pose is not None and _covered(pose):
        return pose  # paper would only bend out of the way
    if pose is None or not (flaps or pose.proof.holds):
        left = [tuple(g for g in some if not isinstance(g, Curl | Round)) for some in stages]
        pose = _once(opened, state, tuple(some for some in left if some), work)
    for goal in rounds:
        pose = rounded(state, pose, goal, _before(stages, goal)) if pose.proof.holds else pose
    if curls and pose.proof.holds:
        pose = curled(state, pose, curls, _before(stages, curls[0]))
    return pose


def _raised_afterwards(state: State, stages: Stages, work: Work | None) -> Pose | None:
    """The pose where flaps of a model that stands already are raised last, and nothing else moves; None where
    that is not so.
    """
    *before, last = stages or ((),)
    solved = any(not isinstance(goal, EXACT) for some in before for goal in some)
    if not solved or not last or not all(type(goal) is Raise for goal in last):
        return None
    base = _stood(state, tuple(before), work or Work(_BASE * Work().left))
    pose = raised_on(state, base, stages) if base.proof.holds else None
    return pose if pose is not None and pose.proof.holds else None


def _covered(pose: Pose) -> bool:
    """Whether all that is amiss is a flap under other paper."""
    return [fault.kind for fault in pose.proof.faults] == [Amiss.COVERED]


def _before(stages: Stages, goal: Goal) -> list[Goal]:
    """What was done in the stages before that of a goal."""
    return [one for some in takewhile(lambda some: goal not in some, stages) for one in some]


def _set_up(pose: Pose, goals: Sequence[Stand | Turned]) -> Pose:
    """The pose put down on its feet and turned; a fault of its proof where it does not stand on them."""
    for goal in goals:
        pose = replace(pose, goals=(*pose.goals, goal))
        if isinstance(goal, Turned):
            continue
        reached = stands(pose, goal, upright(pose)[0])
        said = tuple(missed(r) for r in reached if not r.enough)
        proof = replace(
            pose.proof, reached=pose.proof.reached + reached, faults=pose.proof.faults + said
        )
        pose = replace(pose, proof=proof)
    return pose
