"""The stage between folding and drawing: which steps stand in space, and how.

In: a folded model. Out: for each step that leaves the plane, and for those after it, the `Pose` of the
model when it is done; and warnings where none could be found that its proof lets pass. Such a step keeps
its sign on the flat figure: there is never a wrong picture.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from typing import TYPE_CHECKING

from ..folding.half_way import changing
from ..folding.steps import Model
from ..geometry.isometries import IDENTITY, Isometry, compose, inverse
from ..geometry.lines import Segment, midpoint, overlap_of
from ..geometry.tolerance import EPS_ANGLE, is_zero
from ..paper.state import State
from ..pose.goals import Blow, Goal, Open, Pull, Raise, Spread, Stages, Turned, carried
from ..pose.pose import Pose
from ..source.diagnostics import Diagnostic, Hint, Refusal, Severity, Span
from ..source.reporting import internal_fault
from .otherwise import NO_LESS, less_tried, open_elsewhere, said_otherwise, untried
from .unposed import said_of

if TYPE_CHECKING:
    from ..pose.elastic import Work
    from ..pose.halfway import Halfway

#: Work (`pose/elastic.py`) that what is offered for one pose that was not found may take, all in all.
_TRIED = 1200.0
_PRESSED = Hint("or, where a closed point is to be pressed flat, say 'flatten' and that point")


@dataclass
class PoseCache:
    """Poses found so far, with the paper and goals that they were found from, and moves half way; `stored`
    are poses of an earlier build, by the keys of the build cache.

    Of a move without a figure half way it is kept why it has none.
    """

    known: list[tuple[State, Stages, Pose]] = field(default_factory=list)
    halves: list[tuple[State, State, bool, Halfway | Refusal]] = field(default_factory=list)
    stored: dict[str, Pose] = field(default_factory=dict)

    def pose(self, state: State, goals: Stages, work: Work | None = None) -> Pose:
        """The pose, found only once. Raises Refusal.

        With `work` no more is done than is left of that; what is not found so is not kept.
        """
        for paper, asked, pose in self.known:
            if asked == goals and paper == state:
                return pose
        pose = self._stored(state, goals)
        if pose is None:
            from ..pose.standing import (
                stood,
            )  # what solves is loaded when something is to be solved

            pose = stood(state, goals, work)
            if work is not None and not pose.proof.holds:
                return pose
        self.known.append((state, goals, pose))
        return pose

    def half(self, before: State, after: State, asked: bool) -> Halfway:
        """A move half way, found only once. Raises Refusal."""
        found = next(
            (
                half
                for one, other, said, half in self.halves
                if said == asked and one == before and other == after
            ),
            None,
        )
        if found is None:
            found = _half(before, after, asked)
            self.halves.append((before, after, asked, found))
        if isinstance(found, Refusal):
            raise found
        return found

    def _stored(self, state: State, goals: Stages) -> Pose | None:
        if not self.stored:
            return None
        from .cache.poses import key_of  # the build cache is loaded where one is kept

        return self.stored.get(key_of(state, goals))

    def by_key(self) -> dict[str, Pose]:
        """All that were asked for, for the build cache."""
        from .cache.poses import key_of

        return {key_of(state, goals): pose for state, goals, pose in self.known}


@dataclass(frozen=True)
class Standing:
    """What stands.

    Attributes
    ----------
    poses : number of a step -> how the model stands when it is done
    warnings : of steps without a pose, at the steps
    """

    poses: Mapping[int, Pose]
    warnings: tuple[Diagnostic, ...]


@dataclass(frozen=True)
class Halves:
    """What is shown half way.

    Attributes
    ----------
    found : number of a step -> its move half way
    warnings : of steps where looking for one failed
    """

    found: Mapping[int, Halfway]
    warnings: tuple[Diagnostic, ...]


def half_done(model: Model, kept: PoseCache) -> Halves:
    """Moves half way: those that the script asks for, and one for each other kind of move in the model, its
    first that has one.

    Moves of repeats show none; nor does a step with a second move that changes the paper, for its figure is
    of both. Only where a figure is asked for is it said why there is none.
    """
    found: dict[int, Halfway] = {}
    warnings: list[Diagnostic] = []
    shown: set[str] = set()
    for step in model.steps:
        made, said = changing(step), step.half_way
        asked = said is not None and said[0]
        move = made[0].move if len(made) == 1 else None
        if move is None or (said is None and move.verb in shown) or (said and not asked):
            continue
        what = f"step {step.number} is not shown half way"
        try:
            found[step.number] = kept.half(made[0].before, made[0].after, asked)
        except Refusal as refusal:
            if said is not None:
                why = f"{what}: {refusal.message}"
                warnings.append(
                    Diagnostic("no-half-way", why, said[1], refusal.hints, Severity.WARNING)
                )
        except Exception as error:
            fault = internal_fault(None, error)
            warnings.append(_no_pose(f"{what}: {fault.message}", step.span, fault.hints))
        else:
            shown.add(move.verb)
    return Halves(found, tuple(warnings))


def _half(before: State, after: State, asked: bool) -> Halfway | Refusal:
    from ..pose.halfway import halfway  # what solves is loaded when something has to be solved

    try:
        return halfway(before, after, asked)
    except Refusal as refusal:
        return refusal


def standing(model: Model, kept: PoseCache) -> Standing:
    """How a model stands, step by step. Whatever goes wrong with a pose is a warning: the flat figures are
    right without it."""
    poses: dict[int, Pose] = {}
    warnings: list[Diagnostic] = []
    goals: Stages = ()
    paper: State | None = None  # as it lay when it left the plane: goals are told on it
    motion = IDENTITY  # that has turned the model since
    begun = {part.first for part in model.parts}
    lies = False  # whether the last pose was not found, which turning it does not mend
    for step in model.steps:
        new = False
        if step.number in begun:
            goals = ()
        for record in step.records:
            if record.turn is not None and goals:
                goals += ((_turned(record.turn),),)
                motion = compose(record.turn, motion)
                new = True
            if record.goals:
                if not goals:
                    paper, motion = record.after, IDENTITY
                goals += (tuple(_told(goal, record.after, motion) for goal in record.goals),)
                new = True
        if not goals or not new:
            if goals and step.number - 1 in poses:
                poses[step.number] = poses[step.number - 1]
            continue
        if lies and not any(record.goals for record in step.records):
            continue
        lies = False
        try:
            pose = kept.pose(paper or step.after, goals)
        except Refusal as refusal:
            hints = refusal.hints
            why = refusal.message
            if refusal.code == "no-opening":
                flat, stands = paper or step.after, Trials(kept).stands
                there = open_elsewhere(flat, goals, stands)
                hints = hints if there is None else (there,)
                if goals and all(isinstance(goal, Blow) for goal in goals[-1]):
                    hints = (*hints, _PRESSED)
        except Exception as error:
            fault = internal_fault(None, error)
            why, hints = fault.message, fault.hints
        else:
            if pose.proof.holds:
                poses[step.number] = pose
                continue
            flat = paper or step.after
            trials = Trials(kept)
            tried = partial(_passes, trials, flat, goals)
            why, hints = said_of(pose, flat, step, partial(_called, model, goals), tried)
            better = said_otherwise(flat, goals, step, trials.stands)
            shut = any(one.goal == "opening" and not one.enough for one in pose.proof.reached)
            if better is not None:
                or_else = replace(better, text=f"or {better.text}")
                hints = (*hints, or_else) if shut else (better,)
            else:
                less = less_tried(flat, goals, hints, trials.stands, step)
                hints = untried(hints) if trials.given_up and less[-1:] == (NO_LESS,) else less
        lies = True
        what = f"how the model stands after step {step.number} was not found, so it is drawn flat: {why}"
        warnings.append(_no_pose(what, step.span, hints))
    return Standing(poses, tuple(warnings))


def _turned(turn: Isometry) -> Turned:
    """A motion on the table as what is done to the model as it stands."""
    sense = -1.0 if turn.flips else 1.0
    return Turned(turn.flips, round(math.degrees(math.atan2(sense * turn.c, sense * turn.a)), 9))


def _told(goal: Goal, paper: State, motion: Isometry) -> Goal:
    """A goal of paper that a motion has brought where it is, as it is on the paper before that."""
    if isinstance(goal, Raise) and motion.flips:  # what is a valley now, was none
        goal = replace(
            goal,
            senses=tuple(
                sense or _seen(paper, crease)
                for crease, sense in zip(goal.creases, goal.senses, strict=True)
            ),
        )
    return carried(goal, inverse(motion))


def _seen(paper: State, crease: Segment) -> int:
    """The side that is inside of a valley along a crease as it is seen: 1 the front, -1 the back."""
    facets = paper.facets_on_sheet(midpoint(*crease))
    return 1 if paper.facets[paper.top_down(facets)[0]].shows_front else -1


def _called(model: Model, goals: Stages, angle: float) -> tuple[str, ...]:
    """The names of the creases that paper is raised about to an angle, as far as they have names."""
    records = [record for step in (*model.begun, *model.steps) for record in step.records]
    raised = [
        crease
        for some in goals
        for goal in some
        if isinstance(goal, Raise) and abs(goal.angle - angle) < EPS_ANGLE
        for crease in goal.creases
    ]
    found = (
        record.name
        for record in records
        if record.name
        and any(
            overlap_of(part, crease) is not None for part in record.creases for crease in raised
        )
    )
    return tuple(dict.fromkeys(found))


def _passes(trials: Trials, paper: State, goals: Stages, kind: str, was: float, now: float) -> bool:
    """Whether a pose is found when the goals of a kind that ask so much ask another amount."""

    def instead(goal: Goal) -> Goal:
        match goal:
            case Raise() if kind == "raise" and is_zero(goal.angle - was):
                return replace(goal, angle=now)
            case Open() | Spread() if kind == "width" and is_zero(goal.width - was):
                return replace(goal, width=now)
            case Pull() if kind == "pull" and is_zero(goal.by - was):
                return replace(goal, by=now)
            case _:
                return goal

    asked = tuple(tuple(instead(goal) for goal in some) for some in goals)
    return asked != goals and trials.stands(paper, asked)


class Trials:
    """What else could be said is tried, as far as the work goes that one warning is worth.

    Attributes
    ----------
    given_up : whether something was not tried, or not to its end
    """

    def __init__(self, kept: PoseCache) -> None:
        from ..pose.elastic import Work  # loaded only where something is to be solved

        self._kept = kept
        self._work = Work(left=_TRIED)
        self.given_up = False

    def stands(self, paper: State, goals: Stages) -> bool:
        """Whether the paper is found to stand when it is asked these goals."""
        if self._work.left <= 0:
            self.given_up = True
            return False
        try:
            holds = self._kept.pose(paper, goals, self._work).proof.holds
        except Exception:  # what cannot be tried is not offered
            return False
        self.given_up |= not holds and self._work.left <= 0
        return holds


def _no_pose(what: str, span: Span, hints: tuple[Hint, ...]) -> Diagnostic:
    return Diagnostic("no-pose", what, span, hints, Severity.WARNING)
