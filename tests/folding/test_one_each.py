"""Several things named in one statement are folded one after another, as if each stood alone."""

from __future__ import annotations

import pytest

from ..conftest import states_document
from ..scripts import captions, covered, folded, refused

ON_CORNER = "sheet square 100 mm, corner A at the bottom\n"


@pytest.mark.parametrize(
    ("before", "said", "apart"),
    [
        ("mark O at the centre", "valley A, B, C and D to O", [f"valley {p} to O" for p in "ABCD"]),
        ("mark O at the centre", "mountain A and C to O", ["mountain A to O", "mountain C to O"]),
        ("mark O at the centre", "crease A and C to O", ["crease A to O", "crease C to O"]),
        ("mark O at the centre", "valley A and C to O and B", ["valley A to O", "valley C to B"]),
        (
            "crease A to C as k",
            "valley right corner and left corner to centre",
            ["valley right corner to centre", "valley left corner to centre"],
        ),
        (
            "crease B to D as k",
            "valley edge A B and edge A D onto k",
            ["valley edge A B onto k", "valley edge A D onto k"],
        ),
        (
            "mark P at 1/3 of A B; mark Q at 1/3 of A D; mark R at 1/3 of C B; mark S at 1/3 of C D; "
            "crease through P Q as k; crease through R S as m",
            "valley A and C along k and m",
            ["valley A along k", "valley C along m"],
        ),
        (
            "mark P at 1/3 of A B; mark Q at 1/3 of A C; mark R at 1/3 of C B; mark S at 1/3 of C A; "
            "valley D to B",
            "inside reverse A and C along line P Q and line R S",
            ["inside reverse A along line P Q", "inside reverse C along line R S"],
        ),
        (
            "mark O at the centre; valley A to O as k; valley C to O as m",
            "unfold k and m",
            ["unfold k", "unfold m"],
        ),
    ],
)
def test_each_is_folded_as_if_it_stood_alone(before: str, said: str, apart: list[str]) -> None:
    one = folded(before, said, sheet=ON_CORNER)
    other = folded(before, "; ".join(apart), sheet=ON_CORNER)
    assert states_document(one) == states_document(other)
    assert captions(one) == captions(other)


def test_and_unfold_lays_all_of_them_back() -> None:
    model = folded("mark O at the centre", "valley A, B, C and D to O, and unfold")
    assert covered(model) == pytest.approx(1)
    assert len(model.finished.creases) == 4


def test_what_hangs_on_the_first_goes_along_about_the_same_line() -> None:
    """A and B are the ends of one edge: one fold moves both."""
    model = folded("valley A and B along the horizontal centre line")
    assert covered(model) == pytest.approx(1 / 2)
    assert captions(model) == ["Fold corner A over along the horizontal centre line."]


@pytest.mark.parametrize(
    ("steps", "code", "message"),
    [
        (
            ("mark P at 1/3 of A D", "valley A and B to D"),
            "gone-along",
            "corner B has moved along with what was named before it",
        ),
        (
            ("valley A and bottom right corner to the top left corner",),
            "gone-along",
            "has moved along with what was named before it",
        ),
        (("mark O at the centre", "valley A and C to O, as k"), "one-name", "cannot be given to 2"),
    ],
)
def test_what_is_no_row_of_moves_is_refused_with_lines_to_write(
    steps: tuple[str, ...], code: str, message: str
) -> None:
    found = refused(*steps)
    assert (found.code, message in found.message) == (code, True), found.message
    assert "and in the next line" in found.hints[0]


def test_a_place_that_the_first_takes_along_is_marked_first() -> None:
    found = refused("valley A and D to midpoint of left edge")
    assert found.code == "words-move"
    assert found.hints == (
        "say 'mark P at midpoint of left edge', and in the next line 'valley A and D to P'",
    )


def test_where_a_later_one_does_not_fold_nothing_of_it_is_done() -> None:
    found = refused(
        "mark P at 1/3 of A B; mark Q at 1/3 of A C; valley D to B",
        "inside reverse A and C along line P Q",
    )
    assert found.code == "fold-misses-flap"
    assert found.hints[-1] == (
        "or write, each in a line of its own, 'inside reverse A along line P Q', and 'inside reverse C ...' "
        "with the words that fit there"
    )


def test_what_is_wrong_with_the_first_is_told_as_of_one() -> None:
    found = refused("mark O at the centre", "squash A and C onto line O B")
    alone = refused("mark O at the centre", "squash A onto line O B")
    assert (found.code, found.message) == (alone.code, alone.message)
