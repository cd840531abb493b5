"""Curl, and flaps spread evenly: the goals that words stand for, captions, refusals."""

from __future__ import annotations

import math

import pytest

from foldscript.folding.steps import Model
from foldscript.pose.goals import Curl, Fan, Goal

from ..scripts import captions, folded, refused
from .starts import DIAMOND, PRELIMINARY

BOOK = "valley the left edge onto the right edge"


def goals(model: Model) -> tuple[Goal, ...]:
    return tuple(g for step in model.steps for record in step.records for g in record.goals)


def curl(*steps: str) -> Curl:
    (goal,) = goals(folded(*steps))
    assert isinstance(goal, Curl)
    return goal


def long(goal: Curl) -> float:
    return 100 * math.dist(goal.point, goal.begins)


def test_round_a_pencil_three_quarters_of_a_turn_and_no_more() -> None:
    """A pencil is 7 mm thick: common practice."""
    goal = curl("curl A in front, round a pencil")
    assert goal.radius == pytest.approx(3.5)
    assert long(goal) == pytest.approx(1.5 * math.pi * 3.5)
    assert goal.front_inside


def test_a_corner_is_rolled_along_the_line_that_halves_it() -> None:
    goal = curl("curl A behind, by 2 cm")
    assert goal.begins == pytest.approx((0.2 / math.sqrt(2), 0.2 / math.sqrt(2)))
    assert not goal.front_inside
    assert goal.radius == pytest.approx(20 / (math.pi / 2))  # a quarter turn


def test_an_edge_is_rolled_square_to_itself() -> None:
    goal = curl("curl the top edge in front, round 12 mm, by 3 cm")
    assert (goal.point, goal.begins) == (pytest.approx((0.5, 1.0)), pytest.approx((0.5, 0.7)))
    assert goal.radius == 6


def test_a_point_says_how_far_and_which_way() -> None:
    goal = curl("mark P at 1/2 of A B; curl A in front to P")
    assert goal.begins == pytest.approx((0.5, 0.0))


def test_outwards_is_away_from_the_rest_of_the_model() -> None:
    """The front layer of a book comes to the reader, the back one goes away.

    The sheet's front is inside the book, so that outside is the back of both.
    """
    front = curl(BOOK, "curl A outwards")
    back = curl(BOOK, "curl B outwards")
    assert not front.front_inside
    assert not back.front_inside
    assert curl(BOOK, "curl A inwards").front_inside


def test_captions_tell_side_and_thing() -> None:
    assert captions(folded(BOOK, "curl A outwards, round a pencil"))[-1] == (
        "Curl the paper at corner A outwards, round a pencil."
    )
    assert captions(folded(BOOK, "curl A behind"))[-1] == "Curl the paper at corner A to the back."
    assert captions(folded(BOOK, "curl A round 12 mm"))[-1] == (
        "Curl the paper at corner A round something 12 mm thick."
    )


@pytest.mark.parametrize(
    ("statement", "code"),
    [
        ("curl A outwards", "curl-side"),
        ("curl A in front, by 200 cm", "curl-too-far"),
        ("curl A in front, round a pencil, by 4 cm", "curl-over"),
        (
            "mark P at 1/2 of line A B; mark Q at 2/5 of line A C; curl P to Q in front, round 16 mm",
            "curl-over",
        ),
        ("curl A in front, round 20 degrees", "say-how-far"),
        ("mark P at 1/2 of A C; curl P in front", "curl-where"),
        ("curl", "sign-where"),
        ("spread A and C", "spread-flaps"),
        ("spread A, B and C", "spread-flaps"),
    ],
)
def test_refused(statement: str, code: str) -> None:
    found = refused(statement)
    assert found.code == code
    assert found.hints


#: A blintz turned over and blintzed again: every corner of the small square is folded paper.
_TWICE = (
    *("valley A to centre", "valley B to centre", "valley C to centre", "valley D to centre"),
    *("turn over side to side", "valley top corner to centre", "valley left corner to centre"),
    *("valley right corner to centre", "valley bottom corner to centre", "turn over"),
)


@pytest.mark.parametrize(
    ("steps", "code"),
    [((*_TWICE, "curl top right corner"), "curl-held"), (("curl A to A",), "curl-too-short")],
)
def test_nothing_to_roll_is_refused(steps: tuple[str, ...], code: str) -> None:
    found = refused(*steps)
    assert found.code == code
    assert found.hints


def test_flaps_are_spread_evenly_about_their_middle_creases() -> None:
    """Four corners of a preliminary base, on the diagonals of the sheet: each stands at a right angle."""
    model = folded(*PRELIMINARY, "spread A, B, C and D", sheet=DIAMOND)
    (goal,) = goals(model)
    assert isinstance(goal, Fan)
    assert goal.angle == 90
    assert len(set(goal.senses)) == 1
    tips = sorted((round(x, 9) + 0.0, round(y, 9) + 0.0) for (x, y), _ in goal.creases)
    assert tips == [(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)]
    for _, q in goal.creases:
        assert q == pytest.approx((0.5, 0.5))


def test_a_line_whose_middle_lies_beside_its_paper_is_no_rim() -> None:
    fault = refused(
        *("mark T1 at 1/4 of centre midpoint of B C", "mark T2 at 1/4 of centre midpoint of C D"),
        *("valley T1 to B, 1 layer", "turn over", "curl centre line outwards, by 15 mm"),
    )
    assert fault.code == "curl-where"
