"""Raise, open, spread: the goals that words stand for, captions, refusals."""

from __future__ import annotations

import pytest

from foldscript.folding.steps import Model
from foldscript.paper.signs import Arrow, RaisedAngle
from foldscript.pose.goals import Blow, Goal, Open, Part, Raise, Spread

from ..scripts import captions, folded, refused

GLIDER = (
    "valley the left edge onto the right edge",
    "valley along line 3 cm from the right edge, 1 layer, moving A as k",
)
BOOK = "valley the bottom edge onto the top edge"


def goals(model: Model) -> tuple[Goal, ...]:
    return tuple(g for step in model.steps for record in step.records for g in record.goals)


def test_a_named_crease_is_raised_about_its_own_segments() -> None:
    """30 mm in from an edge that A is on, on the sheet, from end to end; at right angles."""
    (goal,) = goals(folded(*GLIDER, "raise along k"))
    assert isinstance(goal, Raise)
    assert goal.angle == 90
    (((ax, ay), (bx, by)),) = goal.creases
    assert (ax, bx) == pytest.approx((0.3, 0.3))
    assert sorted((ay, by)) == pytest.approx([0, 1])


def test_a_fold_that_has_no_name_is_raised_by_its_edge() -> None:
    """The folded bottom edge is the fold across the middle of the sheet."""
    (goal,) = goals(folded(BOOK, "raise along the bottom edge to 60 degrees"))
    assert isinstance(goal, Raise)
    assert goal.angle == 60
    assert [y for s in goal.creases for _, y in s] == pytest.approx([0.5, 0.5])


def test_creases_have_an_angle_each() -> None:
    """What stands before an angle has that one; what no angle follows, a right angle."""
    model = folded(
        *GLIDER,
        "crease top edge to bottom edge as m",
        "crease bottom edge onto m as n",
        "raise along k to 60 degrees, along m to 30 degrees, along n",
    )
    found = goals(model)
    assert [g.angle for g in found if isinstance(g, Raise)] == [60, 30, 90]
    assert captions(model)[-1] == (
        "Raise the paper along the middle vertical crease, to an angle of 60 degrees. "
        "Raise the paper along the middle horizontal crease, to an angle of 30 degrees. "
        "Raise the paper along the bottom horizontal crease, until it stands at right angles."
    )


def test_a_mouth_opens_half_its_edge_unless_it_is_said() -> None:
    (half,) = goals(folded(BOOK, "open the top edge"))
    (said,) = goals(folded(BOOK, "open the top edge by 4 cm"))
    assert isinstance(half, Open)
    assert isinstance(said, Open)
    assert (half.width, said.width) == pytest.approx((50, 40))


def test_a_point_is_spread() -> None:
    model = folded(BOOK, "spread the top left corner by 4 cm")
    (goal,) = goals(model)
    assert isinstance(goal, Spread)
    assert goal.width == pytest.approx(40)


def test_a_breath_goes_into_the_edge_named_else_into_what_is_closed() -> None:
    (edge,) = goals(folded(BOOK, "mark P at midpoint of the top edge\nblow into P"))
    (inside,) = goals(folded(BOOK, "inflate at the bottom left corner"))
    assert isinstance(edge, Blow)
    assert edge.edge is not None
    assert inside == Blow(None)


def test_captions() -> None:
    assert captions(folded(BOOK, "raise along the bottom edge"))[-1] == (
        "Raise the paper along the bottom edge, until it stands at right angles."
    )
    assert captions(folded(BOOK, "open the top edge by 4 cm"))[-1] == (
        "Open the model at the top edge, 40 mm wide."
    )


@pytest.mark.parametrize(
    ("statement", "code"),
    [
        ("raise along the left edge", "no-crease"),
        ("open the top edge by 0 mm", "say-how-far"),
        ("raise along the bottom edge to 190 degrees", "raise-angle"),
        ("raise along the bottom edge to 4 cm", "say-how-far"),
        ("raise A", "raise-along"),
        ("raise", "sign-where"),
        ("open A", "open-where"),
        ("open the top edge by 40 degrees", "say-how-far"),
        ("spread A", "spread-how-far"),
        ("spread the top edge by 4 cm", "spread-where"),
        ("spread A and B by 4 cm", "spread-where"),
        ("open the top edge onto A", "unexpected-words"),
    ],
)
def test_refused(statement: str, code: str) -> None:
    found = refused(BOOK, statement)
    assert found.code == code
    assert found.hints


def test_no_fold_follows() -> None:
    found = refused(BOOK, "open the top edge", "valley the left edge onto the right edge")
    assert found.code == "not-flat-any-more"


