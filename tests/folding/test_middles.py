"""The centre line stays where it was while one side has been folded in and the paper still shows it."""

from __future__ import annotations

import math

import pytest

from ..scripts import covered, folded, lies, refused

DIAMOND = "sheet square 100 mm, corner A at the bottom\n"


def test_cupboard_with_one_door_after_the_other() -> None:
    """Both edges meet at the middle of the sheet, in one step or in two."""
    for steps in (
        ("valley left edge onto centre line; valley right edge onto centre line",),
        ("valley left edge onto centre line", "valley right edge onto centre line"),
    ):
        model = folded(*steps)
        assert covered(model) == pytest.approx(0.5)
        assert lies(model, "A") == (50, 0)
        assert lies(model, "B") == (50, 0)


def test_kite_without_a_crease() -> None:
    """The edge folded in shows the middle. A kite covers 2 - sqrt 2 of its square."""
    model = folded(
        "valley bottom left edge onto centre line",
        "valley bottom right edge onto centre line",
        sheet=DIAMOND,
    )
    assert covered(model) == pytest.approx(2 - math.sqrt(2))


def test_the_model_may_be_turned_between() -> None:
    model = folded(
        "valley left edge onto centre line",
        "rotate quarter turn clockwise; turn over",
        "mountain bottom edge onto horizontal centre line",
    )
    assert covered(model) in (pytest.approx(0.5), pytest.approx(0.625))
    turned = folded(
        "valley left edge onto centre line; turn over; mountain left edge onto centre line"
    )
    assert covered(turned) == pytest.approx(0.5)


def test_four_corners_to_the_centre_one_by_one() -> None:
    model = folded(*(f"valley {corner} to centre" for corner in "ABCD"))
    assert covered(model) == pytest.approx(0.5)
    assert {lies(model, name) for name in "ABCD"} == {(50, 50)}


def test_a_figure_alike_on_both_sides_has_its_own() -> None:
    """Folded in half, the middle is that of the half."""
    model = folded("valley left edge onto right edge", "valley left edge onto centre line")
    assert lies(model, "A") == (100, 0)
    assert covered(model) == pytest.approx(3 / 8)


def test_where_nothing_shows_the_old_one_it_is_the_middle_of_the_width() -> None:
    model = folded("valley A to 1/3 of A B", "valley right edge onto centre line, all layers")
    x = 100 / 6 + (100 - 100 / 6) / 2
    assert lies(model, "C")[0] == pytest.approx(x)


def test_what_is_refused_hints_that_the_figure_is_lopsided() -> None:
    lop = "valley D to 1/3 of A B"
    found = refused(lop, "valley along centre line")
    assert any("not alike left and right" in hint for hint in found.hints)
    found = refused(lop, "valley along horizontal centre line")
    assert any("not alike top and bottom" in hint for hint in found.hints)
    found = refused("valley along centre line")
    assert not any("not alike" in hint for hint in found.hints)


def test_the_centre_of_a_sheet_that_stands_on_a_corner() -> None:
    """Nothing but the tips shows it. With the corners in any order, and the model turned between."""
    for steps in (
        [f"valley {corner} to centre" for corner in "ABCD"],
        ["valley A to centre; valley B to centre; valley C to centre; valley D to centre"],
        [f"valley {corner} to centre" for corner in "BADC"],
        [
            "valley A to centre; rotate quarter turn clockwise; valley B to the centre",
            "valley C to centre; turn over; rotate 45 degrees clockwise; mountain D to centre",
        ],
    ):
        model = folded(*steps, sheet=DIAMOND)
        assert covered(model) == pytest.approx(0.5)
        assert len({lies(model, name) for name in "ABCD"}) == 1
        assert model.warnings == ()


def test_the_centre_line_stays_while_its_centre_is_seen() -> None:
    """Only the tip of A lies on the level line, and nothing along it: the top edge goes to that line."""
    model = folded(
        "valley A to centre",
        "valley C to where the centre line meets horizontal centre line",
        sheet=DIAMOND,
    )
    assert lies(model, "C") == lies(model, "A")
    assert model.warnings == ()


@pytest.mark.parametrize("corner", ["A", "B", "C", "D"])
def test_a_centre_that_nothing_shows_is_told_with_both_readings(corner: str) -> None:
    model = folded(
        f"valley {corner} to 1/3 of {corner} {'CDAB'['ABCD'.index(corner)]}",
        "mark P at the centre",
        sheet=DIAMOND,
    )
    (warning,) = model.warnings
    assert warning.code == "centre-lost"
    assert "12 mm from the centre" in warning.message  # a sixth of half the diagonal
    assert len(warning.hints) == 2


def test_a_centre_line_that_nothing_shows_is_told() -> None:
    model = folded("valley A to 1/3 of A B", "valley right edge onto centre line, all layers")
    (warning,) = model.warnings
    assert (warning.code, "8 mm from the centre line" in warning.message) == ("centre-lost", True)
    followed = folded(
        "crease left edge onto right edge, as k",
        "valley A to 1/3 of A B",
        "valley right edge onto centre line",
    )
    assert followed.warnings == ()
    assert lies(followed, "B") == (50, 0)


def test_which_way_a_centre_line_runs_is_asked_of_none() -> None:
    """A line square or parallel to a lost centre line is the same wherever that one lies."""
    for turned in ("parallel to", "perpendicular to"):
        model = folded(
            "valley A to 1/3 of A B",
            f"crease along line through 1/4 of line B D {turned} centre line, all layers",
        )
        assert [w for w in model.warnings if w.code == "centre-lost"] == []
