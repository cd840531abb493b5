"""Lines that lack a word or say only half of it: what the first hint says folds what was meant."""

from __future__ import annotations

import pytest

from .test_beginners import followed, told

SQUARE = "sheet square 15 cm\nstep\n"
FOLDED = f"{SQUARE}  valley A to centre\nstep\n"
STEP = "step\n  valley A to C\n"

#: What stands before a line, the line, what comes in its place.
LINES = {
    "onto": (SQUARE, "valley bottom edge top edge", "valley bottom edge onto top edge"),
    "to": (SQUARE, "valley top left corner corner B", "valley top left corner to corner B"),
    "unit": (SQUARE, "mark P at 3 from A on edge A B", "mark P at 3 cm from A on edge A B"),
    "part-from-an-end": (SQUARE, "valley A to 1/3 from B", "valley A to 1/3 of B A"),
    "part-of-the-way": (SQUARE, "valley A 1/3 to C", "valley A to 1/3 of A C"),
    "step": (FOLDED, "repeat 1 on B", "repeat step 1 on B"),
    "name": (SQUARE, "valley A to C as", "valley A to C as k"),
    "which-side": (
        SQUARE,
        "valley line 2cm from left edge",
        "valley along line 2 cm from left edge, moving left edge",
    ),
    "which-middle": (
        SQUARE,
        "valley bottom edge onto middle",
        "valley bottom edge onto horizontal centre line",
    ),
    "midpoint": (
        SQUARE,
        "valley through midpoint A B and midpoint C D",
        "valley through midpoint of A B and midpoint of C D",
    ),
}


@pytest.mark.parametrize(("before", "line", "said"), LINES.values(), ids=LINES)
def test_what_is_left_out_is_put_in(before: str, line: str, said: str) -> None:
    text = f"{before}  {line}\n"
    (wrong, *_) = told(text)
    assert wrong.hints[0].edit is not None
    assert wrong.hints[0].edit.applied(text) == f"{before}  {said}\n"
    assert followed(text)[1] == []


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            "sheet square 15 cm colored side up corner A bottom",
            "sheet square 15 cm, coloured side up, corner A at the bottom",
        ),
        (
            "sheet square 15 cm, white side facing up with edge B C at the bottom",
            "sheet square 15 cm, white side up, edge B C at the bottom",
        ),
        ("sheets six", "sheets 6"),
        ("six sheets of paper", "sheets 6"),
    ],
)
def test_nothing_said_of_the_sheet_is_dropped(line: str, said: str) -> None:
    (wrong, *_) = told(f"{line}\n{STEP}")
    assert wrong.hints[0].edit is not None
    assert wrong.hints[0].edit.applied(f"{line}\n{STEP}") == f"{said}\n{STEP}"
    assert followed(f"{line}\n{STEP}")[1] == []


def test_a_corner_that_lies_there_is_told_since_when_and_others_are_named() -> None:
    text = f"{FOLDED}  turn over\nstep\n  valley A to centre\n"
    (wrong,) = told(text)
    assert wrong.hints[0].text.startswith("step 1 has brought it there")
    others = [hint.edit for hint in wrong.hints if hint.edit is not None]
    assert [one.text for one in others] == [f"valley {c} to centre" for c in "BCD"]
    assert all(told(one.applied(text)) == [] for one in others)


def test_a_diagonal_is_no_edge() -> None:
    (wrong,) = told(f"{SQUARE}  valley edge A C onto edge B D\n")
    assert "'edge A D' and 'edge A B'" in wrong.hints[0].text
    assert told(f"{SQUARE}  valley edge A D onto edge B C\n") == []


def test_a_place_in_something_is_a_pocket_or_under_it() -> None:
    (wrong,) = told(f"{SQUARE}  tuck A in B\n")
    assert [hint.text for hint in wrong.hints[:2]] == [
        "say 'tuck A, into the pocket at B'",
        "or say 'tuck A, under B'",
    ]


def test_a_message_of_wording_shows_how_the_move_is_said() -> None:
    (wrong,) = told(f"{SQUARE}  squash A to C\n")
    assert any("'squash line O M onto line O N'" in hint.text for hint in wrong.hints)
