"""Round out: the lines that words stand for, how wide, captions, refusals."""

from __future__ import annotations

import math

import pytest

from foldscript.folding.steps import Model
from foldscript.paper.signs import PointSign
from foldscript.pose.goals import Round

from ..scripts import captions, folded, refused

BOOK = "valley the left edge onto the right edge"


def goal_of(model: Model) -> Round:
    (goal,) = (g for step in model.steps for r in step.records for g in r.goals)
    assert isinstance(goal, Round)
    return goal


def test_without_a_number_each_side_makes_a_quarter_turn() -> None:
    """An arc of 90 degrees and the girth 50 mm is 50 (1 - cos 45°) / (π/2) high: the chord's height."""
    goal = goal_of(folded(BOOK, "round out between the left edge and the right edge"))
    assert goal.width == pytest.approx(
        2 * 50 * (1 - math.cos(math.pi / 4)) / (math.pi / 2), rel=2e-3
    )


def test_the_caption_names_both_lines_and_the_width() -> None:
    model = folded(BOOK, "round out between the left edge and the right edge by 2 cm")
    assert captions(model)[-1] == (
        "Pinch the layers together at the left and right edges. Round them between your fingers in between, "
        "until they stand 20 mm apart."
    )


def test_fingers_push_both_lines_towards_each_other() -> None:
    (*_, step) = folded(BOOK, "round out between the left edge and the right edge").steps
    signs = [s for r in step.records for s in r.signs if isinstance(s, PointSign)]
    assert [s.kind for s in signs] == ["push", "push"]
    assert signs[0].at == pytest.approx(signs[1].toward)
    assert signs[1].at == pytest.approx(signs[0].toward)


def test_a_wing_that_ends_on_the_line_is_not_taken_for_the_body() -> None:
    """The front layer's wing reaches down to the bottom fold, and is free there: it stays."""
    model = folded(
        "valley the bottom edge onto the top edge",
        "crease along line 20 mm from the bottom edge, all layers, as k",
        "valley along line 25 mm from the bottom edge, moving A, 1 layer",
        "round out between the bottom edge and k by 1 cm",
    )
    assert goal_of(model).width == pytest.approx(10)


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("between A and B", "round-lines"),
        ("between the left edge and the left edge", "round-lines"),
        ("between the left edge and the right edge by 40 degrees", "say-how-far"),
        ("between the left edge and the right edge by 4 cm", "round-too-wide"),
        ("between the left edge and line 1 cm from the left edge", "no-crease"),
    ],
)
def test_what_cannot_be_is_told(words: str, code: str) -> None:
    assert refused(BOOK, f"round out {words}").code == code


def test_one_layer_cannot_go_to_both_sides() -> None:
    assert refused("round out between the left edge and the right edge").code == "which-opening"


def test_a_width_that_is_too_much_is_told_with_what_goes() -> None:
    """Half a circle on either side: twice 50 mm / π is 31.8 mm."""
    found = refused(BOOK, "round out between the left edge and the right edge by 4 cm")
    assert "3.2 cm" in found.message
    assert found.hints == ("say 'by 3.1 cm' or less",)
