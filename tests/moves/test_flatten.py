"""Flatten: which part of the sheet becomes the floor, what stays as it lay, what is refused.

How boxes stand on such floors is told by `tests/pose/test_boxes.py`.
"""

from __future__ import annotations

import pytest

from foldscript.geometry.lines import distance
from foldscript.paper.signs import PointSign
from foldscript.pose.goals import Floor, Part

from ..scripts import captions, folded, lies, refused

BASE = "start from preliminary base\nsheet square 100 mm\n"
CREASED = "crease O to the centre, all layers"


def test_the_floor_reaches_to_the_creases_round_the_point() -> None:
    """The base is a square of 50 mm on its point; O brought to its centre is creased half way there, at a
    quarter of the diagonal of 50 √2 mm. Square to the sheet's diagonals such creases bound a square on its
    point, whose corners are 50 √2 / 4 · √2 = 25 mm from the middle of the sheet, on its middle lines; they
    cut the diagonals 12.5 mm beside the middle both ways.
    """
    model = folded(CREASED, "flatten O", sheet=BASE)
    (record,) = model.steps[-1].records
    opened, *parts = record.goals
    assert isinstance(opened, Floor)
    assert opened.tip == pytest.approx((50, 50))
    assert opened.angle == 180
    assert {crease[0] for crease in opened.creases} == {opened.creases[0][0]}
    assert opened.creases[0][0] == pytest.approx((0.5, 0.5))
    ends = sorted((round(x * 100, 6), round(y * 100, 6)) for _, (x, y) in opened.creases)
    assert ends == [
        (25, 50),
        (37.5, 37.5),
        (37.5, 62.5),
        (50, 25),
        (50, 75),
        (62.5, 37.5),
        (62.5, 62.5),
        (75, 50),
    ]
    assert parts
    for part in parts:
        assert isinstance(part, Part)
        assert distance(part.at, (0.5, 0.5)) < 0.25, "fingers are inside the floor"


def test_the_flat_paper_stays_as_it_lay() -> None:
    """Pressing the floor happens in space: all four corners stay at the open end."""
    before, after = folded(CREASED, sheet=BASE), folded(CREASED, "flatten O", sheet=BASE)
    assert after.finished == before.finished
    for name in "ABCD":
        assert lies(after, name) == lies(before, name)
    assert captions(after)[-1] == (
        "Press point O flat from inside: this is the floor, and the walls stand up."
    )


def test_a_finger_presses_from_inside() -> None:
    """At the closed point, away from the open end, where A is."""
    model = folded(CREASED, "flatten O", sheet=BASE)
    sign, _ = model.steps[-1].records[0].signs
    assert isinstance(sign, PointSign)
    assert sign.kind == "push"
    (x, y), toward = sign.at, sign.toward
    assert toward is not None
    ox, oy = lies(model, "A")
    way = (ox / 100 - x, oy / 100 - y)
    on = (toward[0] - x) * way[0] + (toward[1] - y) * way[1]
    assert on < 0


def test_hands_open_the_corner_where_all_four_corners_lie() -> None:
    """The base is closed at O and open along both edges that meet opposite."""
    model = folded(CREASED, "flatten O", sheet=BASE)
    _, mouth = model.steps[-1].records[0].signs
    assert isinstance(mouth, PointSign)
    assert (mouth.kind, mouth.opens) == ("open-out", None)
    assert [100 * x for x in mouth.at] == pytest.approx(lies(model, "A"), abs=1e-6)


def test_hands_open_the_edge_opposite() -> None:
    """The waterbomb base is a triangle with O at its top, open all along the edge below: 100 mm long."""
    model = folded(
        "crease along line 20 mm from the bottom edge, all layers",
        "flatten O",
        sheet="start from waterbomb base\nsheet square 100 mm\n",
    )
    _, mouth = model.steps[-1].records[0].signs
    assert isinstance(mouth, PointSign)
    assert mouth.opens is not None
    assert distance(*mouth.opens) == pytest.approx(1.0)
    assert mouth.at[1] < model.finished.where((0.5, 0.5))[1] - 0.4


@pytest.mark.parametrize(
    ("step", "code", "words"),
    [
        ("flatten O", "no-floor", "O"),
        (f"{CREASED};flatten A", "no-floor", "A"),
        ("flatten line O A", "flatten-where", "flatten line O A"),
        (f"{CREASED};flatten O, to 60 degrees", "unexpected-words", "to 60 degrees"),
    ],
)
def test_what_is_refused(step: str, code: str, words: str) -> None:
    """No crease goes round O; A is at the open end; a line is no point."""
    found = refused(step, sheet=BASE)
    assert (found.code, found.words) == (code, words)
