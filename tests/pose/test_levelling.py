"""Flaps that are raised or pressed until they are level: angles worked out by hand, and what is refused."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from foldscript.folding.steps import Model
from foldscript.geometry.isometries import reflection
from foldscript.geometry.lines import Line as Axis
from foldscript.pose.goals import Level, Stages
from foldscript.pose.pose import Pose
from foldscript.pose.standing import stood
from foldscript.source.diagnostics import Refusal

from ..checker.poses import pose_faults
from ..scripts import folded, refused, refused_text, standing_document
from .test_random_poses import in_space

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
SHEET = "sheet rectangle 160 mm by 80 mm\n"
TWO = (
    "crease along line 50 mm from the left edge as k",
    "crease along line 100 mm from the left edge as m",
)


def stages_of(model: Model) -> Stages:
    return tuple(r.goals for step in model.steps for r in step.records if r.goals)


def stands(*steps: str, sheet: str = SHEET) -> tuple[Model, Pose]:
    model = folded(*steps, sheet=sheet)
    pose = stood(model.finished, stages_of(model))
    assert pose.proof.holds, pose.proof
    assert pose_faults(standing_document(model, pose)) == []
    return model, pose


@pytest.mark.parametrize("angle", [30, 60, 90, 120, 150])
def test_a_shelf_on_a_leaning_wall(angle: int) -> None:
    """A wall 50 mm long that leans at an angle carries its shelf 50 sin(angle) above the floor, level.

    Between floor and wall the angle is `angle`; both creases are valleys, so that of the shelf is
    180 - angle, and the shelf comes back over the floor. Source: alternate angles of parallels.
    """
    _, pose = stands(
        *TWO, f"raise along k to {angle} degrees, along m until level with A, holding A"
    )
    height = 50 * math.sin(math.radians(angle))
    for x in (100.0, 130.0, 160.0):
        for y in (0.0, 80.0):
            assert in_space(pose, (x, y))[2] == pytest.approx(height, abs=1e-9)
    asked = [r.asked for r in pose.proof.reached if r.goal == "raise"]
    assert asked == pytest.approx([angle, 180 - angle])


def test_pressed_level_is_opened_flat_where_it_hangs_from_the_floor() -> None:
    _, pose = stands(*TWO, "raise along k, holding B", "press A until level")
    assert pose.size == pytest.approx((160, 80, 0), abs=1e-9)


def test_a_part_is_pressed_about_the_crease_next_to_it() -> None:
    """The shelf, and not the wall, is pressed level with the floor."""
    _, pose = stands(
        *TWO,
        "raise along k to 60 degrees, along m to 40 degrees, holding A",
        "press B until level with A",
    )
    assert in_space(pose, (160.0, 0.0))[2] == pytest.approx(50 * math.sin(math.pi / 3), abs=1e-9)
    assert in_space(pose, (100.0, 0.0))[0] == pytest.approx(50 - 25, abs=1e-9)


def test_mirrored_paper_is_level_alike() -> None:
    model, one = stands(*TWO, "raise along k to 60 degrees, along m until level, holding A")
    goals = stages_of(model)
    other = stood(model.finished.moved(reflection(Axis(1.0, 0.0, 0.5))), goals)
    assert other.proof.holds
    assert other.size == pytest.approx(one.size, abs=1e-6)


def test_a_doubled_flap_is_level() -> None:
    """A ridge of two layers between two parts of the floor, hinged on one line: the paper goes to and fro
    across it. Level with a wall that leans by 60 degrees, the ridge of 30 mm is 30 sin 60 degrees high."""
    _, pose = stands(
        "mark P at 40 mm from A on edge A B; crease through P perpendicular to edge A B, as k",
        "mark Q at 70 mm from A on edge A B; crease through Q perpendicular to edge A B, as f",
        "mark R at 140 mm from A on edge A B; crease through R perpendicular to edge A B, as w",
        "mark M at midpoint of A P",
        "pleat valley k, mountain f, moving B",
        "crease through P perpendicular to line M P, all layers, as r",
        "raise along w to 60 degrees, along k and r until level with B, holding A",
    )
    for y in (0.0, 80.0):
        assert in_space(pose, (70.0, y))[2] == pytest.approx(30 * math.sin(math.pi / 3), abs=1e-6)


def test_level_with_paper_that_lies_says_nothing_of_wings() -> None:
    """Where nothing else is raised, level is flat. Wings beside an upright body stand at right angles."""
    text = (SAMPLES / "dart.foldscript").read_text("utf-8")
    words = "raise along first-wing and second-wing"
    assert words in text
    found = refused_text(text.replace(words, f"{words} until level"))
    assert found.code == "level-lies"
    assert found.hints[0].startswith("leave out 'until level'")


def test_what_runs_up_is_never_level() -> None:
    """A crease across a wall that stands upright runs up: no paper about it is level with the floor."""
    model = folded(
        TWO[0],
        "crease the top edge onto the bottom edge as n",
        "raise along k, holding A",
        sheet=SHEET,
    )
    crease = ((50 / 160, 0.25), (1.0, 0.25))
    goals = (*stages_of(model), (Level((crease,), 180.0, (1,), (0.1, 0.1)),))
    with pytest.raises(Refusal) as error:
        stood(model.finished, goals)
    assert error.value.code == "level-crease"


def test_what_was_not_raised_is_not_pressed() -> None:
    assert refused(*TWO, "press A until level", sheet=SHEET).code == "press-where"
    assert refused(*TWO, "raise along k, holding B", "press A", sheet=SHEET).code == "press-how"
    assert (
        refused(*TWO, "raise along k until level with edge A B", sheet=SHEET).code == "level-with"
    )
