"""Random goals on random paper: never a crash, never a pose that the independent check finds wrong or that
does not come to its goal, and the same pose for the same paper turned on the table or turned over.

`tests/laws/night.py` takes as many seeds as there is time for.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint
from shapely import Polygon

from foldscript.folding.resuming import FoldingCache
from foldscript.folding.steps import Model
from foldscript.geometry.isometries import Isometry, inverse, reflection, rotation
from foldscript.geometry.lines import Line, Point, between, midpoint, point_on_segment, scale
from foldscript.paper.state import State
from foldscript.pose.goals import Blow, Bring, Goal, Open, Raise, Round, Spread, carried
from foldscript.pose.pose import Pose, Vector
from foldscript.pose.standing import stood
from foldscript.source.diagnostics import Refusal

from ..checker.poses import pose_faults
from ..conftest import examples
from ..laws.outcomes import outcome
from ..laws.random_scripts import BEGINNINGS, Words
from ..scripts import SQUARE, folded, standing_document

#: A quarter turn on the table, and the model turned over side to side.
MOTIONS = (rotation(math.pi / 2, (0.5, 0.5)), reflection(Line(1.0, 0.0, 0.5)))


def random_model(rnd: random.Random) -> Model:
    words = Words(rnd)
    memory = FoldingCache()
    done: list[str] = []
    beginning = list(rnd.choice(BEGINNINGS))
    for statement in [*beginning, *(None for _ in range(rnd.randrange(1, 5)))]:
        wanted = statement or words.statement()
        if not outcome([*done, wanted], SQUARE, memory).refused:
            done.append(wanted)
            words.accept(wanted)
    return folded(*done, "turn over")


def random_goal(rnd: random.Random, paper: State) -> Goal:
    ring = rnd.choice(paper.outlines)
    k = rnd.randrange(len(ring))
    edge = (ring[k], ring[(k + 1) % len(ring)])
    folds = [j.segment for j in paper.joints if j.folded] + list(paper.creases)
    if folds and rnd.random() < 0.4:
        crease = rnd.choice(folds)
        return Raise((crease,), rnd.choice((0.0, 45.0, 90.0, 180.0)), (rnd.choice((1, -1)),))
    sides = folds + [(p, q) for p, q in pairwise((*paper.sheet.outline, paper.sheet.outline[0]))]
    if rnd.random() < 0.3:
        one, other = rnd.sample(sides, 2)
        return Round((one,), (other,), rnd.choice((2.0, 15.0, 40.0)))
    corner = rnd.choice(paper.sheet.outline)
    return rnd.choice(
        (
            Open(edge, rnd.choice((5.0, 20.0, 60.0))),
            Spread(edge[0], rnd.choice((5.0, 40.0))),
            Blow(rnd.choice((None, edge))),
            Bring(corner, ring[0]),
        )
    )


def tried(paper: State, goals: Sequence[Goal]) -> Pose | None:
    """The pose; None where there is none that passed."""
    try:
        pose = stood(paper, (tuple(goals),))
    except Refusal:
        return None
    return pose if pose.proof.holds else None


def check(seed: int) -> str:
    """What a seed came to: 'stands', 'none'. Raises AssertionError for what must not be."""
    rnd = random.Random(seed)
    model = random_model(rnd)
    paper = model.finished
    goal = random_goal(rnd, paper)
    pose = tried(paper, [goal])
    if pose is not None:
        faults = pose_faults(standing_document(model, pose))
        assert not faults, f"{goal}: {len(faults)} faults\n" + "\n".join(faults[:5])
        reached(paper, goal, pose)
    motion = rnd.choice(MOTIONS)
    other = tried(paper.moved(motion), [carried(goal, motion)])
    assert (pose is None) == (other is None), f"{goal} stands in one of two images"
    if pose is not None and other is not None:
        alike(pose, other, motion)
    return "none" if pose is None else "stands"


def reached(paper: State, goal: Goal, pose: Pose) -> None:
    """What was asked is there, measured on the points in space alone."""
    unit = paper.sheet.unit_mm
    match goal:
        case Raise():
            turned = [
                math.degrees(abs(edge.angle))
                for edge in pose.edges
                if edge.right is not None
                and any(
                    all(point_on_segment(s, scale(pose.sheet[v], 1 / unit), 1e-6) for v in ends)
                    for s in goal.creases
                    for ends in ((edge.start, edge.end),)
                )
            ]
            assert turned
            assert turned == pytest.approx([180 - goal.angle] * len(turned), abs=5)
        case Bring():
            place = in_space(pose, scale(goal.point, unit))
            assert math.dist(place, (*scale(goal.to, unit), 0.0)) < 3.0
        case Open() | Spread():
            at = goal.at if isinstance(goal, Spread) else _mouth(paper, goal)
            places = [
                in_space(pose, scale(inverse(paper.facets[k].place)(at), unit))
                for k in paper.facets_at(at)
            ]
            apart = [math.dist(p, q) for p, q in combinations(places, 2)]
            assert any(w == pytest.approx(goal.width, rel=0.15, abs=1.0) for w in apart)
        case Blow():
            assert min(pose.size) > 1.0
        case Round():
            assert (
                max(z for _, _, z in pose.space) - min(z for _, _, z in pose.space)
                > goal.width - 0.1
            )


def _mouth(paper: State, goal: Open) -> Point:
    """Where an edge opens: in its middle, or as near to that as two layers lie."""
    places = [between(*goal.edge, k / 200) for k in range(201)]
    double = [at for at in places if len(paper.facets_at(at)) > 1]
    middle = midpoint(*goal.edge)
    return min(double or [middle], key=lambda at: math.dist(at, middle))


def in_space(pose: Pose, p: Point) -> Vector:
    """Where a place of the sheet (mm) lies in space."""
    for piece in pose.pieces:
        ring = [pose.sheet[v] for v in piece.corners]
        if Polygon(ring).buffer(1e-4).covers(ShapelyPoint(p)):
            known = np.c_[np.array(ring), np.ones(len(ring))]
            carried_on, *_ = np.linalg.lstsq(known, [pose.space[v] for v in piece.corners])
            x, y, z = np.array([*p, 1.0]) @ carried_on
            return float(x), float(y), float(z)
    raise AssertionError(f"{p} is in no piece")


def alike(pose: Pose, other: Pose, motion: Isometry) -> None:
    """Turned with the paper it takes the same room, within a millimetre on a sheet of 15 cm."""
    size = pose.size if motion.flips else (pose.size[1], pose.size[0], pose.size[2])
    assert other.size == pytest.approx(size, abs=1.0)


def posed_wrongly(seed: int) -> Iterator[str]:
    """What is wrong with the pose of a seed."""
    try:
        check(seed)
    except AssertionError as error:
        yield str(error)


@given(st.integers(0, 10**6))
@examples(6)
def test_random_goals_on_random_paper(seed: int) -> None:
    check(seed)
