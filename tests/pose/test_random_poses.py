"""Random goals on random paper: never a crash, never a pose of paper that has stretched, and the same pose
for the same paper turned on the table or turned over.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.geometry.isometries import Isometry, reflection, rotation
from foldscript.geometry.lines import Line
from foldscript.paper.state import State
from foldscript.pose.goals import Blow, Bring, Goal, Open, Raise, Spread, carried
from foldscript.pose.pose import Pose
from foldscript.pose.standing import stood
from foldscript.source.diagnostics import FoldscriptError, Refusal

from ..conftest import examples
from ..laws.random_scripts import BEGINNINGS, Words
from ..scripts import folded

#: A quarter turn on the table, and the model turned over side to side.
MOTIONS = (rotation(math.pi / 2, (0.5, 0.5)), reflection(Line(1.0, 0.0, 0.5)))


def random_paper(rnd: random.Random) -> State:
    words = Words(rnd)
    done: list[str] = []
    beginning = list(rnd.choice(BEGINNINGS))
    for statement in [*beginning, *(None for _ in range(rnd.randrange(1, 5)))]:
        wanted = statement or words.statement()
        try:
            folded(*done, wanted)
        except FoldscriptError:
            continue
        done.append(wanted)
        words.accept(wanted)
    return folded(*done, "turn over").finished


def random_goal(rnd: random.Random, paper: State) -> Goal:
    ring = rnd.choice(paper.outlines)
    k = rnd.randrange(len(ring))
    edge = (ring[k], ring[(k + 1) % len(ring)])
    folds = [j.segment for j in paper.joints if j.folded] + list(paper.creases)
    if folds and rnd.random() < 0.4:
        crease = rnd.choice(folds)
        return Raise((crease,), rnd.choice((0.0, 45.0, 90.0, 180.0)), (rnd.choice((1, -1)),))
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
    paper = random_paper(rnd)
    goal = random_goal(rnd, paper)
    pose = tried(paper, [goal])
    if pose is not None:
        same_lengths(pose)
    motion = rnd.choice(MOTIONS)
    other = tried(paper.moved(motion), [carried(goal, motion)])
    assert (pose is None) == (other is None), f"{goal} stands in one of two images"
    if pose is not None and other is not None:
        alike(pose, other, motion)
    return "none" if pose is None else "stands"


def same_lengths(pose: Pose) -> None:
    """Every side of every piece is in space as long as on the sheet, within a ten-thousandth."""
    for edge in pose.edges:
        flat = math.dist(pose.sheet[edge.start], pose.sheet[edge.end])
        assert math.dist(pose.space[edge.start], pose.space[edge.end]) == pytest.approx(
            flat, rel=1e-4, abs=1e-6
        )


def alike(pose: Pose, other: Pose, motion: Isometry) -> None:
    """Turned with the paper it takes the same room, within a millimetre on a sheet of 15 cm."""
    size = pose.size if motion.flips else (pose.size[1], pose.size[0], pose.size[2])
    assert other.size == pytest.approx(size, abs=1.0)


@given(st.integers(0, 10**6))
@examples(6)
def test_random_goals_on_random_paper(seed: int) -> None:
    check(seed)
