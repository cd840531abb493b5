"""A line of folds raises what hangs by them: creases on that line through paper that stays are left flat."""

from __future__ import annotations

from dataclasses import replace

import pytest

from foldscript.building.standing import PoseCache, standing
from foldscript.drawing.plan import panels_of
from foldscript.paper.signs import Arrow, PointSign

from ..scripts import folds

TABLE = """start from windmill base
step
  raise along line P E, line Q F, line R G and line S H
"""
SCREEN = """sheet rectangle 8 cm by 12 cm
step
  crease along line 4 cm from the top edge as k
  mark P where k meets the left edge
step
  crease along line 4 cm from the bottom edge as m
  mark Q where m meets the left edge
step
  raise along k to 100 degrees, along m to 120 degrees
step
  stand on A, Q, P and D
"""


def test_the_legs_of_a_table_stand_and_its_top_is_level() -> None:
    """Of a sheet of 15 cm: the top is the inner square of 75 mm, doubled; a leg is a corner of it, half
    a square of 75 mm about the diagonal, so that its tip is 75 / √2 mm off the top.
    """
    found = standing(folds(TABLE), PoseCache())
    assert not found.warnings
    (pose,) = found.poses.values()
    assert pose.proof.stretch < 1e-12
    assert pose.size == pytest.approx((75, 75, 75 / 2**0.5), abs=1e-6)
    at = {(round(x), round(y)): place for (x, y), place in zip(pose.sheet, pose.space, strict=True)}
    for corner in ((0, 0), (150, 0), (150, 150), (0, 150)):
        assert abs(at[corner][2]) == pytest.approx(75 / 2**0.5, abs=1e-6)
    for inner in ((38, 38), (112, 38), (112, 112), (38, 112), (75, 75)):
        assert at[inner][2] == pytest.approx(0, abs=1e-6)


def test_every_flap_has_its_arrow_and_feet_are_circled_where_they_stand() -> None:
    model = folds(SCREEN)
    found = standing(model, PoseCache())
    assert not found.warnings
    model = replace(model, poses=found.poses)
    (raising,) = panels_of(model, model.steps[2])
    assert len([s for s in raising.signs if isinstance(s, Arrow)]) == 2
    (standing_up,) = panels_of(model, model.steps[3])
    feet = [s.at for s in standing_up.signs if isinstance(s, PointSign)]
    assert len(set(feet)) == 4
    letters = dict(standing_up.letters)
    assert {letters[name] for name in letters} <= set(feet)


def test_feet_named_as_it_is_raised_are_not_circled_on_flat_paper() -> None:
    model = folds(SCREEN.replace("step\n  stand", "  stand"))
    model = replace(model, poses=standing(model, PoseCache()).poses)
    *_, last = panels_of(model, model.steps[2])
    assert not [s for s in last.signs if isinstance(s, PointSign) and s.foot is not None]
