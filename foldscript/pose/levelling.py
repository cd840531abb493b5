"""Flaps that are turned until they lie level with other paper: the angle follows from how the rest stands.

In: the paper as it lies flat, the goals stage by stage, and how a pose is found. Out: the goals, with an
angle for each crease in the place of 'level'; and whether what was to be level is.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from ..geometry import polygons
from ..geometry.lines import Segment, midpoint, point_on_segment, scale
from ..paper.state import State
from ..paper.union_find import UnionFind
from ..source.diagnostics import Refusal
from .goals import WHOLE, Curl, Goal, Level, Raise, Round, Stages
from .pose import Edge, Pose, Reached
from .proof import missed, normal, turned_by

#: Sine of the angle between a crease and what its flap is to be level with; more, and it never is.
_ALONG = 0.02
#: Radians that count as none; degrees that level paper may be off.
_NONE, _OFF = 1e-6, 1.0
#: Sheet units within which a line runs along a crease.
_ON = 1e-6


def levelled(state: State, stages: Stages, found: Callable[[State, Stages], Pose]) -> Stages:
    """The goals, with angles for those that are to be level.

    Raises Refusal, 'level-crease', where a crease does not lie level, so that its flap never can, and
    'level-where', where the paper beyond it is no flap.
    """
    known: list[tuple[Goal, ...]] = []
    for some in stages:
        later = [goal for goal in some if isinstance(goal, Level)]
        others = tuple(goal for goal in some if not isinstance(goal, Level))
        known.append(others)
        if later:
            turned = tuple(
                tuple(g for g in one if not isinstance(g, (*WHOLE, Curl, Round))) for one in known
            )
            pose = found(state, tuple(one for one in turned if one))
            raises = tuple(raise_ for goal in later for raise_ in _angles(state, pose, goal))
            known[-1] = (*others, *raises)
    return tuple(known)


def judged(state: State, pose: Pose, stages: Stages) -> Pose:
    """The pose, with what was to be level in its proof."""
    again: set[Segment] = set()
    for goal in (goal for some in reversed(stages) for goal in reversed(some)):
        if isinstance(goal, Level) and not again & set(goal.creases):
            off = max(_off(state, pose, goal, edge) for edge in _along(state, pose, goal.creases))
            reached = Reached("level", 0.0, off, "degrees", off <= _OFF)
            faults = () if reached.enough else (missed(reached),)
            proof = pose.proof
            proof = replace(
                proof, reached=(*proof.reached, reached), faults=(*proof.faults, *faults)
            )
            pose = replace(pose, proof=proof)
        if isinstance(goal, Raise):
            again.update(goal.creases)
    return pose


def _angles(state: State, pose: Pose, goal: Level) -> list[Raise]:
    """What each crease has to be raised to."""
    like = _like(state, pose, goal)
    out: list[Raise] = []
    senses = goal.senses or (0,) * len(goal.creases)
    for crease, sense in zip(goal.creases, senses, strict=True):
        some = [_angle(state, pose, edge, sense, like) for edge in _along(state, pose, [crease])]
        if not some:
            raise Refusal("no-crease", "there is no crease to raise the paper about")
        out.append(Raise((crease,), round(180 - math.degrees(some[0]), 9), (sense,)))
    return out


def _like(state: State, pose: Pose, goal: Level) -> int:
    """The piece that the flap is to be level with."""
    if goal.like is None:
        return pose.still
    at = scale(goal.like, state.sheet.unit_mm)
    deep = [polygons.depth(_ring(pose, k), at) for k in range(len(pose.pieces))]
    return max(range(len(deep)), key=lambda k: (round(deep[k], 6), -k))


def _ring(pose: Pose, k: int) -> tuple[tuple[float, float], ...]:
    return tuple(pose.sheet[v] for v in pose.pieces[k].corners)


def _along(state: State, pose: Pose, creases: Sequence[Segment]) -> list[Edge]:
    """The edges of a pose along segments of the sheet."""
    unit = 1 / state.sheet.unit_mm
    return [
        edge
        for edge in pose.edges
        for crease in creases
        if edge.right is not None
        and all(
            point_on_segment(crease, scale(pose.sheet[v], unit), _ON)
            for v in (edge.start, edge.end)
        )
    ]


def _angle(state: State, pose: Pose, edge: Edge, sense: int, like: int) -> float:
    """Radians by which an edge has to be folded, from 0 to less than π."""
    home = _home(state, pose, edge, like)
    space = np.array(pose.space)
    start, end = space[edge.start], space[edge.end]
    wanted = normal(space[list(pose.pieces[like].corners)])
    along = (end - start) / np.sqrt((end - start) @ (end - start))
    if abs(float(wanted @ along)) > _ALONG:
        raise Refusal(
            "level-crease",
            "the crease runs up or down there, so that what hangs on it never lies level",
            "say the angle instead: 'to 60 degrees'",
        )
    wanted = wanted - along * float(wanted @ along)
    here = normal(space[list(pose.pieces[home].corners)])
    planes = (here, wanted) if home == edge.left else (wanted, here)
    angle = turned_by(*planes, start, end)
    if not sense and abs(edge.angle) > _NONE:
        sense = 1 if edge.angle > 0 else -1
    if not sense:
        sense = 1 if state.facets[pose.pieces[edge.left].facet].shows_front else -1
    turn = (angle * sense) % math.pi
    return 0.0 if math.pi - turn < _NONE else turn


def _home(state: State, pose: Pose, edge: Edge, like: int) -> int:
    """The side of a crease that belongs to the paper that its flap is to be level with.

    Layers that turn together about one line go to and fro across it, as those of a wing and its body do:
    every other one is on the side of that paper.
    """
    crease = _crease(state, pose, edge)
    joined = UnionFind(len(pose.pieces))
    across: list[tuple[int, int]] = []
    for other in pose.edges:
        if other.right is None:
            continue
        if _crease(state, pose, other) == crease:
            across.append((other.left, other.right))
        else:
            joined.unite(other.left, other.right)
    assert edge.right is not None
    beyond = {joined.find(like): False}
    waiting = [joined.find(like)]
    while waiting:
        here = waiting.pop()
        for pair in across:
            sides = [joined.find(k) for k in pair]
            if here in sides and sides[0] != sides[1]:
                there = sides[1] if sides[0] == here else sides[0]
                if there not in beyond:
                    beyond[there] = not beyond[here]
                    waiting.append(there)
    sides = [k for k in (edge.left, edge.right) if not beyond.get(joined.find(k), True)]
    if len(sides) != 1:
        raise Refusal(
            "level-where",
            "the paper beyond the crease hangs together with the rest elsewhere, and is no flap",
            "say the angle instead: 'to 60 degrees'",
        )
    return sides[0]


def _crease(state: State, pose: Pose, edge: Edge) -> tuple[float, float, float]:
    """The line of the folded plane that an edge lies on: layers that turn together have the same."""
    place = state.facets[pose.pieces[edge.left].facet].place
    unit = 1 / state.sheet.unit_mm
    (ax, ay), (bx, by) = (place(scale(pose.sheet[v], unit)) for v in (edge.start, edge.end))
    size = math.hypot(bx - ax, by - ay)
    nx, ny = (ay - by) / size, (bx - ax) / size
    flip = -1.0 if (round(nx, 5), round(ny, 5)) < (0, 0) else 1.0
    x, y = midpoint((ax, ay), (bx, by))
    return round(flip * nx, 5), round(flip * ny, 5), round(flip * (nx * x + ny * y), 5)


def _off(state: State, pose: Pose, goal: Level, edge: Edge) -> float:
    """Degrees that the flap at an edge is off."""
    like = _like(state, pose, goal)
    home = _home(state, pose, edge, like)
    flap = edge.right if home == edge.left else edge.left
    assert flap is not None
    space = np.array(pose.space)
    one, other = (normal(space[list(pose.pieces[k].corners)]) for k in (flap, like))
    return math.degrees(math.acos(min(1.0, abs(float(one @ other)))))


def has_level(goals: Sequence[Goal]) -> bool:
    """Whether any of these is to be level."""
    return any(isinstance(goal, Level) for goal in goals)
