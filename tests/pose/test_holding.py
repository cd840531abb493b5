"""What hands hold and pull: places and lengths that follow from the paper, measured in space."""

from __future__ import annotations

import math

import numpy as np
import pytest

from foldscript.geometry.isometries import reflection
from foldscript.geometry.lines import Line as Axis
from foldscript.pose.goals import Hold, Raise, carried
from foldscript.pose.standing import stood

from ..checker.poses import pose_faults
from ..scripts import captions, folded, refused, standing_document
from .test_levelling import stages_of, stands
from .test_random_poses import in_space

ZIGZAG = (
    "valley along line 40 mm from the left edge, moving A; mark P at midpoint of A D; "
    "mark Q at midpoint of B C",
    "mountain along line 40 mm from the right edge, moving B",
)
STRIP = "sheet rectangle 120 mm by 40 mm\n"
BOOK = ("valley the bottom edge onto the top edge",)
PAGE = "sheet rectangle 120 mm by 160 mm\n"


@pytest.mark.parametrize(("held", "up"), [("A", "B"), ("B", "A")])
def test_what_is_held_lies_and_the_other_side_is_raised(held: str, up: str) -> None:
    crease = "crease along line 50 mm from the left edge as k"
    _, pose = stands(crease, f"raise along k, holding {held}", sheet=STRIP)
    corners = {"A": (0.0, 0.0), "B": (120.0, 0.0)}
    assert in_space(pose, corners[held]) == pytest.approx((*corners[held], 0.0), abs=1e-9)
    assert in_space(pose, corners[up])[2] == pytest.approx(abs(corners[up][0] - 50), abs=1e-9)


@pytest.mark.parametrize(("held", "told"), [("A", False), ("P", True)])
def test_what_is_held_on_the_crease_itself_is_told(held: str, told: bool) -> None:
    crease = "mark P at 50 mm from A on edge A B; crease along line 50 mm from the left edge as k"
    model = folded(crease, f"raise along k, holding {held}", sheet=STRIP)
    assert ("held-on-the-line" in {w.code for w in model.warnings}) is told


@pytest.mark.parametrize("by", [10.0, 20.0, 40.0, 60.0])
def test_ends_that_are_pulled_apart_open_the_folds_between(by: float) -> None:
    """Three panels of 40 mm, folded flat their ends are 40 mm apart; no length changes but that."""
    _, pose = stands(*ZIGZAG, f"pull P from Q by {by} mm", sheet=STRIP)
    apart = math.dist(in_space(pose, (0.0, 20.0)), in_space(pose, (120.0, 20.0)))
    assert apart == pytest.approx(40 + by, rel=0.03)
    assert pose.proof.stretch < 1e-12
    assert pose.proof.bend < 1e-6


def test_layers_are_spread_at_the_point_that_is_named() -> None:
    """Half way along a leg of the triangle, half as far from the fold as the corner: that opens twice as
    wide.
    """
    _, pose = stands(
        "valley A to C; mark M at midpoint of C D",
        "spread M by 2 cm",
        sheet="sheet square 150 mm, corner A at the bottom\n",
    )
    named, mirrored = in_space(pose, (75.0, 150.0)), in_space(pose, (0.0, 75.0))
    assert math.dist(named, mirrored) == pytest.approx(20, rel=0.15)
    corners = in_space(pose, (0.0, 0.0)), in_space(pose, (150.0, 150.0))
    assert math.dist(*corners) == pytest.approx(40, rel=0.15)


def test_an_edge_pulled_up_opens_its_fold() -> None:
    """Both edges were 80 mm from the fold: h apart they open it by 2 asin(h / 160)."""
    _, pose = stands(*BOOK, "mark M at midpoint of A B; pull M in front by 4 cm", sheet=PAGE)
    one, other = in_space(pose, (60.0, 0.0)), in_space(pose, (60.0, 160.0))
    assert math.dist(one, other) == pytest.approx(40, rel=0.03)
    fold = [e for e in pose.edges if e.kind == "fold"]
    opened = math.pi - abs(fold[0].angle)
    assert opened == pytest.approx(2 * math.asin(math.dist(one, other) / 160), abs=1e-6)


