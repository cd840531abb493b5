"""How 'first', 'second' and 'third' are counted: by what the eye sees, not by the names of corners."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest

from ..scripts import creases, folded, refused, spot

#: The same square, its corners called otherwise; by position: bottom left, bottom right, top right, top left.
NAMES = ("A B C D", "B C D A", "C D A B", "D C B A")


def said(statement: str, names: str) -> str:
    """A statement that names corners by position (1 to 4), with the names of a sheet."""
    return re.sub(r"\b[1-4]\b", lambda found: names.split()[int(found[0]) - 1], statement)


def sheet(names: str) -> str:
    return f"sheet square 100 mm, corners named {names}\n"


def marks(names: str, *statements: str) -> Sequence[str]:
    return [said(statement, names) for statement in statements]


@pytest.mark.parametrize("names", NAMES)
@pytest.mark.parametrize(("word", "height"), [("first", 14.644661), ("second", 85.355339)])
def test_on_an_upright_line_from_the_bottom_upward(names: str, word: str, height: float) -> None:
    """P lies 35.36 mm from O, so it lands so far below or above O on the line through O."""
    steps = marks(
        names,
        "mark O at the centre; mark P at midpoint of 1 O; crease left edge onto right edge as v",
        f"valley P onto v, through O, {word}",
    )
    assert spot(folded(*steps, sheet=sheet(names)), 25, 25) == pytest.approx((50, height))


@pytest.mark.parametrize("names", NAMES)
@pytest.mark.parametrize(("word", "across"), [("first", 14.644661), ("second", 85.355339)])
def test_on_a_level_line_from_left_to_right(names: str, word: str, across: float) -> None:
    steps = marks(
        names,
        "mark O at the centre; mark P at midpoint of 1 O; crease top edge onto bottom edge as h",
        f"valley P onto h, through O, {word}",
    )
    assert spot(folded(*steps, sheet=sheet(names)), 25, 25) == pytest.approx((across, 50))


@pytest.mark.parametrize("names", NAMES)
@pytest.mark.parametrize("line", ["line M N", "line N M"])
def test_beside_an_upright_crease_the_left_line_is_the_first(names: str, line: str) -> None:
    steps = marks(
        names,
        "mark M at midpoint of the bottom edge; mark N at midpoint of the top edge",
        f"crease along line 10 mm from {line}, first",
    )
    assert creases(folded(*steps, sheet=sheet(names))) == [((40, 0), (40, 100))]


@pytest.mark.parametrize("names", NAMES)
@pytest.mark.parametrize("lines", ["line 1 3 onto line 2 4", "line 4 2 onto line 3 1"])
def test_of_two_equal_turns_the_level_line_is_the_first(names: str, lines: str) -> None:
    steps = marks(names, f"crease {lines}, first")
    assert creases(folded(*steps, sheet=sheet(names))) == [((0, 50), (100, 50))]


@pytest.mark.parametrize("names", NAMES)
def test_the_smaller_turn_is_the_first(names: str) -> None:
    """From the bottom edge to the line through the same corner at 30 degrees: 15 degrees, or 105."""
    steps = marks(names, "crease edge 1 2 onto line through 1 at 30 degrees to edge 1 2, first")
    ((start, end),) = creases(folded(*steps, sheet=sheet(names)))
    assert start == pytest.approx((0, 0))
    assert end == pytest.approx((100, 26.794919))  # 100 tan 15 degrees


def test_the_message_counts_as_the_words_do() -> None:
    """Of three folds two land on the edge itself; each is reached by the word that the message gives it."""
    steps = ("mark M at midpoint of A B", "valley C onto edge A D and M onto edge B C")
    told = re.findall(r"the (first|second|third) lands ([^;]*)", refused(*steps).message)
    assert len(told) >= 2
    places = [spot(folded(steps[0], f"{steps[1]}, {word}"), 100, 100) for word, _ in told]
    assert [x for x, _ in places] == pytest.approx([0] * len(places))
    assert len({round(y, 3) for _, y in places}) == len(places)
    assert all(-1e-6 <= y <= 100 + 1e-6 for _, y in places)
