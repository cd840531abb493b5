"""Pockets with a slit are opened and pressed flat: as rectangles, on every side, in front and behind."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import PointSign

from ..laws.images import IDENTITY, IMAGES, Image
from ..laws.outcomes import broken, unlike
from ..scripts import captions, covered, folded, lies, outcome, refused, spot

_MARKS = (
    "mark O at centre; mark E at midpoint of A B; mark F at midpoint of B C; "
    "mark G at midpoint of C D; mark H at midpoint of D A"
)
#: Three times all corners to the centre of a square of 100 mm, turned over each time: four small square
#: pockets in front, each with a slit from the centre to its outer corner, which is 25 mm away.
SQUARES = (
    _MARKS,
    "valley A to O; valley B to O; valley C to O; valley D to O",
    "turn over",
    "valley E to O; valley F to O; valley G to O; valley H to O",
    "turn over",
    "valley bottom left corner to O; valley bottom right corner to O; "
    "valley top right corner to O; valley top left corner to O",
    "turn over",
)
#: A blintzed square of 100 mm as a preliminary base, its slits outside: the tips H and F of the pockets in
#: front and behind at the top, with E and G between them, the closed point O at the bottom.
BLINTZED = (
    _MARKS,
    "valley A to O; valley B to O; valley C to O; valley D to O",
    "turn over",
    "valley bottom corner to top corner, all layers",
    "valley left corner to right corner, all layers",
    "squash line O F onto line O G",
    "turn over",
    "squash line O H onto line O G",
)


def test_a_square_pocket_becomes_a_rectangle_twice_as_wide_as_high() -> None:
    """The square's diagonal is 25 mm: the tip goes from the centre over the other diagonal to the outer
    corner, 25 mm to the left, and both places halfway along the slit's sides become corners there."""
    before = folded(*SQUARES)
    model = folded(*SQUARES, "open pocket at left corner")
    assert lies(model, "A") == lies(before, "A")
    (tip,) = (n for n in ((100, 50), (0, 50), (50, 0), (50, 100)) if spot(model, *n) != (50, 50))
    assert spot(model, *tip) == (25, 50)
    assert covered(before) == pytest.approx(2 * 25**2 / 100**2)
    # half the square (156.25 mm2) came from inside the outline, as much lies beyond it now
    assert covered(model) == pytest.approx((2 * 25**2 + 12.5**2) / 100**2)
    x, y = zip(*(p for ring in model.finished.outlines for p in ring), strict=True)
    assert min(x) * 100 == pytest.approx(25)
    left = sorted(q for p, q in zip(x, y, strict=True) if abs(p - 0.25) < 1e-9)
    assert [100 * q for q in left] == pytest.approx([37.5, 62.5])


#: Where the folds of the pocket with the tip F run, on the flat sheet: the sides of the pocket are folded
#: along E F and G F, and the last folds to the centre cross these in P and Q, a quarter of the way from F.
#: There the sides turn by 45 degrees, to M and N; their crossing folds end in R and S.
PLACES = (
    "mark P at 3/4 of E F; mark Q at 3/4 of G F; mark M at 3/8 of edge B C; mark N at 5/8 of edge B C; "
    "mark R at 1/4 of edge B C; mark S at 3/4 of edge B C"
)
ONE_BY_ONE = (
    "collapse valley line P Q, mountain line P M, mountain line Q N, "
    "opening line P F, line Q F, line P R, line Q S, holding O"
)


def test_it_is_the_same_as_all_its_folds_told_one_by_one() -> None:
    first, *rest = SQUARES
    named = folded(first, PLACES, *rest, "open pocket F").finished
    told = folded(first, PLACES, *rest, ONE_BY_ONE).finished
    assert unlike(named, told, IDENTITY, over=False) == ""


def test_a_fold_that_has_to_open_too_is_missed() -> None:
    first, *rest = SQUARES
    found = refused(first, PLACES, *rest, ONE_BY_ONE.replace(", line Q S", ""))
    assert found.code == "not-flat"


@pytest.mark.parametrize("corner", ["left", "right", "top", "bottom"])
def test_each_of_the_four_opens_alike(corner: str) -> None:
    model = folded(*SQUARES, f"open pocket at {corner} corner")
    assert covered(model) == pytest.approx((2 * 25**2 + 12.5**2) / 100**2)
    assert captions(model)[-1] == (
        f"Open the pocket at the {corner} corner: draw the two sides of its slit apart, "
        "bring its tip over to the other end of the slit, and press it flat as a rectangle."
    )


def test_all_four_open_one_after_the_other() -> None:
    """A square of 25 mm in the middle and four rectangles of 12.5 by 25 mm around it."""
    every = [f"open pocket at {way} corner" for way in ("left", "right", "top", "bottom")]
    assert covered(folded(*SQUARES, *every)) == pytest.approx((25**2 + 4 * 12.5 * 25) / 100**2)


