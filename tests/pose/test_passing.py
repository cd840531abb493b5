"""Flaps get to where they stand only where no paper is in the way."""

from __future__ import annotations

import pytest

from foldscript.pose.goals import Raise
from foldscript.pose.pose import Amiss, Pose
from foldscript.pose.raising import raised

from ..laws.random_scripts import FOUR_FLAPS
from ..scripts import folded
from .test_raising import creases
from .test_random_poses import MOTIONS, judged

#: A strip at the left folded over, and one at the right over that.
UNDER = (
    "valley along line 40 mm from the left edge, moving A, as k",
    "valley along line 45 mm from the left edge, moving B, as m",
)


def stands(goals: list[tuple[str, float]], *steps: str) -> Pose:
    model = folded(*steps)
    return raised(model.finished, [Raise(creases(model, name), angle) for name, angle in goals])


@pytest.mark.parametrize("angle", [30, 90, 150, 180])
def test_a_flap_that_lies_under_another_is_held_by_it(angle: float) -> None:
    pose = stands([("k", angle)], *UNDER)
    assert [fault.kind for fault in pose.proof.faults] == [Amiss.COVERED]


def test_a_flap_is_raised_after_the_one_that_lies_on_it() -> None:
    """All at once the upper one turns through the lower, in turn they do not."""
    assert stands([("k", 90), ("m", 150)], *UNDER).proof.holds


def test_a_page_turns_under_a_board() -> None:
    """Folded behind, a strip opens out under what is wider than it: it shows that its other side then."""
    pose = stands(
        [("k", 180)],
        "valley along line 50 mm from the left edge, moving A",
        "mountain along line 20 mm from the right edge, 1 layer, moving B, as k",
    )
    assert pose.proof.holds


def test_a_flap_is_not_turned_through_the_layer_that_it_lies_across() -> None:
    """Found by chance: blintzed twice behind, a flap hangs by two seams in line, only one of which is
    named, and the layers under it lie across that line.
    """
    crease = ((0.25, 0.25), (0.0, 0.5))
    for motion in MOTIONS:
        judged(folded(*FOUR_FLAPS, "turn over"), ((Raise((crease,), 180.0, (1,)),),), motion)
