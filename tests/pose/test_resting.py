"""Models put down on a table: what they come to rest on, worked out by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.pose.goals import Raise, Stages, Stand
from foldscript.pose.pose import Pose
from foldscript.pose.raising import raised
from foldscript.pose.resting import centre_of_mass
from foldscript.pose.standing import stood
from foldscript.pose.upright import size, upright

from ..scripts import folded

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
#: Level lines on a sheet of 100 mm, 30 mm from its lower and its upper edge (sheet units).
LOW = ((0.0, 0.3), (1.0, 0.3))
HIGH = ((0.0, 0.7), (1.0, 0.7))


def bent(*angles: tuple[tuple[tuple[float, float], tuple[float, float]], float]) -> Pose:
    """The sheet with strips turned to the reader (1) or away (-1), at right angles."""
    state = folded("turn over", "turn over").finished
    front = state.facets[0].shows_front
    goals = [
        Raise((line,), 90.0, (int(sense) if front else -int(sense),)) for line, sense in angles
    ]
    return raised(state, goals)


def test_the_centre_of_mass_counts_every_layer() -> None:
    """A strip of 12.5 mm folded in lies on 12.5 mm of the rest, which reaches to 100 mm."""
    state = folded("valley the left edge onto line 25 mm from the left edge").finished
    pose = raised(state, [])
    doubled = (12.5 + 12.5) / 100 * 18.75 + 75 / 100 * 62.5  # twice 12.5 mm up to 25 mm, then once
    assert centre_of_mass(pose)[0] == pytest.approx(doubled)


def test_walls_raised_to_the_reader_stand_on_their_floor() -> None:
    pose = bent((LOW, 1), (HIGH, 1))
    assert upright(pose) == ((0, 0, 1), (0, -1, 0))
    assert size(pose) == pytest.approx((100, 40, 30), abs=1e-6)


def test_legs_bent_away_from_the_reader_carry_the_top() -> None:
    pose = bent((LOW, -1), (HIGH, -1))
    assert upright(pose)[0] == (0, 0, 1)
    assert size(pose) == pytest.approx((100, 40, 30), abs=1e-6)


def test_with_one_leg_it_tips_onto_its_other_end() -> None:
    """70 mm of floor on 30 mm of leg: the floor slopes by atan(3 / 7), the leg's edge and the floor's far
    edge lie on the table.
    """
    pose = bent((LOW, -1))
    up, front = upright(pose)
    slope = math.atan2(30, 70)
    assert up == pytest.approx((0, -math.sin(slope), math.cos(slope)), abs=1e-6)
    assert sum(a * b for a, b in zip(up, front, strict=True)) == pytest.approx(0, abs=1e-8)
    assert size(pose)[2] == pytest.approx(70 * math.sin(slope), abs=1e-6)


def test_it_does_not_stay_on_an_edge_that_does_not_carry_it() -> None:
    """A strip of 30 mm raised on a floor of 10 mm that ends there: it falls over to the strip."""
    state = folded("turn over", "turn over").finished
    line = ((0.0, 0.1), (1.0, 0.1))
    pose = raised(state, [Raise((line,), 100.0)])
    assert size(pose)[2] == pytest.approx(10 * math.sin(math.radians(80)), abs=1e-6)


def stages(*feet: tuple[float, float]) -> Stages:
    return ((Raise((LOW,), 90.0), Raise((HIGH,), 90.0)), (Stand(feet),))


def test_feet_that_are_named_are_stood_on() -> None:
    """The channel stands on its open side, or on one wall, when its corners are named."""
    state = folded("turn over", "turn over").finished
    corners = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    upside = stood(state, stages(*corners))
    assert upside.proof.holds, upside.proof
    assert size(upside) == pytest.approx((100, 40, 30), abs=1e-6)
    assert abs(upright(upside)[0][2]) == pytest.approx(1)
    aside = stood(state, stages((0.0, 0.0), (100.0, 0.0), (100.0, 30.0), (0.0, 30.0)))
    assert aside.proof.holds, aside.proof
    assert size(aside)[2] == pytest.approx(40, abs=1e-6)


def test_feet_that_do_not_carry_it_are_a_fault() -> None:
    """The end of the channel is 40 mm by 30 mm, but only one of its walls is named."""
    state = folded("turn over", "turn over").finished
    off = stood(state, stages((0.0, 0.0), (30.0, 0.0), (0.0, 30.0)))
    assert not off.proof.holds
    assert "stand" in off.proof.faults[0].text


def test_feet_that_lie_on_each_other_are_one() -> None:
    """A, B, C and D all come to the middle of a blintz base: no three feet."""
    sheet = "start from blintz base\nsheet square 100 mm\n"
    state = folded("turn over", sheet=sheet).finished
    corners = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0))
    pose = stood(state, ((Stand(corners),),))
    assert "feet" in [one.goal for one in pose.proof.reached if not one.enough]


def test_feet_that_are_not_level_are_a_fault() -> None:
    state = folded("turn over", "turn over").finished
    off = stood(state, stages((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 60.0)))
    assert not off.proof.holds


def test_the_frog_stands_on_four_feet() -> None:
    """Front feet bent by 80 degrees, hind legs of 18.75 mm opened by 30 and 35 degrees below a level back:
    both hips would be 9.4 and 11.0 mm high."""
    found = Script(SAMPLES / "jumping-frog.foldscript").standing
    assert not found.warnings
    pose = found.poses[max(found.poses)]
    stand = [r for r in pose.proof.reached if r.goal == "stand"]
    assert [r.got for r in stand] == pytest.approx([0, 0], abs=0.01)
    hip = 18.75 * (math.sin(math.radians(30)) + math.sin(math.radians(30 + 180 - 35)))
    up, front = upright(pose)
    assert up[2] > 0.99
    assert front == pytest.approx((0, -1, 0), abs=0.1)
    assert size(pose)[2] == pytest.approx(hip, abs=2)


def test_a_screen_put_on_its_lower_edge_faces_the_reader() -> None:
    """Strips are turned to the reader at both sides: in front is what the flat figure showed."""
    state = folded("turn over", "turn over").finished
    sense = 1 if state.facets[0].shows_front else -1
    sides = [Raise((((x, 0.0), (x, 1.0)),), 90.0, (sense,)) for x in (0.3, 0.7)]
    feet = ((0.0, 0.0), (30.0, 0.0), (70.0, 0.0), (100.0, 0.0))
    pose = raised(state, sides)
    pose = replace(pose, goals=(*pose.goals, Stand(feet)))
    up, front = upright(pose)
    assert up == pytest.approx((0, 1, 0), abs=1e-6)
    assert front == pytest.approx((0, 0, 1), abs=1e-6)


def test_wings_at_both_sides_of_a_wall_stand_on_its_lower_edge() -> None:
    """The edge has bent at both wings, and all of it is on the table: the wall is upright, to the reader."""
    lines = "crease along line 30 mm from the {0} edge as {1}"
    model = folded(
        lines.format("left", "k"),
        lines.format("right", "m"),
        "raise along k and m; stand on the bottom edge",
    )
    goals = tuple(r.goals for step in model.steps for r in step.records if r.goals)
    pose = stood(model.finished, goals)
    assert pose.proof.holds, pose.proof
    up, front = upright(pose)
    assert up == pytest.approx((0, 1, 0), abs=1e-9)
    assert front == pytest.approx((0, 0, 1), abs=1e-9)
    assert size(pose) == pytest.approx((40, 30, 100), abs=1e-6)


def test_it_is_level_on_an_edge_whose_wings_are_folded_layers() -> None:
    """Only the fold at the back is between the edge's ends; the wings stand on the table beside it."""
    model = folded(
        "valley the left edge onto line 30 mm from the left edge as k",
        "valley the right edge onto line 30 mm from the right edge as m",
        "raise along k and m; stand on the bottom edge",
    )
    goals = tuple(r.goals for step in model.steps for r in step.records if r.goals)
    pose = stood(model.finished, goals)
    assert upright(pose)[0] == pytest.approx((0, 1, 0), abs=1e-9)
    assert upright(pose)[1] == pytest.approx((0, 0, 1), abs=1e-9)


@pytest.mark.parametrize("bottom", ["left", "right", "top", "bottom"])
def test_whichever_edge_it_stands_on_its_shown_side_is_in_front(bottom: str) -> None:
    along = ("left", "right") if bottom in ("top", "bottom") else ("bottom", "top")
    lines = [
        f"crease along line 30 mm from the {edge} edge as {name}"
        for edge, name in zip(along, "km", strict=True)
    ]
    model = folded(*lines, f"raise along k and m; stand on the {bottom} edge")
    goals = tuple(r.goals for step in model.steps for r in step.records if r.goals)
    assert upright(stood(model.finished, goals))[1] == pytest.approx((0, 0, 1), abs=1e-9)