def test_a_flap_whose_tip_is_covered_by_what_goes_with_it_has_its_arrow() -> None:
    """The front of a tent, its doors folded over it: the top layer where it is taken is a door."""
    model = folded(
        "valley the bottom edge onto the top edge",
        "mark P at 1/3 of the bottom edge; mark Q at 2/3 of the bottom edge; valley A to P, 1 layer",
        "valley B to Q, 1 layer",
        "raise along the bottom edge to 70 degrees",
    )
    signs = model.steps[-1].records[-1].signs
    assert [s.act for s in signs if isinstance(s, Arrow)] == ["raise"]


def raising(*steps: str) -> set[tuple[str, bool]]:
    """What arrows the last step has: how, and whether from under other paper."""
    signs = folded(*steps).steps[-1].records[-1].signs
    return {(s.act, s.under) for s in signs if isinstance(s, Arrow)}


@pytest.mark.parametrize(
    ("wide", "then", "found"),
    [
        (20, ("raise along l and r",), {("raise", False)}),
        (30, ("raise along l and r",), {("raise", True), ("raise", False)}),
        (30, ("raise along r",), {("raise", False)}),
        (20, ("turn over", "raise along l"), {("lower", True)}),
    ],
    ids=["beside each other", "one under the other", "the upper", "behind what stays"],
)
def test_a_flap_that_lies_hidden_has_its_arrow(
    wide: int, then: tuple[str, ...], found: set[tuple[str, bool]]
) -> None:
    """Two doors of a sheet 100 mm wide."""
    left, right = (
        f"valley along line {wide} mm from the {side} edge" for side in ("left", "right")
    )
    assert raising(f"{left}, moving A, as l", f"{right}, moving B, as r", *then) == found


def test_two_walls_that_meet_have_an_arrow_each() -> None:
    doors = "valley left edge onto centre line as l", "valley right edge onto centre line as r"
    model = folded(*doors, "raise along l and r")
    signs = model.steps[-1].records[-1].signs
    assert [s.under for s in signs if isinstance(s, Arrow)] == [False, False]


DOORS = (
    "mark O at the centre",
    "valley the left edge onto the centre line; valley the right edge onto the centre line",
)


@pytest.mark.parametrize(
    ("before", "at", "above"),
    [
        ((), "O", True),  # the floor, through the slit between the doors
        (("turn over",), "O", False),  # the same from behind: the slit lies on the table
        ((), "A", True),  # under a door
        (("turn over",), "A", False),  # over a door that lies lowest
    ],
)
def test_fingers_come_from_the_side_of_the_slit(
    before: tuple[str, ...], at: str, above: bool
) -> None:
    model = folded(*DOORS, *before, f"raise along the left edge, opening {at}")
    (part,) = (goal for goal in goals(model) if isinstance(goal, Part))
    assert part.upward is above


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("raise along k", [(90.0, True, False)]),
        ("raise along k to 60 degrees", [(60.0, True, False)]),
        ("raise along k to 90 degrees", [(90.0, True, False)]),
    ],
)
def test_the_angle_that_a_flap_comes_to_is_a_sign(
    line: str, told: list[tuple[float, bool, bool]]
) -> None:
    """A flap that lies folded over the paper."""
    model = folded("valley along line 30 mm from the left edge, moving A, as k", line)
    signs = [s for s in model.steps[-1].records[-1].signs if isinstance(s, RaisedAngle)]
    assert [(s.degrees, s.folded, s.away) for s in signs] == told


def test_nothing_is_raised_to_where_it_lies() -> None:
    found = refused(
        "valley along line 30 mm from the left edge, moving A, as k", "raise along k to 0 degrees"
    )
    assert found.code == "nothing-raised"
    assert found.hints[0] == "say 'to 90 degrees' for upright"


def test_the_angle_of_a_flap_that_goes_on_flat_is_counted_from_the_paper_that_stays() -> None:
    model = folded("crease along line 30 mm from the left edge as k", "raise along k to 60 degrees")
    (sign,) = (s for s in model.steps[-1].records[-1].signs if isinstance(s, RaisedAngle))
    assert not sign.folded
    assert sign.tip[0] == pytest.approx(0.0)
    assert sign.foot[0] == pytest.approx(0.3)  # 30 of 100 mm


def test_the_angle_of_a_flap_behind_is_one_away_from_the_reader() -> None:
    model = folded(
        "valley along line 30 mm from the left edge, moving A, as k",
        "turn over",
        "raise along k to 60 degrees",
    )
    (sign,) = (s for s in model.steps[-1].records[-1].signs if isinstance(s, RaisedAngle))
    assert sign.away
