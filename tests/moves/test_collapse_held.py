"""Collapse: which part of the paper stays, and what a point that is held tells of it."""

from __future__ import annotations

import pytest

from ..scripts import folded, lies, refused
from .test_collapse import CROSS, HEXAGON, HEXAGON_LINES, SIX


def test_which_part_stays_is_asked_where_the_words_do_not_tell() -> None:
    """One valley down the middle: either half could stay. With a point of one of them it does."""
    found = refused(CROSS, "collapse valley v")
    assert found.code == "which-stays"
    assert found.hints == (
        "say 'collapse valley v holding A'",
        "or say 'collapse valley v holding B'",
    )
    assert lies(folded(CROSS, "collapse valley v, holding A"), "B") == (0, 0)
    assert lies(folded(CROSS, "collapse valley v, holding B"), "A") == (100, 0)


def test_a_held_point_on_a_line_that_folds() -> None:
    found = refused(CROSS, "mark M at midpoint of A B", "collapse valley v, holding M")
    assert found.code == "which-stays"
    assert "lies on a line that folds" in found.message


@pytest.mark.parametrize(("held", "told"), [("A", True), ("K", False)])
def test_a_point_held_on_a_line_that_folds_is_told(held: str, told: bool) -> None:
    """Corner A is an end of the first diagonal; K lies a third of the way to the next corner."""
    said = SIX.replace("d1 and d2 and d3", "d1 and d2").replace("holding A", f"holding {held}")
    model = folded(HEXAGON_LINES, "mark K at 1/3 of A B", said, sheet=HEXAGON)
    assert [w.code for w in model.warnings] == ["held-on-a-fold"] * told
