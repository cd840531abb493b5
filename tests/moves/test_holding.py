"""More moves than was named: refused with what holds the flap, or told."""

from __future__ import annotations

import pytest

from foldscript.folding.steps import Model

from ..scripts import captions, covered, folded, lies, outcome, refused, spot, told_of

#: Doors on A4 landscape, their left corners folded in with the layer behind, to 50 mm from the corner.
DOORS = (
    "crease left edge onto right edge as v",
    "valley left edge onto v; valley right edge onto v",
    "mark P at 50 mm from top left corner on the top edge; "
    "mark Q at 50 mm from top left corner on the left edge; "
    "valley through P Q, moving top left corner",
)
A4 = "sheet A4 landscape\n"


def collar(away: float, more: str = "") -> str:
    """The edge of the left door folded back, along a line so many millimetres left of the middle."""
    return f"valley D along line {away:g} mm from v, near P{more}"


def test_what_holds_a_flap_is_told_and_how_far_it_reaches() -> None:
    """The corner's fold ends 74.25 - 50 = 24.25 mm from the middle, 0.75 mm beyond the line (derived)."""
    told = refused(*DOORS, collar(25), sheet=A4)
    assert told.code == "held"
    assert told.message.startswith("the flap with corner D cannot move alone")
    assert "mm from corner C, which reaches 0.8 mm beyond the fold line" in told.message
    assert told.hints[0].startswith("put the fold line 0.8 mm nearer to corner D")


def test_the_hints_fold() -> None:
    """The line moved as told, the door's edge alone goes over; with all layers, the whole side does.

    The line then passes the end of the corner's fold, at 24.25 mm, by 0.05 mm, and is folded through it.
    """
    alone = folded(*DOORS, collar(24.2), sheet=A4)
    assert lies(alone, "D") == pytest.approx((148.5 - 48.5, 210))
    assert spot(alone, 120, 100) == pytest.approx((120, 100))
    whole = folded(*DOORS, collar(25, ", all layers"), sheet=A4)
    assert spot(whole, 140, 100) == pytest.approx((148.5 - 50 + 8.5, 100))


def test_of_several_lines_the_one_meant_is_refused() -> None:
    """Not the other line 25 mm from the middle instead, which would carry the whole model over."""
    assert outcome(*DOORS, "valley D along line 25 mm from v, near D", sheet=A4) == "held"


def test_a_number_of_layers_carries_no_other_paper() -> None:
    """The door's edge alone cannot go down: the folded corners hold it to the body."""
    told = refused(*BOX, f"{DOWN}, 1 layer", sheet=PORTRAIT)
    assert told.code == "held"
    assert "cannot move alone" in told.message
    assert outcome(*BOX, f"{DOWN}, all layers", sheet=PORTRAIT) == ""


#: Doors above and below on A4 portrait, all corners folded in to the creases at the quarters.
BOX = (
    "crease left edge onto right edge as v; crease left edge onto v as l",
    "crease bottom edge onto top edge as h; valley bottom edge onto h; valley top edge onto h",
    "mark P where l meets bottom edge; valley line bottom left corner P onto l, all layers",
)
PORTRAIT = "sheet A4 portrait\n"
DOWN = "valley midpoint of edge A B to midpoint of bottom edge"


def remarks(model: Model) -> list[str]:
    """Codes of what the script's author is told."""
    return [remark.code for remark in model.warnings]


def test_a_number_of_layers_is_kept_or_refused() -> None:
    """Both layers of a book hang together at its fold: one cannot go over that alone."""
    book = "valley left edge onto right edge"
    told = refused(book, "valley A to midpoint of A D, 1 layer")
    assert told.code == "more-layers"
    assert told.message.startswith(
        "1 layer does not move alone: all that lie there hang together on the side that moves, by the fold"
    )
    assert told.hints[0] == "say 'valley A to midpoint of A D, all layers'"
    model = folded(book, "valley A to midpoint of A D, 2 layers")
    assert remarks(model) == []
    assert captions(model)[-1].endswith(", all layers together.")
    assert outcome(book, "valley A to midpoint of A D") == ""


def test_a_crease_through_a_number_of_layers_is_kept_or_refused() -> None:
    book = "valley left edge onto right edge"
    assert outcome(book, "crease A to midpoint of A D, 1 layer") == "more-layers"


def test_folds_that_take_along_what_hangs_on_the_flap_are_quiet() -> None:
    """A corner folded in before goes over with the flap that it lies on."""
    model = folded("mark M at centre; valley A to M", "valley left edge onto right edge")
    assert remarks(model) == []
    assert covered(model) == pytest.approx(1 / 2)


@pytest.mark.parametrize(
    ("base", "said", "told"),
    [
        ("preliminary", "valley midpoint of the top left edge to bottom corner", True),
        ("preliminary", "valley midpoint of the top left edge to bottom corner, all layers", False),
        ("waterbomb", "valley midpoint of the left edge to right corner", True),
        ("waterbomb", "valley midpoint of the left edge to midpoint of the right edge", False),
    ],
)
def test_layers_that_go_along_under_the_flap_are_told(base: str, said: str, told: bool) -> None:
    """All four flaps fold where a point of the front one was named; and the front one alone."""
    (found,) = told_of(f"start from {base} base\nstep\n  {said}\n") or (None,)
    assert (found is not None and found.code == "more-moves") is told
