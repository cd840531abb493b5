"""Raising about a line without a crease: the crease is made first, with a name."""

from __future__ import annotations

import pytest

from foldscript.pose.goals import Raise

from ..beginners.test_beginners import followed, told
from ..scripts import folded, refused


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
    ("said", "code"),
    [
        ("raise along line T U to 60 degrees, along line T U to 120 degrees", "which-flap"),
        ("raise along line T U, moving B", "no-flap-there"),
        ("raise along line T U, moving line A D", "moving-what"),
    ],
)
def test_which_flap_is_asked(said: str, code: str) -> None:
    assert refused(*SHUTTERS, said).code == code
