"""Lines whose words stand in another order, and what their first hint writes; what it writes folds there.

The lines were made up for this list, after other languages' word order (common practice).
"""

from __future__ import annotations

import pytest

from ..following import first_change
from .test_beginners import told

SQUARE = "sheet square 15 cm\nstep\n"
HALF = "sheet square 15 cm, corner A at the bottom\nstep\n  valley A to C\nstep\n"
ONE = f"{SQUARE}  valley A to centre\nstep\n"

#: What stands before a line, the line, and the lines that the first hint writes in its place.
LINES = {
    "verb-last": (SQUARE, "fold A to C valley", "valley A to C"),
    "verb-last-edges": (
        SQUARE,
        "bottom edge to top edge valley",
        "valley bottom edge onto top edge",
    ),
    "as-a-fold": (
        SQUARE,
        "bottom edge to the top edge as a mountain fold",
        "mountain bottom edge onto top edge",
    ),
    "verb-in-the-middle": (SQUARE, "A valley to C", "valley A to C"),
    "crease-in-the-middle": (
        SQUARE,
        "the top edge crease onto the bottom edge",
        "crease top edge onto bottom edge",
    ),
    "place-before-thing": (SQUARE, "valley to C A", "valley A to C"),
    "place-first": (SQUARE, "to the centre valley A", "valley A to centre"),
    "place-first-edges": (
        SQUARE,
        "onto the top edge fold the bottom edge",
        "valley bottom edge onto top edge",
    ),
    "line-first": (SQUARE, "along line A C crease", "crease along line A C"),
    "moving-first": (
        HALF,
        "moving left corner valley along line C midpoint of the bottom edge",
        "valley along line C midpoint of bottom edge, moving left corner",
    ),
    "layers-first": (
        HALF,
        "all layers valley left corner to right corner",
        "valley left corner to right corner, all layers",
    ),
    "layers-first-verb-last": (
        HALF,
        "1 layer top corner to midpoint of bottom edge valley",
        "valley top corner to midpoint of bottom edge, 1 layer",
    ),
    "layers-of": (
        HALF,
        "valley 1 layer of top corner to midpoint of the bottom edge",
        "valley top corner to midpoint of bottom edge, 1 layer",
    ),
    "name-second": (SQUARE, "crease k along A C", "crease along line A C, as k"),
    "name-first": (SQUARE, "as k crease A to C", "crease A to C, as k"),
    "mark-last": (SQUARE, "at midpoint of A B mark M", "mark M at midpoint of A B"),
    "mark-is": (SQUARE, "midpoint of A B is M", "mark M at midpoint of A B"),
    "measured-to-a-corner": (
        SQUARE,
        "mark F at 3 cm from B to C",
        "mark F at 3 cm from B on edge B C",
    ),
    "measured-across": (
        SQUARE,
        "mark F 3 cm from B towards D",
        "mark F at 3 cm from B on line B D",
    ),
    "from-first": (SQUARE, "mark F from B 3 cm towards C", "mark F at 3 cm from B on edge B C"),
    "two-things": (
        SQUARE,
        "valley A, B to the centre",
        "valley A to centre|valley B to centre",
    ),
    "over-turn": (SQUARE, "over turn", "turn over"),
    "clockwise-first": (SQUARE, "clockwise rotate 90 degrees", "rotate 90 degrees clockwise"),
    "repeat-place-first": (
        ONE,
        "on the other side repeat step 1",
        "repeat step 1 on the other side",
    ),
    "repeat-place-second": (
        ONE,
        "repeat on the other side step 1",
        "repeat step 1 on the other side",
    ),
}


@pytest.mark.parametrize("name", LINES)
def test_the_first_hint_puts_the_words_in_order(name: str) -> None:
    before, line, wanted = LINES[name]
    edit = first_change(f"{before}  {line}\n", told)
    assert [one.strip() for one in edit.text.split("\n")] == wanted.split("|")


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("paper square 15", "sheet square 15 cm"),
        ("15 cm square sheet", "sheet square 15 cm"),
        ("coloured side up sheet square 15 cm", "sheet square 15 cm, coloured side up"),
        ("traditional credit", "credit traditional"),
        ('"Cup" model', 'model "Cup"'),
    ],
)
def test_a_line_of_the_head(line: str, wanted: str) -> None:
    assert first_change(f"{line}\nstep\n  valley A to C\n", told).text == wanted


def test_a_step_done_again_is_no_caption() -> None:
    found = [one for one in told(f"{ONE}  step 1 repeat on the right\n") if one.hints]
    assert [hint.text for hint in found[-1].hints] == ["say 'repeat step 1 on the right'"]