@pytest.mark.parametrize("words", ["A from C", "C from A", "A in front", "C behind"])
def test_corners_that_lie_together_are_pulled_apart(words: str) -> None:
    """Whichever of them is named: the one above comes up, the one below goes down."""
    _, pose = stands(
        "valley A to C",
        f"pull {words} by 3 cm",
        sheet="sheet square 150 mm, corner A at the bottom\n",
    )
    apart = math.dist(in_space(pose, (0.0, 0.0)), in_space(pose, (150.0, 150.0)))
    assert apart == pytest.approx(30, rel=0.03)
    assert pose.proof.bend < 1e-6


def test_what_is_held_does_not_tilt_instead() -> None:
    """The corner rises over the plane of the paper at the point that is held, 12 cm aside."""
    _, pose = stands(*ZIGZAG, "pull P in front by 2 cm, holding Q", sheet=STRIP)
    near = [p for p in pose.pieces if any(pose.sheet[v][0] > 119 for v in p.corners)]
    a, b, c = (np.array(pose.space[v]) for v in near[0].corners[:3])
    n = np.cross(b - a, c - a)
    height = abs((np.array(in_space(pose, (0.0, 20.0))) - a) @ n) / math.sqrt(float(n @ n))
    assert height == pytest.approx(20, rel=0.15)


def test_corners_that_are_held_stay_together_while_the_edge_opens() -> None:
    _, pose = stands(*BOOK, "open the top edge by 3 cm, holding A and B", sheet=PAGE)
    for x in (0.0, 120.0):
        assert math.dist(in_space(pose, (x, 0.0)), in_space(pose, (x, 160.0))) < 0.5
    middle = math.dist(in_space(pose, (60.0, 0.0)), in_space(pose, (60.0, 160.0)))
    assert middle == pytest.approx(30, rel=0.15)


def test_mirrored_paper_is_pulled_alike() -> None:
    model = folded(*ZIGZAG, "pull P from Q by 2 cm", sheet=STRIP)
    motion = reflection(Axis(1.0, 0.0, 0.5))
    goals = tuple(tuple(carried(goal, motion) for goal in some) for some in stages_of(model))
    one = stood(model.finished, stages_of(model))
    other = stood(model.finished.moved(motion), goals)
    assert other.proof.holds
    assert other.size == pytest.approx(one.size, abs=1.0)


def test_paper_is_not_stretched() -> None:
    """Farther than the sheet is long, no end comes."""
    model = folded(*ZIGZAG, "pull P from Q by 12 cm", sheet=STRIP)
    pose = stood(model.finished, stages_of(model))
    assert not pose.proof.holds


def test_a_hold_where_paper_has_to_part_is_a_fault() -> None:
    model = folded(*BOOK, "open the top edge by 3 cm, holding the midpoint of A B", sheet=PAGE)
    pose = stood(model.finished, stages_of(model))
    assert not pose.proof.holds
    assert pose_faults(standing_document(model, pose))


def test_layers_that_are_held_are_not_opened_flat() -> None:
    """Held at a place where both layers of a folded corner lie, one of them cannot be laid back; beside the
    corner it can.
    """
    crease = ((1.0, 0.0), (0.0, 1.0))
    paper = folded("valley A to C").finished
    for point, holds in (((0.8, 0.8), False), ((1.0, 0.0), True)):
        goals = (Raise((crease,), 180.0, (1,)), Hold(paper.where(point), point))
        assert stood(paper, (goals,)).proof.holds is holds


def test_captions_tell_what_is_held_and_how_far() -> None:
    assert captions(folded(*ZIGZAG, "pull P from Q by 2 cm", sheet=STRIP))[-1] == (
        "Pull point P 20 mm farther away from point Q."
    )
    assert captions(folded(*BOOK, "pull A in front by 4 cm", sheet=PAGE))[-1] == (
        "Pull corner A up towards you, 40 mm high."
    )
    assert captions(folded(*BOOK, "open the top edge by 3 cm, holding A", sheet=PAGE))[-1] == (
        "Hold the layers together at corner A. Open the model at the top edge, 30 mm wide."
    )


@pytest.mark.parametrize(
    "words",
    ["pull P by 2 cm", "pull P from Q in front by 2 cm", "pull P in front"],
)
def test_a_pull_that_does_not_say_enough_is_refused(words: str) -> None:
    assert refused(*ZIGZAG, words, sheet=STRIP).code == "pull-how"


def test_a_single_layer_needs_what_stays() -> None:
    found = refused("crease the left edge onto the right edge", "pull A in front by 2 cm")
    assert "add 'holding' and a point that stays" in found.hints
