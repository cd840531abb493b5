"""Turn over, rotate: the model as a whole; mark: a name for a point."""

from __future__ import annotations

import pytest

from foldscript.geometry.lines import Point
from foldscript.paper.signs import Rotate, TurnOver

from ..scripts import captions, covered, folded, lies, refused


@pytest.mark.parametrize(
    ("line", "a", "c"),
    [
        ("turn over", (100, 0), (0, 100)),
        ("turn over side to side", (100, 0), (0, 100)),
        ("turn over top to bottom", (0, 100), (100, 0)),
        ("rotate 90 degrees clockwise", (0, 100), (100, 0)),
        ("rotate 90 degrees anticlockwise", (100, 0), (0, 100)),
        ("rotate quarter turn clockwise", (0, 100), (100, 0)),
        ("rotate half turn", (100, 100), (0, 0)),
        ("rotate 180 degrees", (100, 100), (0, 0)),
        ("rotate 45 degrees clockwise", (-20.710678, 50), (120.710678, 50)),
    ],
)
def test_where_corners_lie(line: str, a: Point, c: Point) -> None:
    model = folded(line)
    assert lies(model, "A") == pytest.approx(a)
    assert lies(model, "C") == pytest.approx(c)
    assert covered(model) == pytest.approx(1)


def test_turning_over_shows_the_other_side_and_turns_the_stack_round() -> None:
    model = folded("valley A to C", "turn over")
    before, after = model.steps[0].after, model.finished
    assert [f.shows_front for f in after.facets] == [not f.shows_front for f in before.facets]
    assert {k: not v for k, v in before.order.items()} == dict(after.order)


def test_turning_over_twice_changes_nothing() -> None:
    model = folded("valley A to midpoint of C D", "turn over", "turn over")
    before, after = model.steps[0].after, model.finished
    assert dict(before.order) == dict(after.order)
    for name in "ABCD":
        assert lies(after, name) == pytest.approx(lies(before, name))


def test_rotating_keeps_the_stack() -> None:
    model = folded("valley A to C", "rotate 45 degrees clockwise")
    assert dict(model.steps[0].after.order) == dict(model.finished.order)


def test_signs_stand_between_figures() -> None:
    model = folded("turn over", "valley A to C; rotate 45 degrees clockwise")
    (first,) = model.steps[0].panels
    assert first.after_turns == (TurnOver(True),)
    assert first.signs == ()
    (second,) = model.steps[1].panels
    assert second.after_turns == (Rotate(-45.0),)
    assert captions(model)[0] == "Turn over from side to side."
    assert captions(model)[-1] == "Rotate the model an eighth of a turn clockwise."


@pytest.mark.parametrize(
    "line", ["rotate", "rotate 90 degrees", "rotate 360 degrees clockwise", "rotate 3 mm clockwise"]
)
def test_rotations_that_say_too_little(line: str) -> None:
    found = refused(line)
    assert found.code == "turn-by"


def test_mark_names_the_paper_at_a_place() -> None:
    """The named place travels with its layer."""
    model = folded(
        "valley A to C", "mark T at top right corner", "valley T to midpoint of B D, 1 layer"
    )
    assert lies(model, "A") == pytest.approx((50, 50))
    assert lies(model, "C") == (100, 100)


def test_mark_on_the_layer_underneath() -> None:
    model = folded(
        "valley A to C",
        "mark T at bottom layer at top right corner",
        "mountain T to midpoint of B D",
    )
    assert lies(model, "A") == (100, 100)
    assert lies(model, "C") == pytest.approx((50, 50))


@pytest.mark.parametrize(
    ("lines", "code", "words"),
    [
        ("mark A at midpoint of B C", "name-taken", "A"),
        ("mark M at midpoint of B C; mark M at midpoint of A B", "name-taken", "M"),
        ("mark M at edge A B", "not-a-point", "edge A B"),
        ("mark M at B C", "mark-what", None),
        ("mark M", "mark-what", None),
    ],
)
def test_marks_refused(lines: str, code: str, words: str | None) -> None:
    found = refused(lines)
    assert found.code == code
    if words is not None:
        assert found.words == words


def test_a_mark_off_the_paper() -> None:
    """Where the bottom edge and the fold of a corner would meet, past the paper."""
    found = refused(
        "mark P at 1/3 of A D; mark Q at 1/2 of B C", "mark X at where line P Q meets edge A B"
    )
    assert found.code == "off-the-paper"
    # P Q rises by 1/6 of the side across it, so it comes down to A B two sides left of P's edge (derived)
    assert "it is 200 mm beside it, nearest to the bottom left corner" in found.message
    assert "P lies 33 mm from corner A; Q lies 50 mm from corner B" in found.message
    assert found.hints[0] == "say 'bottom left corner' for that"
