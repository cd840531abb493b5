"""Fold lines that miss a corner by less than a hand sees: they are folded through it, and it is told."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldscript.folding.performing.proving import ClaimBroken, prove
from foldscript.folding.steps import Model
from foldscript.moves.planning.claims import Lands

from ..scripts import creases, folded, lies, refused

SHEET = "sheet square 150 mm\n"


def warned(model: Model) -> list[str]:
    return [f"{d.code}: {d.message}" for d in model.warnings]


@pytest.mark.parametrize(("a", "b", "c", "d"), ["ABCD", "BCDA", "CDAB", "DABC"])
def test_a_point_to_a_point_beside_two_corners(a: str, b: str, c: str, d: str) -> None:
    """0.7 thousandths of a diagonal of 212.13 mm are 0.148 mm; the line lies half of that beside b and d."""
    model = folded(f"mark Q at 9993/10000 of {a} {c}; valley {a} to Q", sheet=SHEET)
    flat = folded(f"valley {a} to {c}", sheet=SHEET)
    assert [lies(model, name) for name in "ABCD"] == [lies(flat, name) for name in "ABCD"]
    assert len(model.finished.facets) == 2
    (told,) = warned(model)
    assert told.startswith("made-to-meet")
    assert f"0.074 mm beside corner {min(b, d)}" in told or f"corner {max(b, d)}" in told


@settings(max_examples=25, deadline=None)
@given(st.integers(-470, 470).filter(lambda off: abs(off) > 1))
def test_through_a_corner_and_beside_another(off: int) -> None:
    """A line through A that passes C by less than 0.1 mm parts the sheet into two triangles."""
    at = f"{abs(off)}/1000000"
    way = f"mark P at {at} of C D" if off > 0 else f"mark P at {at} of C B"
    model = folded(f"{way}; valley through A P, moving D", sheet=SHEET)
    assert lies(model, "D") == lies(model, "B") == (150.0, 0.0)
    assert {len(f.outline) for f in model.finished.facets} == {3}


def test_a_point_that_the_line_runs_through_stays_on_it() -> None:
    """A corner alone fixes no direction: the line turns about the mark at its other end."""
    model = folded(
        "mark M at 1/3 of A B; mark P at 9996/10000 of D C; crease through M P", sheet=SHEET
    )
    assert creases(model) == [((50.0, 0.0), (150.0, 150.0))]
    assert warned(model)[0].startswith("made-to-meet")


def test_a_crease_between_two_points_beside_corners_ends_in_them() -> None:
    model = folded(
        "mark P at 1/3000 of A B; mark Q at 1/3000 of C D; crease from P to Q", sheet=SHEET
    )
    assert creases(model) == [((0.0, 0.0), (150.0, 150.0))]


def test_on_several_layers_the_line_meets_what_each_has_there() -> None:
    """Behind the first fold lies a corner that the front has not: C of the flap, at (150, 0) with B."""
    model = folded(
        "valley top edge onto bottom edge",
        "mark P at 1/3000 of B A; mark M at midpoint of A D; valley through M P, all layers, moving A",
        sheet=SHEET,
    )
    assert len(model.finished.facets) == 4
    assert sorted({lies(model, name) for name in "BC"}) == [(150.0, 0.0)]


def test_a_line_that_is_far_enough_away_stays() -> None:
    """0.3 mm of the edge from B: 0.21 mm beside it at 45 degrees."""
    model = folded("mark Q at 998/1000 of A C; valley A to Q", sheet=SHEET)
    assert not warned(model)
    assert len(model.finished.facets) == 2
    q = 150 * 0.998
    assert lies(model, "A") == pytest.approx((q, q))


def test_beside_an_edge_of_all_the_paper_there_is_nothing_to_fold() -> None:
    told = refused("valley along line 0.05 mm from the left edge, moving A", sheet=SHEET)
    assert told.code == "too-near"
    assert "0.05 mm beside an edge" in told.message


def test_a_line_that_would_turn_too_far_is_refused() -> None:
    """B and C lie 10 mm from each other on a strip: 0.09 mm there are 3.6 mm at its end, 200 mm away."""
    told = refused(
        "valley B to 200 mm from A on edge A B",
        "mark P at 200.09 mm from A on edge A B; valley through P C, moving A, all layers",
        sheet="sheet rectangle 300 mm by 10 mm\n",
    )
    assert told.code == "too-near"
    assert "0.09 mm beside" in told.message


def test_what_is_claimed_is_kept_within_the_hair() -> None:
    """The point lands at most 0.2 mm beside its place; what is claimed allows for that, and for no more."""
    model = folded("mark Q at 9993/10000 of A C; valley A to Q", sheet=SHEET)
    q = 150 * 0.9993
    assert 0.1 < math.dist(lies(model, "A"), (q, q)) < 0.2
    before = folded("mark O at centre", sheet=SHEET).finished
    at = (0.9993, 0.9993)
    prove("valley", before, model.finished, [Lands(((0.0, 0.0),), at, 0.2 / 150)])
    with pytest.raises(ClaimBroken):
        prove("valley", before, model.finished, [Lands(((0.0, 0.0),), at, 0.1 / 150)])
