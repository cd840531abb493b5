"""What is tried next where no pose was found: only words that the step's move takes."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from foldscript.building.standing import PoseCache, standing
from foldscript.building.unposed import said_of
from foldscript.paper.state import State
from foldscript.pose.elastic import Work
from foldscript.pose.goals import Raise, Stages
from foldscript.pose.pose import Amiss, Fault, Pose, Reached
from foldscript.pose.raising import raised

from ..scripts import folded

CRUMPLED = Fault(Amiss.CRUMPLED, "paper is bent by 90 degrees")


@pytest.mark.parametrize(
    ("line", "takes"), [("raise along k to 60 degrees", True), ("open the top edge", False)]
)
def test_fingers_are_spoken_of_only_where_the_move_takes_the_word(line: str, takes: bool) -> None:
    model = folded("valley top edge onto bottom edge as k", line)
    step = model.steps[-1]
    pose = raised(step.after, [])
    failed = replace(pose, proof=replace(pose.proof, faults=(CRUMPLED,)))
    _, hints = said_of(failed, step.after, step, lambda angle: ())
    assert any("opening" in hint.text for hint in hints) == takes
    assert hints
    assert not hints[0].text.startswith("or ")


class Found(PoseCache):
    """Poses whose paper comes to 54 degrees, and which pass only from some angle down."""

    def __init__(self, passes: float) -> None:
        super().__init__()
        self.passes = passes
        self.asked: list[float] = []

    def pose(self, state: State, goals: Stages, work: Work | None = None) -> Pose:
        (angle,) = (goal.angle for some in goals for goal in some if isinstance(goal, Raise))
        self.asked.append(angle)
        pose = raised(state, [])
        enough = angle <= self.passes
        reached = (Reached("raise", angle, 54.0, "degrees", enough),)
        faults = () if enough else (Fault(Amiss.MISSED, "the flap does not come up"),)
        return replace(pose, proof=replace(pose.proof, reached=reached, faults=faults))


@pytest.mark.parametrize(("passes", "offered"), [(55.0, True), (50.0, False)])
def test_an_angle_is_offered_only_where_a_pose_is_found_with_it(
    passes: float, offered: bool
) -> None:
    model = folded("valley top edge onto bottom edge as k", "raise along k")
    kept = Found(passes)
    (warning,) = standing(model, kept).warnings
    assert kept.asked == [90.0, 55.0]
    assert any("to 55 degrees" in hint.text for hint in warning.hints) == offered


class Through(Found):
    """Poses whose paper passes through paper, but from some angle down."""

    def pose(self, state: State, goals: Stages, work: Work | None = None) -> Pose:
        pose = super().pose(state, goals, work)
        through = Fault(Amiss.THROUGH, "paper passes 3 mm through paper")
        faults = (through,) if pose.proof.faults else ()
        return replace(pose, proof=replace(pose.proof, reached=(), faults=faults))


@pytest.mark.parametrize(
    ("passes", "said", "tried"),
    [
        (50.0, "say 'to 45 degrees'", [90.0, 70.0, 45.0]),
        (70.0, "say 'to 70 degrees'", [90.0, 70.0]),
        (40.0, "less was tried and does not stand either", [90.0, 70.0, 45.0]),
    ],
)
def test_less_is_offered_only_where_a_pose_is_found_with_it(
    passes: float, said: str, tried: list[float]
) -> None:
    model = folded("valley top edge onto bottom edge as k", "raise along k")
    kept = Through(passes)
    (warning,) = standing(model, kept).warnings
    assert kept.asked == tried
    assert warning.hints[-1].text.startswith(said)
    assert not any("ask for less" in hint.text for hint in warning.hints)


def test_fingers_that_are_in_the_pocket_are_not_asked_for_again() -> None:
    start = ("valley top edge onto bottom edge as k", "mark P at midpoint of the top edge")
    step = folded(*start, "raise along k to 60 degrees, opening P").steps[-1]
    pose = raised(step.after, [])
    failed = replace(pose, proof=replace(pose.proof, faults=(CRUMPLED,)))
    _, hints = said_of(failed, step.after, step, lambda angle: ())
    assert [hint.text for hint in hints] == ["ask for less: a smaller angle or width"]


def test_folds_that_turn_are_named_by_their_ends() -> None:
    step = folded("valley top edge onto bottom edge as k", "raise along k to 60 degrees").steps[-1]
    pose = raised(step.after, [])
    bends = [k for k, edge in enumerate(pose.edges) if edge.right is not None]
    proof = replace(
        pose.proof,
        turned=(bends[0],),
        faults=(Fault(Amiss.TURNED, "1 fold turns to its other side"),),
    )
    why, _ = said_of(replace(pose, proof=proof), step.after, step, lambda angle: ())
    assert why.startswith("1 fold turns to its other side: the fold ")
    assert "corner" in why or " from " in why
    many = replace(proof, turned=tuple(range(len(pose.edges))))
    why, _ = said_of(replace(pose, proof=many), step.after, step, lambda angle: ())
    assert why.count("the fold") == 3
    assert re.search(r" and \d+ more$", why)


@pytest.mark.parametrize(
    ("edge", "why"),
    [
        ("top edge", "nothing opens there while the paper stays folded along that edge"),
        ("bottom edge", "nothing opens there"),
    ],
)
def test_where_nothing_opens_less_is_not_offered(edge: str, why: str) -> None:
    step = folded(
        "valley bottom edge onto top edge; turn over top to bottom", f"open the {edge}"
    ).steps[-1]
    pose = raised(step.after, [])
    shut = Reached("width", 20.0, 0.0, "mm", False)
    proof = replace(
        pose.proof, reached=(shut,), faults=(Fault(Amiss.MISSED, "width: 0 mm instead of 20 mm"),)
    )
    said, hints = said_of(replace(pose, proof=proof), step.after, step, lambda angle: ())
    assert said == why
    assert not any("less" in hint.text for hint in hints)


def test_paper_that_is_blown_up_is_not_asked_for_a_smaller_width() -> None:
    step = folded("valley top edge onto bottom edge", "blow into the left edge").steps[-1]
    pose = raised(step.after, [])
    said = Fault(Amiss.STRETCHED, "paper would be stretched by 4 mm over 90 mm")
    failed = replace(pose, proof=replace(pose.proof, faults=(said,)))
    why, hints = said_of(failed, step.after, step, lambda angle: ())
    assert why == said.text
    assert "crease it before" in hints[0].text
    assert not any("width" in hint.text for hint in hints)


class Costly(Through):
    """Poses of which each costs as much as may be spent on what is offered."""

    def pose(self, state: State, goals: Stages, work: Work | None = None) -> Pose:
        if work is not None:
            work.left = 0.0
        return super().pose(state, goals, work)


def test_what_is_offered_is_tried_only_as_far_as_its_work_goes() -> None:
    """One trial spends it all: nothing is claimed then of what was not tried."""
    model = folded("valley top edge onto bottom edge as k", "raise along k")
    kept = Costly(40.0)
    (warning,) = standing(model, kept).warnings
    assert kept.asked == [90.0, 70.0]
    assert not any("was tried" in hint.text for hint in warning.hints)
    assert not any("ask for less" in hint.text for hint in warning.hints)


def test_a_pose_that_was_given_up_early_is_not_kept() -> None:
    """It is asked again in full when the script says so."""
    model = folded("valley top edge onto bottom edge", "open the bottom edge by 90 mm")
    (goals,) = (record.goals for record in model.steps[-1].records)
    kept = PoseCache()
    assert not kept.pose(model.finished, (goals,), Work(left=1.0)).proof.holds
    assert not kept.known


@pytest.mark.parametrize(
    ("line", "asked", "came", "said"),
    [
        ("raise along k to 35 degrees", 35.0, 0.9, "the paper stays folded flat together"),
        ("raise along k to 35 degrees", 35.0, 8.1, "the paper stays folded flat together"),
        ("raise along k to 90 degrees", 90.0, 173.0, "the paper stays flat"),
        ("raise along k to 35 degrees", 35.0, 30.0, "it stands unevenly"),
    ],
)
def test_paper_that_hardly_moves_is_told_before_what_comes_of_that(
    line: str, asked: float, came: float, said: str
) -> None:
    model = folded("valley top edge onto bottom edge as k", line)
    step = model.steps[-1]
    pose = raised(step.after, [])
    uneven = Fault(Amiss.UNEVEN, "it stands unevenly by 0.062 mm")
    short = Fault(Amiss.MISSED, "the flap does not come up")
    reached = (Reached("raise", asked, came, "degrees", enough=False),)
    failed = replace(pose, proof=replace(pose.proof, reached=reached, faults=(uneven, short)))
    why, hints = said_of(failed, step.after, step, lambda angle: ())
    assert said in why
    assert all("less" not in hint.text for hint in hints)
