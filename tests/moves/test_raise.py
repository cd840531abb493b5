"""Raising about a line without a crease: the crease is made first, with a name."""

from __future__ import annotations

import math

import pytest

from foldscript.building.standing import PoseCache, standing
from foldscript.folding.steps import Model
from foldscript.geometry.lines import Point
from foldscript.pose.goals import Raise

from ..beginners.test_beginners import followed, told
from ..scripts import captions, folded, refused


@pytest.mark.parametrize(
    ("line", "made"),
    [
        ("line 6 cm from the left edge", "crease along line 6 cm from the left edge, as k"),
        ("line A C", "crease along line A C, as k"),
    ],
)
def test_the_crease_is_made_in_the_line_before(line: str, made: str) -> None:
    text = f"sheet square 15 cm\nstep\n  turn over\nstep\n  raise along {line} to 60 degrees\n"
    (found,) = told(text)
    assert found.code == "no-crease"
    mended, left = followed(text)
    assert left == []
    assert [row.strip() for row in mended.splitlines()[-2:]] == [
        made,
        "raise along k to 60 degrees",
    ]


#: Two shutters on one line, 25 mm from the left edge of 100 mm, parted by a cut at half height.
SHUTTERS = (
    "mark M at midpoint of A D; mark O at the centre; mark T at 1/4 of the bottom edge; "
    "mark U at 1/4 of the top edge; mark N at midpoint of T U",
    "cut from M to O",
    "valley along line T U, moving A; valley along line T U, moving D",
)


def raises(*steps: str) -> list[tuple[float, list[float]]]:
    """Every angle with the heights (mm) between which paper turns, of the lowest crease to the highest."""
    model = folded(*SHUTTERS, *steps)
    goals = [g for step in model.steps for r in step.records for g in r.goals]
    return [
        (g.angle, sorted({round(100 * y, 6) for s in g.creases for _, y in s}))
        for g in goals
        if isinstance(g, Raise)
    ]


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("raise along line T U", [(90, [0, 50, 100])]),
        ("raise along line T N", [(90, [0, 50])]),
        ("raise along line T U, moving D", [(90, [50, 100])]),
        ("raise along line T U, moving A and D", [(90, [0, 50, 100])]),
        (
            "raise along line T U to 60 degrees, moving A, along line T U to 120 degrees, moving D",
            [(60, [0, 50]), (120, [50, 100])],
        ),
    ],
)
def test_one_of_several_flaps_on_a_line(said: str, found: list[tuple[float, list[float]]]) -> None:
    assert raises(said) == found


@pytest.mark.parametrize(
    "second",
    [
        "along k to 120 degrees",
        "along line O P to 120 degrees",
        "along line O P until level with A",
    ],
)
def test_one_flap_is_not_raised_to_two_angles(second: str) -> None:
    """The second line is the first, or a part of it."""
    steps = ("crease A to B as k; mark O at centre; mark P at midpoint of C D",)
    assert refused(*steps, f"raise along k to 60 degrees, {second}").code == "two-angles"


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("raise along line T U to 60 degrees, along line T U to 120 degrees", "which-flap"),
        ("raise along line T U, moving B", "no-flap-there"),
        ("raise along line T U, moving line A D", "moving-what"),
    ],
)
def test_which_flap_is_asked(said: str, code: str) -> None:
    assert refused(*SHUTTERS, said).code == code


#: A house whose doors lie folded over on the lines where its walls are creased afterwards, to the back.
HOUSE = (
    "mark M at midpoint of A D; mark N at midpoint of B C; valley top edge onto bottom edge",
    "crease left edge onto right edge, all layers as v",
    "valley left edge onto v, all layers as left-wall; valley right edge onto v, all layers as right-wall",
    "squash M onto left-wall; squash N onto right-wall",
)
CREASED = (
    "mountain along left-wall, moving the left edge, and unfold; "
    "mountain along right-wall, moving the right edge, and unfold"
)
BOTH = "raise along left-wall, moving A, along right-wall, moving B"


def turning(model: Model) -> set[tuple[tuple[Point, ...], int]]:
    """What paper is raised about in the last step (mm of the sheet), and the side that it bends to."""
    return {
        (tuple(sorted((round(100 * x, 6), round(100 * y, 6)) for x, y in s)), sense)
        for record in model.steps[-1].records
        for goal in record.goals
        if isinstance(goal, Raise)
        for s, sense in zip(goal.creases, goal.senses, strict=True)
    }


def test_what_is_creased_where_other_paper_lies_folded_is_asked_for() -> None:
    assert refused(*HOUSE, CREASED, "raise along left-wall and right-wall").code == "which-flap"


