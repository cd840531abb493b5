"""A mark that has gone along with the top layer and is used as if it were still there: told once."""

from __future__ import annotations

import pytest

from ..scripts import folded, refused

DIAMOND = "sheet square 100 mm, corner A at the bottom\n"
#: T lies on A, in front of C; then A is folded down again.
GONE = ("valley A to C", "mark T at top corner", "valley top corner to midpoint of B D, 1 layer")


@pytest.mark.parametrize("use", ["valley left corner to T", "crease through C and T"])
def test_where_it_was_and_where_it_is(use: str) -> None:
    model = folded(*GONE, use, sheet=DIAMOND)
    (warning,) = model.warnings
    assert warning.code == "mark-moved"
    assert "step 2 marked it on corner C, and it lies on corner A now, 71 mm" in warning.message
    assert len(warning.hints) == 2


def test_told_once() -> None:
    model = folded(*GONE, "valley left corner to T", "valley right corner to T", sheet=DIAMOND)
    assert len(model.warnings) == 1


@pytest.mark.parametrize(
    "steps",
    [
        (*GONE, "valley T to C"),  # the flap is named
        (*GONE, "unfold", "valley left corner to T"),  # back where it was
        (GONE[0], "mark T at A", GONE[2], "valley left corner to T"),  # the paper was named
        (GONE[0], "mark T at top layer at top corner", GONE[2], "valley left corner to T"),
        (GONE[0], "mark T at bottom layer at top corner", GONE[2], "valley left corner to T"),
        (
            GONE[0],
            GONE[1],
            "valley T to left corner, all layers",
            "valley B to T",
        ),  # all went along
        (GONE[0], GONE[1], "turn over", "rotate 45 degrees clockwise", "valley left corner to T"),
    ],
)
def test_quiet(steps: tuple[str, ...]) -> None:
    assert [w.code for w in folded(*steps, sheet=DIAMOND).warnings] == []


def test_a_refusal_tells_it_first() -> None:
    """T has gone along with the flap of D, so the line from it is no longer the middle line."""
    found = refused(
        "valley C to A",
        "valley left corner to bottom corner; valley right corner to bottom corner",
        "valley B to top corner; valley D to top corner",
        "mark M at the centre; mark T at top corner; mark P at 1/3 of the top right edge",
        "mark Q at 2/3 of the top left edge; valley B through M P; valley D through M Q",
        "valley C to 1/3 of line T M, 1 layer",
        sheet="sheet square 20 cm, corner A at the bottom\n",
    )
    assert found.code == "more-layers"
    assert found.hints[0].startswith("point T has gone along with the layer")
    assert "mark T2 at bottom layer" in found.hints[0]


PAIR = "mark F at midpoint of A B; mark G at midpoint of C D"


def test_a_way_that_an_earlier_fold_of_the_step_has_shortened() -> None:
    """From G to F it is 100 mm, and 75 once F has come a quarter of the way."""
    row = "valley F to 1/4 of line F G; valley G to 1/4 of line G F"
    (warning,) = folded(PAIR, row).warnings
    assert warning.code == "moved-in-a-row"
    assert "it is 75 mm now, and was 100 mm" in warning.message


@pytest.mark.parametrize(
    "steps",
    [
        ("valley F to 1/4 of line F G", "valley G to 1/4 of line G F"),  # a step each
        ("valley F to 1/4 of F G; valley G to 1/4 of G F",),  # measured on the sheet
        (
            "mark U at 1/4 of line F G; mark V at 1/4 of line G F",
            "valley F to U; valley G to V",
        ),
    ],
)
def test_measured_on_paper_that_has_stayed(steps: tuple[str, ...]) -> None:
    assert folded(PAIR, *steps).warnings == ()


def test_a_place_that_has_no_paper_left_is_told_where_something_is_to_come_to_it() -> None:
    steps = ("mark T at the bottom corner", "valley A to C")
    (told,) = folded(*steps, "valley left corner to T", sheet=DIAMOND).warnings
    assert told.code == "mark-moved"
    assert told.hints[0].text == (
        "if the place is meant where it was, no paper lies there now: name another"
    )
    assert not folded(
        *steps, "mark M at midpoint of B D", "crease through M T", sheet=DIAMOND
    ).warnings


def test_a_place_on_an_edge_that_the_step_has_shortened() -> None:
    corner = "valley top {} corner onto centre line, through midpoint of the top edge, all layers"
    row = "; ".join(
        ("valley top edge onto bottom edge", *(corner.format(s) for s in ("left", "right")))
    )
    (told,) = folded(row, sheet="sheet rectangle 12 cm by 16 cm\n").warnings
    assert told.code == "moved-in-a-row"
    assert "left the top edge shorter" in told.message
    assert "30 mm" in told.message  # a half of the half that the first corner has left of 12 cm
    marked = row.replace(
        "; valley top left", "; mark M at midpoint of the top edge; valley top left", 1
    )
    marked = marked.replace("through midpoint of the top edge", "through M")
    assert not folded(marked, sheet="sheet rectangle 12 cm by 16 cm\n").warnings


def test_a_place_that_is_marked_after_a_fold_of_the_step_is_meant_as_it_lies_then() -> None:
    row = (
        "valley left edge onto centre line; valley right edge onto centre line; "
        "mark F at midpoint of bottom edge"
    )
    assert not folded(row).warnings
