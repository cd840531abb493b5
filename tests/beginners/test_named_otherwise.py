"""Lines that name the wrong point, crease or unit: the first hint names the one that was meant.

The scripts were made up for this list, with what was meant beside them (common practice of teachers).
"""

from __future__ import annotations

import pytest

from ..following import first_change
from .test_own_words import DIAMOND, PRELIMINARY, SQUARE, told

D = f"{SQUARE}  crease A to C as d\nstep\n"
#: Two doors that overlap: the one with B lies over the one with A.
DOORS = f"{SQUARE}  valley A to 2/3 of edge A B\n  valley B to 1/3 of edge A B\nstep\n"
TIP = f"{PRELIMINARY}  mark T at the bottom corner\n"
CREASES = (
    "sheet square 15 cm, coloured side up, corner A at the bottom\nstep\n  crease A to C as d1\n"
    "  crease B to D as d2\n  turn over\n  crease edge A B onto edge C D, as h\nstep\n"
)
UNITS = (
    "sheets 2\nsheet square 9 cm, coloured side down\nstep\n  mark P at 2/3 of A D\n"
    "  mark Q at 2/3 of B C\n  valley along line P Q, moving D\nassemble\nstep\n"
)
COLLAPSE = "collapse mountain d2, valley h, valley v, holding A"

#: What stands before a line, the line, and what the first hint writes, wherever it writes it.
MEANT = (
    (D, "valley along d, moving B", "crease through A C as d"),
    (TIP, "open sink T to 1/3 of line T O", "open sink O to 1/3 of line O T"),
    (TIP, "closed sink T to 1/3 of line T O", "closed sink O to 1/3 of line O T"),
    (CREASES, COLLAPSE, f"crease edge B C onto edge D A, as v\n  {COLLAPSE}"),
    (DOORS, "valley A to bottom left corner", "valley B to A"),
    (DOORS, "valley A to bottom right corner", "valley B to bottom right corner"),
    (
        f"{DIAMOND}  crease B to D\nstep\n",
        "rabbit ear B between A and D to D",
        "rabbit ear B between A and C to C",
    ),
    (
        UNITS,
        "place unit 3, A of unit 3 to Q of unit 1 and B of unit 3 to P of unit 1, under D of unit 1",
        "place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, under D of unit 1",
    ),
    (
        f"{SQUARE}  valley bottom edge onto 5 cm short of the top edge\nstep\n"
        "  valley A to 1/3 of the bottom edge\nstep\n",
        "repeat step 2 behind",
        "repeat step 2 on the other side",
    ),
)


@pytest.mark.parametrize(("before", "line", "said"), MEANT, ids=[line for _, line, _ in MEANT])
def test_the_first_change_names_what_was_meant(before: str, line: str, said: str) -> None:
    assert first_change(f"{before}  {line}\n", told).text == said


@pytest.mark.parametrize(
    ("before", "line", "never"),
    [
        (TIP, "open sink T to 1/3 of line T O", "inside reverse"),
        (CREASES, COLLAPSE, "say of each crease"),
        (CREASES, "collapse mountain d2, valley h, valley w2 and x2", "say of each crease"),
        (f"{DIAMOND}  crease B to D\nstep\n", "rabbit ear B between A and D to D", "whole flap"),
        (UNITS, "place unit 3, A of unit 3 to Q of unit 1", "sheets 6"),
    ],
)
def test_no_hint_leads_away(before: str, line: str, never: str) -> None:
    (found,) = told(f"{before}  {line}\n")
    assert not any(never in hint.text for hint in found.hints)


def test_a_side_named_for_another_line_says_which_line_is_folded() -> None:
    (found,) = told(f"{D}  valley along d, moving B\n")
    assert [hint.text for hint in found.hints[1:]] == [
        "or, to fold along the line through B and D, say 'C'",
        "or, to fold along the line through B and D, say 'A'",
    ]


def test_all_units_placed_leaves_more_sheets() -> None:
    both = "  place unit 2, A of unit 2 to Q of unit 1 and B of unit 2 to P of unit 1, under D of unit 1\n"
    (found,) = told(f"{UNITS}{both}{both.replace('unit 2', 'unit 3')}")
    assert [hint.text for hint in found.hints] == [
        "fold so many: 'sheets 3' says it in the lines at the top"
    ]


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        (
            "  crease through A C as d\n  crease through B D as e\n  valley d onto e\n",
            "2 lines fit",
            "moving A second",
        ),
        ("  mark C at the centre\n  valley A to C\n", "of a corner of the sheet", "further down"),
        ("  mark M at the centre\n  mark M at midpoint of A B\n", "of a point", "'M2', here and"),
    ],
)
def test_all_that_is_left_open_is_told(text: str, message: str, hint: str) -> None:
    (found,) = told(SQUARE + text)
    assert message in found.message
    assert any(hint in one.text for one in found.hints)


def test_an_unknown_name_that_several_creases_could_have_is_not_guessed() -> None:
    (found,) = told(f"{SQUARE}  valley along k, moving A\n")
    assert not any("crease edge" in hint.text for hint in found.hints)


def test_no_word_is_asked_for_that_the_move_refuses() -> None:
    (found,) = told(f"{SQUARE}  valley left edge onto right edge\nstep\n  unfold all\n")
    assert found.message == "'all' does not fit here"
    assert [hint.edit.text for hint in found.hints if hint.edit] == ["unfold to step 0"]
    (found,) = told(f"{SQUARE}  valley left edge onto right edge\nstep\n  valley A to D, all\n")
    assert found.message.endswith("after 'all' 'layers' should follow")