def test_the_wall_with_a_point_rises_away_and_the_door_on_its_line_stays() -> None:
    model = folded(*HOUSE, CREASED, BOTH)
    assert turning(model) == {
        (((25.0, 0.0), (25.0, 50.0)), -1),
        (((0.0, 50.0), (25.0, 50.0)), 1),
        (((75.0, 0.0), (75.0, 50.0)), -1),
        (((75.0, 50.0), (100.0, 50.0)), 1),
    }


def test_a_wall_and_the_door_on_its_line_rise_together() -> None:
    """The roof between them, creased on the same line, has no angle of its own."""
    model = folded(*HOUSE, CREASED, "raise along left-wall, moving A and D")
    assert turning(model) == {
        (((25.0, 0.0), (25.0, 50.0)), -1),
        (((25.0, 50.0), (25.0, 100.0)), -1),
    }
    found = standing(model, PoseCache())
    assert not found.warnings
    (pose,) = found.poses.values()
    assert pose.proof.holds


def test_the_last_way_that_a_crease_was_made_says_to_which_side_paper_rises() -> None:
    line = "line 25 mm from the left edge"
    made = [f"{way} along {line}, moving A, and unfold" for way in ("mountain", "valley")]
    ((_, last),) = turning(folded(*made, f"raise along {line}"))
    ((_, first),) = turning(folded(*reversed(made), f"raise along {line}"))
    assert last == -first != 0


#: Paper of two layers, 100 mm wide, of which 30 mm are folded over to the front at a line.
PAGES = (
    "valley left edge onto right edge",
    "valley right edge onto line 4 cm from the left edge, all layers, as k",
)


@pytest.mark.parametrize(
    ("said", "distances"),
    [
        ("raise along k, 1 layer", [170]),
        ("raise along k to 60 degrees, 1 layer", [170]),
        ("raise along k, 1 layer, to 60 degrees", [170]),
        ("raise along k, 2 layers", [30, 170]),
        ("raise along k, all layers", [30, 170]),
        ("raise along k", [30, 170]),
    ],
)
def test_so_many_layers_are_raised(said: str, distances: list[float]) -> None:
    """The fold lies 30 mm from either end of a strip of 200 mm; the front page is its right end, whose back
    was laid on the left one.
    """
    model = folded(*PAGES, said, sheet="sheet rectangle 20 cm by 10 cm\n")
    (goal,) = (g for r in model.steps[-1].records for g in r.goals if isinstance(g, Raise))
    assert sorted(200 * x for (x, _), _ in goal.creases) == pytest.approx(distances)


def test_the_front_layer_rises_alone() -> None:
    """The other page stays folded over, under it; the front one, 30 mm long, stands at 30 degrees."""
    model = folded(
        *PAGES, "raise along k to 30 degrees, 1 layer", sheet="sheet rectangle 20 cm by 10 cm\n"
    )
    found = standing(model, PoseCache())
    assert not found.warnings
    assert captions(model)[-1].endswith("to an angle of 30 degrees. Only the front layer rises.")
    (pose,) = found.poses.values()
    assert pose.size == pytest.approx((70, 100, 30 * math.sin(math.radians(30))))


@pytest.mark.parametrize(
    "said", ["raise along k, 3 layers", "raise along k, 5 layers to 60 degrees"]
)
def test_more_layers_than_hang_there_are_not_raised(said: str) -> None:
    found = refused(*PAGES, said, sheet="sheet rectangle 20 cm by 10 cm\n")
    assert found.code == "how-many-layers"
    assert "1 or 2 can" in found.message
    assert found.hints[0] == "say '1 layer'"


def test_layers_that_hang_together_rise_together() -> None:
    """Of a strip folded in half its folded end is folded over: two layers, that are one flap."""
    steps = (
        "valley left edge onto right edge; turn over side to side",
        "valley right edge onto left edge, all layers, as k",
    )
    sheet = "sheet rectangle 20 cm by 10 cm\n"
    found = refused(*steps, "raise along k, 1 layer", sheet=sheet)
    assert found.code == "how-many-layers"
    assert "2 can" in found.message
    assert refused(*steps, "raise along k, 1 layer, moving A", sheet=sheet).code == "which-flap"


def test_the_front_flap_in_other_words() -> None:
    text = "sheet square 15 cm\nstep\n  valley A to B as k\nstep\n  raise the front flap along k\n"
    mended, left = followed(text)
    assert left == []
    assert mended.splitlines()[-1].strip() == "raise along k, 1 layer"
