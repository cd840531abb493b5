"""A box whose ends are folded over into it, creased while its corners were folded in: as hands raise it.

A square of 200 mm folded to its centre has edges of 200 / √2 mm; walls of a quarter of that, 35.36 mm, stand
on a floor of half of it, 70.71 mm. Its values are worked out from the sheet alone.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from foldscript.building.standing import PoseCache, Standing, standing
from foldscript.folding.steps import Model
from foldscript.pose.goals import Raise
from foldscript.pose.pose import Pose

from ..scripts import folds, told_of

EDGE = 200 / math.sqrt(2)
FLOOR, WALL = EDGE / 2, EDGE / 4
#: All is creased while the four corners lie at the centre; then two of them are opened.
CREASED = """\
sheet square 20 cm, coloured side down, corner A at the bottom
step
  mark O at the centre
  valley A to O as a
  valley B to O as b
  valley C to O as c
  valley D to O as d
step
  crease left edge onto centre line, all layers, as left-wall
  crease right edge onto centre line, all layers, as right-wall
step
  crease bottom edge onto horizontal centre line, all layers, as low-wall
  crease top edge onto horizontal centre line, all layers, as high-wall
step
  unfold a
  unfold c
"""
RAISED = """\
step
  raise along left-wall and right-wall
step
  raise along low-wall and high-wall
step
  raise along a and c to 0 degrees
"""


@cache
def model(text: str) -> Model:
    return folds(text)


@cache
def stood(text: str) -> Standing:
    return standing(model(text), PoseCache())


def heights(pose: Pose) -> np.ndarray:
    """The lowest and the highest point as the reader of the flat figure sees them, mm."""
    z = np.array(pose.space)[:, 2]
    return np.array([z.min(), z.max()])


def test_walls_creased_through_corners_that_are_opened_rise_towards_the_reader() -> None:
    """In the opened corners the walls' creases bend to the other side than between them."""
    found = stood(CREASED + RAISED)
    assert not found.warnings
    assert heights(found.poses[5]) == pytest.approx([0, WALL], abs=1e-6)
    assert found.poses[5].size == pytest.approx((FLOOR, 2 * EDGE, WALL), abs=1e-6)


def test_all_of_a_wall_has_one_side() -> None:
    """A wall's crease lies in the floor's side, and in the flap that is folded onto it, in the same sense as
    the reader sees it."""
    goals = [g for step in model(CREASED + RAISED).steps for r in step.records for g in r.goals]
    first = next(g for g in goals if isinstance(g, Raise))
    lying = model(CREASED).finished
    for crease, sense in zip(first.creases, first.senses, strict=True):
        middle = ((crease[0][0] + crease[1][0]) / 2, (crease[0][1] + crease[1][1]) / 2)
        shown = {lying.facets[k].shows_front for k in lying.facets_on_sheet(middle)}
        assert shown == {sense > 0}


def test_turned_over_first_they_rise_to_the_other_side() -> None:
    found = stood(CREASED + "step\n  turn over\n" + RAISED)
    assert heights(found.poses[6]) == pytest.approx([0, WALL], abs=1e-6)


def test_points_folded_over_into_a_box_come_down_to_its_floor() -> None:
    """A and C bend where they meet the floor, and come together in its middle."""
    pose = stood(CREASED + RAISED).poses[7]
    corners = [k for k, p in enumerate(pose.sheet) if p in ((0.0, 0.0), (200.0, 200.0))]
    low, high = heights(pose)
    assert (low, high) == (pytest.approx(0, abs=1e-6), pytest.approx(WALL, abs=1e-6))
    one, other = (pose.space[k] for k in corners)
    assert one == pytest.approx(other, abs=1e-6)
    assert one[2] == pytest.approx(0, abs=1e-6)


def test_pressing_what_was_folded_over_opens_it_again() -> None:
    told = told_of(CREASED + RAISED + "step\n  press A until level with O\n")
    assert [one.code for one in told] == ["press-opens"]
    assert "folded over along 'a'" in told[0].message
