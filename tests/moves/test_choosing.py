"""Which of several folds that fit is meant, and how they are told apart."""

from __future__ import annotations

import pytest

from ..scripts import folded, lies, refused


def test_folds_that_land_equally_far_away_are_told_apart_by_their_side() -> None:
    """The corner of a long strip comes to the middle line above the strip or below it."""
    found = refused(
        "crease left edge onto right edge as v; mark O at midpoint of top edge",
        "valley top left corner onto v, through O",
        sheet="sheet rectangle 58 cm by 9 cm\n",
    )
    assert found.code == "several-folds"
    assert "lands 290 mm from point O, below the other" in found.message
    assert "lands 290 mm from point O, above the other" in found.message
    assert len({hint for hint in found.hints if hint.startswith("add '")}) == 2


def test_beyond_the_end_of_a_crease_the_landing_by_far_nearest_to_it_is_meant() -> None:
    """The corner of a newspaper's fold comes to the middle: below the top edge, as hands do it, not above."""
    model = folded(
        "crease left edge onto right edge as v; mark O at midpoint of top edge",
        "valley top left corner onto v, through O, all layers",
        sheet="sheet rectangle 200 mm by 60 mm\n",
    )
    assert lies(model, "D") == pytest.approx((100, 60 - 100))  # under O by half the width


def test_a_point_that_the_fold_runs_through_may_be_said_with_an_edge() -> None:
    words = "valley top edge onto v, through O, moving top right corner"
    before = "crease left edge onto right edge as v; mark O at midpoint of top edge"
    plain = folded(before, words.replace(" through O,", ""))
    assert folded(before, words).finished.placed == plain.finished.placed
    found = refused(before, words.replace("through O", "through A"))
    assert found.code == "cannot-reach"
    assert "runs through corner A" in found.message


def test_a_point_on_the_line_is_answered_with_points_beside_it() -> None:
    found = refused("valley A to C as k", "unfold", "valley along k, moving B")
    assert found.code == "on-the-line"
    assert {"say 'A'", "say 'C'"} <= set(found.hints)


@pytest.mark.parametrize("edge", ["top", "bottom"])
def test_ends_of_an_edge_that_come_to_one_point_choose_nothing(edge: str) -> None:
    """On a square blintzed twice all corners lie at the centre, and either end of an edge lands there."""
    steps = (
        "mark O at centre; valley A to O; valley B to O; valley C to O; valley D to O",
        "turn over",
        "valley bottom corner to centre; valley right corner to centre",
        "valley top corner to centre; valley left corner to centre",
        "turn over",
    )
    found = refused(*steps, f"crease {edge} edge onto vertical centre line, near B")
    assert found.code == "several-folds"
    assert "are as near to corner B" in found.message


def test_the_tip_is_offered_before_the_rest() -> None:
    before = "mark P at 1/3 of A {0}; mark Q at 1/3 of A {1}"
    for ends in ("BD", "DB"):
        found = refused(before.format(*ends), "valley through P and Q")
        assert found.code == "which-side"
        assert found.hints[0] == "add 'moving A'"
    found = refused("mark P at 1/3 of C B; mark Q at 1/3 of C D", "valley through P and Q")
    assert found.hints[0] == "add 'moving C'"
