"""Birds with their body opened: what hands pull apart, what stays in the middle, and wings that are level."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from foldscript.pose.layers import layered
from foldscript.pose.net import knit
from foldscript.pose.pose import Pose
from foldscript.pose.symmetry import of_net, orbits, symmetries

from ..sample_scripts import sample


@cache
def crane() -> Pose:
    found = sample("crane").standing
    assert not found.warnings
    return found.poses[max(found.poses)]


def place(pose: Pose, x: float, y: float) -> tuple[float, float, float]:
    """Where a point of the sheet (mm) is in space."""
    k = min(range(len(pose.sheet)), key=lambda k: math.dist(pose.sheet[k], (x, y)))
    assert math.dist(pose.sheet[k], (x, y)) < 1e-3
    return pose.space[k]


def test_the_cranes_body_is_opened_by_a_centimetre() -> None:
    pose = crane()
    assert pose.proof.holds, pose.proof
    assert pose.proof.stretch < 1e-4
    (width,) = (r for r in pose.proof.reached if r.goal == "width")
    assert width.got == pytest.approx(10, abs=1)


def test_its_wings_are_level_and_stand_out_to_both_sides() -> None:
    """The tips are the sheet's corners A and C (15 cm sheet); each wing is some 4.5 cm long from the fold, at
    y = 0.468 sheets, so within 5 degrees of level the tips are within 4 mm of that height."""
    pose = crane()
    one, other = place(pose, 0, 0), place(pose, 150, 150)
    root = 0.4681 * 150
    assert (one[1], other[1]) == pytest.approx((root, root), abs=4)
    assert one[2] * other[2] < 0
    assert abs(one[2]) == pytest.approx(abs(other[2]), abs=1e-3)
    assert abs(one[2]) > 45


def test_neck_tail_and_the_top_of_its_back_stay_in_the_middle() -> None:
    pose = crane()
    for x, y in ((150, 0), (0, 150), (75, 75)):
        assert place(pose, x, y)[2] == pytest.approx(0, abs=0.5)


def test_what_mirrors_each_other_is_solved_for_once() -> None:
    """A carrier's moves and the others' slopes are each other's transpose; moves are alike on all sides."""
    state = sample("waterbomb").model.steps[-1].after
    layers = layered(state)
    net = knit(layers, [])
    motions = [of_net(m, net) for m in symmetries(layers)]
    assert len(motions) > 1
    some = orbits(motions, len(net.start))
    assert len(some.size) < len(net.start)
    assert some.size.sum() == len(net.start)
    chance = np.random.default_rng(7)
    moves, slopes = chance.normal(size=(len(some.size), 3)), chance.normal(size=(len(some.of), 3))
    carried = some.carried(moves)
    assert float((carried * slopes).sum()) == pytest.approx(
        float((moves * some.gathered(slopes)).sum())
    )
    for m in motions:
        assert carried[m.to] @ m.turn == pytest.approx(carried)
