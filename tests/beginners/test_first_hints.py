"""First hints to lines of table talk at points of real models, and that what they say folds."""

from __future__ import annotations

import pytest

from .test_beginners import followed, told

DIAMOND = "sheet square 15 cm, corner A at the bottom\n"
SQUARE = "sheet square 15 cm\n"
HELMET = (
    f"{DIAMOND}step\n  valley the top corner to the bottom corner\nstep\n"
    "  valley the left corner to the bottom corner\nstep\n"
    "  valley the right corner to the bottom corner\nstep\n"
)
DART = "sheet A4 portrait\nstep\n  crease the left edge onto the right edge as middle\nstep\n"
CREASED = f"{SQUARE}step\n  crease left edge onto right edge as k\nstep\n"

#: A script up to a line, the line, what the first hint says, and whether what it says folds at once.
TALK = {
    "too-short": (HELMET, "valley bottom corner to the top", "valley bottom corner to top corner"),
    "two-corners": (
        DART,
        "fold the top corners to the middle crease",
        "mark P at midpoint of top edge",
    ),
    "upright": (CREASED, "fold left edge 90 degrees up along k", "raise along k to 90 degrees"),
    "lower-edges": (
        "start from preliminary base\nstep\n",
        "valley lower edges to centre line",
        "valley bottom left edge onto centre line",
    ),
    "both-corners": (
        "start from waterbomb base\nstep\n",
        "valley both bottom corners to the top corner",
        "valley bottom left corner to top corner",
    ),
    "slit": (
        f"{SQUARE}step\n",
        "cut a slit from the midpoint of the bottom edge to the centre",
        "cut from midpoint of bottom edge to centre",
    ),
    "front-layers": (
        f"{SQUARE}step\n  valley bottom edge onto top edge\n  valley left edge onto right edge\nstep\n",
        "valley bottom right corner to top left corner, front two layers",
        "valley bottom right corner to top left corner, 2 layers",
    ),
    "letter": (
        "sheet A4 portrait\nstep\n",
        "fold in thirds like a letter",
        "mark P at 1/3 of A D",
    ),
    "inches": (
        f"{SQUARE}step\n",
        "valley along line 1-1/2 inches from the left edge, moving A",
        "valley along line 1 1/2 inches from left edge, moving A",
    ),
    "page": (
        "start from preliminary base\nstep\n",
        "turn the right flap over to the left",
        "swing right corner to left corner",
    ),
    "flip-one": (
        "start from preliminary base\nstep\n",
        "flip one flap to the left",
        "swing right corner to left corner",
    ),
    "flap-down": (
        f"{DIAMOND}step\n  valley A to C\nstep\n",
        "valley front flap down",
        "valley top corner to midpoint of bottom edge",
    ),
    "called": (f"{DIAMOND}step\n", "valley A to C and call it base", "valley A to C, as base"),
    "mark-as": (f"{SQUARE}step\n", "mark O as the centre", "mark O at centre"),
    "see-the-back": (
        f"{SQUARE}step\n  valley A to C\nstep\n",
        "turn the model around so you see the back",
        "turn over",
    ),
    "word-for-word": (
        f"{DIAMOND}step\n",
        "valley the under corner on the above corner",
        "valley bottom corner to top corner",
    ),
    "opposite-corner": (
        f"{DIAMOND}step\n",
        "valley the top corner to the opposite corner",
        "valley top corner to bottom corner",
    ),
    "name-said-apart": (
        f"{SQUARE}step\n  crease left edge onto right edge as middle-crease\nstep\n",
        "valley left edge onto middle crease",
        "valley left edge onto middle-crease",
    ),
}


@pytest.mark.parametrize(("before", "line", "said"), TALK.values(), ids=TALK)
def test_the_first_hint_says_it_and_folds(before: str, line: str, said: str) -> None:
    (wrong,) = told(f"{before}  {line}\n")
    assert f"'{said}'" in wrong.hints[0].text
    assert followed(f"{before}  {line}\n")[1] == []


@pytest.mark.parametrize(
    ("before", "line", "hint"),
    [
        (HELMET, "fold the back flap behind", "'mountain' to fold away behind"),
        (HELMET, "fold both flaps up to the top corner", "say which flap"),
        (HELMET, "fold the bottom edge up twice", "repeat step 1 again"),
        (HELMET, "tuck the left corner into the pocket", "into the pocket at P"),
        (CREASED, "fold the wings to a right angle", "'raise along k'"),
        (HELMET, "inside reverse fold the bottom corner upwards", "say where it lands"),
        (f"{SQUARE}step\n", "valley A to P\n  mark P at centre", "line 4 gives this name"),
        (f"{SQUARE}step\n  crease A to C\nstep\n", "fold along the dotted line", ", as k"),
        (f"{DIAMOND}step\n", "valley left edge onto right edge", "say 'left corner'"),
        (f"{SQUARE}step\n  valley A to C\nstep\n", "repeat step 4 again", "only step 1"),
        (f"{SQUARE}step\n", "roll the bottom edge up twice", "one fold after the other"),
        (f"{SQUARE}step\n", "lift A to C in a petal", "petal"),
    ],
)
def test_words_of_the_table_are_answered(before: str, line: str, hint: str) -> None:
    wrong, *_ = told(f"{before}  {line}\n")
    assert any(hint in one.text for one in wrong.hints), wrong.hints


@pytest.mark.parametrize(
    "line",
    [
        "fold the back flap behind",
        "fold both flaps up to the top corner",
        "fold the edges to the centre again",
        "fold left edge 90 degrees up along k",
    ],
)
def test_no_hint_keeps_a_word_that_names_nothing(line: str) -> None:
    (wrong,) = told(f"{CREASED}  {line}\n")
    edits = [hint.edit.text for hint in wrong.hints if hint.edit is not None]
    assert not any(
        word in text.split()
        for text in edits
        for word in ("flap", "flaps", "both", "edges", "90")
        if not text.startswith("raise")
    )


def test_the_way_behind_is_that_of_the_line_itself() -> None:
    (wrong,) = told(f"{SQUARE}step\n  fold in half\n")
    assert "or mountain, which folds behind: 'mountain bottom edge onto top edge'" in [
        hint.text for hint in wrong.hints
    ]
    (four,) = told(f"{SQUARE}step\n  fold the four corners to the middle\n")
    assert not any("mountain" in hint.text for hint in four.hints)


def test_what_faces_up_is_asked_where_inside_does_not_tell() -> None:
    (wrong,) = told("sheet square 15 cm, colour inside\nstep\n  valley A to C\n")
    assert [hint.text for hint in wrong.hints] == [
        "say 'sheet square 15 cm, coloured side up'",
        "or say 'sheet square 15 cm, coloured side down'",
    ]


def test_a_covered_corner_leads_to_the_paper_over_it() -> None:
    before = f"{SQUARE}step\n  valley A to C\nstep\n"
    (wrong,) = told(f"{before}  valley C to centre\n")
    over = wrong.hints[0]
    assert over.text == "say 'top layer at C': there lies A on top of C"
    assert over.edit is not None
    assert told(over.edit.applied(f"{before}  valley C to centre\n")) == []
