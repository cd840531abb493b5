"""The first change that a hint makes to a beginner's script is the one that was meant, wherever it stands.

The scripts were made up for this list, with what was meant beside them (common practice of teachers).
"""

from __future__ import annotations

import pytest

from ..following import first_change
from .test_own_words import told

KITE = "sheet square 15 cm, corner A at the bottom"
SQUARE = "sheet square 15 cm"


@pytest.mark.parametrize(
    ("lines", "wanted"),
    [
        (  # a corner onto a line, and not about which point
            (
                KITE,
                "step",
                "  crease left corner to right corner as middle",
                "  valley left corner onto middle",
            ),
            "valley left corner onto middle, through bottom corner",
        ),
        (  # the angle counted from the other edge
            (SQUARE, "step", "  crease along line through A at 30 degrees to edge A D, as slope"),
            "crease along line through A at 30 degrees to edge A B, as slope",
        ),
        (  # the crease that was meant runs the other way
            (
                SQUARE,
                "step",
                "  crease A to C as d",
                "  valley bottom edge onto d, through A",
            ),
            "crease through A C as d",
        ),
        (  # a line that was never folded, in a heap
            (
                SQUARE,
                "step",
                "  valley left edge onto right edge",
                "  mark P at 3 cm from bottom left corner on the bottom edge",
                "  mark Q at 3 cm from top left corner on the top edge",
                "step",
                "  raise along line P Q",
            ),
            "valley along line P Q, 1 layer, moving A, as k",
        ),
        (
            (
                SQUARE,
                "step",
                "  crease along line 4 cm from the top edge as k",
                "  crease along line 4 cm from the bottom edge as m",
                "step",
                "  raise along k to 60 degrees, along k to 120 degrees",
            ),
            "raise along k to 60 degrees, along m to 120 degrees",
        ),
        (
            (
                SQUARE,
                "step",
                "  crease along line 4 cm from the top edge as k",
                "step",
                "  raise along k to 270 degrees",
            ),
            "90 degrees",
        ),
        (
            (
                SQUARE,
                "step",
                "  mark M at midpoint of B C",
                "  mark M at midpoint of C D",
                "step",
                "  valley through M N, moving C",
            ),
            "N",
        ),
        (
            (
                "sheet A4 portrait",
                "step",
                "  valley edge A B onto edge A D as slope",
                "  mark S where slope meets right edge",
                "  cut from B to S, discarding A",
                "step",
                "  unfold",
                "step",
                "  valley A to top right corner",
            ),
            "keeping A",
        ),
        (
            (
                KITE,
                "step",
                "  crease left corner to right corner as middle",
                "  mark O at the centre",
                "  valley bottom left edge onto O",
            ),
            "valley bottom left edge onto middle",
        ),
        (
            (SQUARE, "step", "  crease B to D", "  rabbit ear B between A and D to C"),
            "rabbit ear B between A and C to C",
        ),
        (
            ("sheet strip 30 cm by 10 cm", "step", "  pleat in 8 parts, moving the right edge"),
            "pleat into 8 parts, moving right edge",
        ),
        (
            (SQUARE, "step", "  valley bottom edge onto top edge and open"),
            "crease bottom edge onto top edge",
        ),
        (
            (SQUARE, "step", "  valley A to C", "  valley top right corner to centre, 3 layers"),
            "all layers",
        ),
        (
            (
                SQUARE,
                "step",
                "  valley left edge onto right edge",
                "step",
                "  valley along line 3 cm from the left edge, 1 layer, moving A",
                "step",
                "  turn over",
                "step",
                "  repeat steps 2 to 3 on the other side",
            ),
            "repeat step 2",
        ),
        (
            (
                "start from preliminary base",
                "step",
                "  rotate half turn",
                "  crease O to the centre, all layers",
                "step",
                "  flatten A",
            ),
            "O",
        ),
        (
            (SQUARE, "step", "  book fold left edge onto right edge"),
            "valley left edge onto right edge",
        ),
        (
            (
                "sheet A4 portrait",
                "step",
                "  crease left edge onto right edge as middle",
                'step 2 "Fold the top corners to the crease."',
                "  valley line C midpoint of top edge onto middle",
            ),
            'step "Fold the top corners to the crease."',
        ),
    ],
)
def test_the_first_change_is_the_one_that_was_meant(lines: tuple[str, ...], wanted: str) -> None:
    edit = first_change("\n".join(('model "Test"', *lines, "")), told)
    assert edit.text.splitlines()[0].strip() == wanted


@pytest.mark.parametrize(
    ("lines", "first"),
    [
        (
            (
                KITE,
                "step",
                "  mark P at 1/3 of A B",
                "  mark Q at 1/3 of A C",
                "  inside reverse A through P Q",
            ),
            "nothing is folded yet: fold the paper in half first, through the tip",
        ),
        (
            (
                SQUARE,
                "step",
                "  mark P at 1/3 of A B",
                "  mark Q at 2/3 of A D",
                "  tuck A through P Q, inside",
            ),
            "nothing is folded yet: fold first what it goes between",
        ),
        (
            (
                KITE,
                "step",
                "  valley left corner to right corner",
                "  mark P at 1/3 of A B",
                "  mark Q at 2/3 of A B",
                "  inside reverse A through P Q",
            ),
            "the line runs along an edge of that flap, not across it: take a point on each of two edges "
            "that meet at corner A",
        ),
        (
            (
                KITE,
                "step",
                "  valley left corner to right corner",
                "  mark P at 1/4 of A B",
                "  mark Q at 2/3 of A C",
                "  outside reverse A through P Q",
            ),
            "for an outside reverse let the line lean the other way: the tip has to go past the folded edge "
            "of the flap",
        ),
        (
            (
                KITE,
                "step",
                "  valley C to A",
                "step",
                "  valley left corner to midpoint of A D",
                "step",
                "  valley right corner to midpoint of B D",
                "step",
                "  repeat step 2 on the other side",
            ),
            "repeat before step 3: put this line into a step above that one",
        ),
    ],
)
def test_what_is_missing_is_told_first(lines: tuple[str, ...], first: str) -> None:
    (found,) = told("\n".join(('model "Test"', *lines, "")))
    assert found.hints[0].text == first


def test_the_tip_at_the_other_end_is_offered_where_an_edge_lies() -> None:
    lines = (KITE, "step", "  valley C to A", "step", "  valley left corner to top corner")
    (found,) = told("\n".join(('model "Test"', *lines, "")))
    edits = [hint.edit.text for hint in found.hints if hint.edit is not None]
    assert "bottom corner" in edits


def test_a_name_that_is_no_name_is_told_once() -> None:
    lines = (
        SQUARE,
        "step",
        "  crease left edge onto right edge as first",
        "  valley left edge onto first",
    )
    (found,) = told("\n".join(('model "Test"', *lines, "")))
    assert found.code == "reserved-name"


def test_two_ends_of_one_flap() -> None:
    lines = (
        SQUARE,
        "step",
        "  valley left edge onto right edge",
        "  valley along line 3 cm from the left edge, 1 layer, moving A, as k",
        "step",
        "  raise along k to 60 degrees until level",
    )
    text = "\n".join(('model "Test"', *lines, ""))
    (found,) = told(text)
    assert found.code == "two-ends"
    edits = [hint.edit for hint in found.hints if hint.edit is not None]
    assert edits[0].applied(text) == text.replace(" until level", "")