def test_it_is_repeated_round_about() -> None:
    model = folded(*SQUARES, "open pocket at left corner", "repeat step 8, 3 times")
    assert covered(model) == pytest.approx((25**2 + 4 * 12.5 * 25) / 100**2)


def test_the_tip_names_its_pocket() -> None:
    by_tip = folded(*SQUARES, "open pocket F")
    assert spot(by_tip, 100, 50) in ((25, 50), (75, 50))
    assert all(spot(by_tip, *p) == (50, 50) for p in ((0, 50), (50, 0), (50, 100)))


#: As `SQUARES`, but two of the last folds run through the middle of an edge at another angle than 45 degrees:
#: the pocket at the right, with the tip H, is a kite.
KITE = (
    *SQUARES[:-2],
    "mark W at midpoint of left edge; mark X at 3/8 of bottom edge; mark Y at 3/8 of top edge; "
    "valley through W X, moving bottom left corner; valley through W Y, moving top left corner",
    "turn over",
)


def test_a_kite_becomes_another_shape() -> None:
    """The side of the pocket runs from (50, 50) at 45 degrees, the fold from (75, 50) three across and four
    down: they meet 100/7 mm on each way from the tip. The tip goes twice as far, beyond the outer corner."""
    model = folded(*KITE, "open pocket at right corner")
    assert captions(model)[-1].endswith("the other end of the slit, and press it flat.")
    assert spot(model, 0, 50) == pytest.approx((50 + 200 / 7, 50))


def test_tips_that_lie_together_are_asked_about() -> None:
    found = refused(*SQUARES, "open pocket at centre")
    assert found.code == "which-pocket"
    assert found.message.startswith("4 pockets have their slits")
    assert found.words == "centre"
    hint = next(h for h in found.hints if h.startswith("say "))
    assert outcome(*SQUARES, hint.removeprefix("say ")) == ""


def test_the_side_of_a_box_with_feet() -> None:
    """The tip comes from the top to the closed point, O, and the corners of the sheet there stay."""
    model = folded(*BLINTZED, "open pocket at bottom corner")
    assert spot(model, 0, 50) == spot(model, 50, 50)
    assert lies(model, "D") == lies(model, "A") == spot(model, 50, 50)


def test_it_is_repeated_behind() -> None:
    model = folded(*BLINTZED, "open pocket at bottom corner", "repeat step 9 behind")
    assert spot(model, 0, 50) == spot(model, 100, 50) == spot(model, 50, 50)
    assert spot(model, 50, 0) == spot(model, 50, 100) != spot(model, 50, 50)


def test_a_point_of_other_paper_is_refused_with_the_tip_that_is_meant() -> None:
    found = refused(*BLINTZED, "open pocket G")
    assert found.code == "no-pocket"
    assert "the pocket that is seen there has another tip: say open pocket H" in found.hints


def test_where_else_pockets_open_is_said() -> None:
    """All four squares open, each at the outer end of its slit, and a wrong place leads to them."""
    found = refused(*SQUARES, "open pocket at midpoint of the top left edge")
    assert found.code == "no-pocket"
    assert found.hints == (
        "there is one at the top corner: say 'open pocket at top corner'",
        "or at the left corner: say 'open pocket at left corner'",
        "or at the right corner: say 'open pocket at right corner'",
        "or at the bottom corner: say 'open pocket at bottom corner'",
    )


def test_pockets_behind_are_told() -> None:
    found = refused(*SQUARES, "turn over", "open pocket at top corner")
    assert found.hints == (
        "there is one behind: say 'turn over' first, then it opens at the top corner",
    )


def test_a_sheet_without_pockets() -> None:
    assert refused("open pocket at bottom left corner").code == "no-pocket"
    assert refused(*SQUARES, "open pocket").code == "open-what"


def test_a_pocket_whose_sides_end_at_the_fold_cannot_be_pressed_flat() -> None:
    """After one blintz and a turn, a corner folded in has a slit, and no fold crosses its sides."""
    found = refused(*SQUARES[:4], "open pocket E")
    assert found.code == "cannot-flatten"


@pytest.mark.parametrize("image", [i for i in IMAGES if not i.over], ids=lambda image: image.name)
@pytest.mark.parametrize("corner", ["left corner", "bottom corner", "centre"])
def test_an_image_opens_as_the_image(image: Image, corner: str) -> None:
    statements = [
        line.strip().replace("turn over", "turn over side to side")
        for step in (*SQUARES, f"open pocket at {corner}")
        for line in step.split(";")
    ]
    assert broken(statements, image) == ""


def test_its_slit_is_marked_from_the_tip_to_the_corner() -> None:
    """From the centre of the square, where the tip lies, to its outer corner 25 mm to the left."""
    signs = folded(*SQUARES, "open pocket at left corner").steps[-1].panels[-1].signs
    (slit,) = (s for s in signs if isinstance(s, PointSign) and s.kind == "slit")
    assert slit.opens is not None
    assert sorted(slit.opens) == [pytest.approx((0.25, 0.5)), pytest.approx((0.5, 0.5))]
    assert slit.at == pytest.approx((0.375, 0.5))
