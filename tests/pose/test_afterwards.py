"""Flaps that are raised on a model that stands: they turn as one, and all other paper stays where it is."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from foldscript.building.script import Script
from foldscript.paper.state import State
from foldscript.pose import opening
from foldscript.pose.afterwards import raised_on
from foldscript.pose.goals import Raise, Stages
from foldscript.pose.pose import Pose
from foldscript.pose.standing import stood

from ..scripts import folded
from .test_raising import creases

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


def places(pose: Pose) -> dict[tuple[float, float], tuple[float, ...]]:
    """Where each point of the sheet is in space, mm."""
    return {
        (round(x, 4), round(y, 4)): space
        for (x, y), space in zip(pose.sheet, pose.space, strict=True)
    }


def test_what_is_not_raised_stays_to_the_last_digit() -> None:
    """Star box: its four points are raised when the box stands; walls and floor stay as they were."""
    before, after = Script(SAMPLES / "star-box.foldscript").standing.poses.values()
    was, now = places(before), places(after)
    common = was.keys() & now.keys()
    moved = {at for at in common if math.dist(was[at], now[at]) > 1e-6}
    assert moved
    assert len(common - moved) > len(moved)
    raises = [one for one in after.proof.reached if one.goal == "raise"]
    assert raises
    assert all(abs(one.got - one.asked) <= 1e-6 for one in raises)


def test_a_flap_raised_twice_stands_as_it_was_said_last() -> None:
    model = folded(
        "crease along line 4 cm from the left edge, as k; mark P at 6 cm from A on edge A B"
    )
    k = creases(model, "k")
    first, last = Raise(k, 60.0, (1,) * len(k)), Raise(k, 130.0, (1,) * len(k))
    base = stood(model.finished, ((first,),))
    pose = raised_on(model.finished, base, ((first,), (last,)))
    assert pose is not None
    assert pose.proof.holds
    again = stood(model.finished, ((last,),))
    assert sorted(round(z, 6) for *_, z in pose.space) == sorted(
        round(z, 6) for *_, z in again.space
    )


def test_a_crease_that_parts_nothing_is_for_the_solver() -> None:
    """The crease ends amid the paper, where another crosses it: what turns about it, moves other paper."""
    model = folded(
        "crease along line 4 cm from the left edge, as k",
        "mark P at midpoint of C D; mark Q at centre; crease bottom edge onto top edge, as h; "
        "crease from P to Q, as s",
    )
    k, s = creases(model, "k"), creases(model, "s")
    first, last = Raise(k, 60.0, (1,) * len(k)), Raise(s, 120.0, (1,) * len(s))
    base = stood(model.finished, ((first,),))
    assert base.proof.holds
    assert raised_on(model.finished, base, ((first,), (last,))) is None


def attempts(monkeypatch: pytest.MonkeyPatch) -> list[Stages]:
    """The stages of every attempt that is made from now on."""
    made: list[Stages] = []

    def attempted(state: State, stages: Stages, *rest: Any) -> Pose:
        made.append(stages)
        return really(state, stages, *rest)

    really = opening.attempted
    monkeypatch.setattr(opening, "attempted", attempted)
    return made


def test_a_model_that_stood_before_its_flaps_are_raised_is_not_solved_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Star box: it is opened in one step, and its points are raised in the next."""
    made = attempts(monkeypatch)
    assert len(Script(SAMPLES / "star-box.foldscript").standing.poses) == 2
    assert len(made) == len(set(made))


def test_a_model_whose_points_are_curled_when_it_stands_is_not_solved_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Tulip: it is blown up in one step, and its petals are curled in the next."""
    made = attempts(monkeypatch)
    assert len(Script(SAMPLES / "tulip.foldscript").standing.poses) == 2
    assert len(made) == 1


def test_a_base_that_is_not_found_leaves_work_for_the_whole(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Crane: its body is only found open when the wings are raised, and the search for it before that ends
    when half of the work of a pose is done.
    """
    made = attempts(monkeypatch)
    assert Script(SAMPLES / "crane.foldscript").standing.poses
    assert [len(stages) for stages in made] == [1, 2]
