"""Pull out: a trapped layer to the front, a folded-in flap to the outside."""

from __future__ import annotations

import pytest

from foldscript.geometry.lines import Segment
from foldscript.paper.signs import Arrow
from foldscript.paper.symmetry import congruences

from ..scripts import captions, covered, folded, lies, refused, spot
from .test_tuck import BOOK, CORNER, DOORS, stack


def test_to_the_front() -> None:
    model = folded(DOORS, "pull out A")
    assert stack(model.finished, 50, 50) == ["AD", "BC", ""]
    (arrow,) = [s for s in model.steps[-1].panels[0].signs if isinstance(s, Arrow)]
    assert arrow.act == "pull-out"
    assert captions(model)[-1] == "Pull out the layer with corner A."


def test_over_a_named_layer() -> None:
    model = folded(DOORS, "pull out A over B")
    assert stack(model.finished, 50, 50) == ["AD", "BC", ""]
    assert captions(model)[-1] == (
        "Pull out the layer with corner A and lay it over the layer with corner B."
    )


def test_a_flap_of_two_layers_comes_along() -> None:
    """The left door is doubled first: both its layers come out from under the right one."""
    model = folded(
        "mark P at 2/5 of A B; mark Q at 1/3 of A B",
        "valley A to 2/3 of A B; valley A to Q",
        "valley B to P",
        "pull out A",
    )
    before, after = model.steps[-1].before, model.finished
    assert stack(before, 45, 50) == ["BC", "AD", "", ""]
    assert stack(after, 45, 50) == ["AD", "", "BC", ""]


#: Three corners of a square folded in, the first so that its tip lies under the two others.
PILE = (
    "mark S at midpoint of A B; mark E at midpoint of B C; mark N at midpoint of C D; mark W at 9/10 of A D",
    "valley through W S, moving A",
    "valley through S E, moving B",
    "valley through E N, moving C",
)


@pytest.mark.parametrize(
    ("words", "at_b", "at_c", "caption"),
    [
        ("", "AB", "AC", "Pull out the layer with corner A."),
        (
            " under C",
            "AB",
            "CA",
            "Pull out the layer with corner A, but leave it under the layer with corner C.",
        ),
        (
            " over B under C",
            "AB",
            "CA",
            "Pull out the layer with corner A, over the layer with corner B and under the layer with "
            "corner C.",
        ),
    ],
)
def test_under_a_named_layer(words: str, at_b: str, at_c: str, caption: str) -> None:
    """Flaps A and B lie over each other at (60, 40), A and C at (60, 51) (derived)."""
    before = folded(*PILE).finished
    assert stack(before, 60, 40) == ["B", "A", "D"]
    assert stack(before, 60, 51) == ["C", "A", "D"]
    model = folded(*PILE, f"pull out A{words}")
    assert "".join(stack(model.finished, 60, 40)) == f"{at_b}D"
    assert "".join(stack(model.finished, 60, 51)) == f"{at_c}D"
    assert captions(model)[-1] == caption


def test_a_tucked_corner_comes_out() -> None:
    """The corner lies where it lay before it was tucked; the crease stays."""
    model = folded(BOOK, CORNER, "tuck A through P Q, inside, as k", "pull out A along k")
    flat = folded(BOOK)
    assert lies(model, "A") == lies(flat, "A")
    assert covered(model) == pytest.approx(1 / 2)
    assert len(model.finished.creases) == 1


@pytest.mark.parametrize(
    ("steps", "code"),
    [
        ((DOORS, "pull out"), "pull-out-what"),
        ((DOORS, "pull out B"), "lies-in-front"),
        ((BOOK, "pull out C"), "cannot-pull-out"),
        ((BOOK, "pull out C over A"), "cannot-pull-out"),
        ((DOORS, "pull out A under B"), "cannot-pull-out"),
        (("valley A to 1/3 of A C; valley C to 1/2 of A C; pull out A over C",), "cannot-pull-out"),
        ((BOOK, CORNER, "pull out A through P Q"), "no-fold-there"),
    ],
)
def test_refusals(steps: tuple[str, ...], code: str) -> None:
    found = refused(*steps)
    assert found.code == code, found.message
    assert found.hints


def test_the_refusal_names_what_holds_it() -> None:
    found = refused(BOOK, "pull out C")
    assert "the layer with corner A" in found.message


def test_a_line_along_which_nothing_is_folded_leads_to_the_fold_that_opens() -> None:
    level = "crease top edge onto bottom edge as h"
    tucked = (BOOK, CORNER, "tuck A through P Q, inside, as k", level)
    found = refused(*tucked, "pull out A along h")
    assert found.code == "no-fold-there"
    assert found.hints == ("along 'k' it comes out",)
    assert lies(folded(*tucked, "pull out A along k"), "A") == lies(folded(BOOK), "A")


DOUBLE_BOAT = (
    "crease left edge onto right edge as v; crease bottom edge onto top edge as h; "
    "mark O where v meets h",
    "valley left edge onto v as l; valley right edge onto v as r",
    "valley bottom edge onto h, all layers as b",
)


def test_a_door_held_in_a_fold_does_not_swing_out() -> None:
    """Doors, then the bottom edge folded up over them: the door's lower end is held in that fold."""
    found = refused(*DOUBLE_BOAT, "pull out D along l")
    assert found.code == "layers-collide"
    assert "would have to pass through a fold" in found.message


def test_a_corner_between_two_folded_edges() -> None:
    """The corner swings out to the left, and the door that holds it is creased from there to the centre."""
    model = folded(*DOUBLE_BOAT, "pull out A along l")
    assert lies(model, "A") == (0, 50)
    assert lies(model, "B") == (50, 50)
    assert spot(model, 0, 25) == (25, 50)
    made = {j.segment for j in model.finished.joints if j.folded}
    for end in (
        (0.0, 0.0),
        (0.0, 0.5),
    ):  # from where the two edges meet to the corner, and on the door
        assert any(ends(seg) == ends(((0.25, 0.25), end)) for seg in made)
    (arrow,) = [s for s in model.steps[-1].panels[0].signs if isinstance(s, Arrow)]
    assert (arrow.act, arrow.tail, arrow.head) == (
        "pull-out",
        pytest.approx((0.5, 0.5)),
        pytest.approx((0, 0.5)),
    )
    assert captions(model)[-1] == "Pull out corner A along the left edge."


def test_four_corners_pulled_out_make_the_double_boat() -> None:
    """The same paper, layer by layer, as all its creases collapsed at once (common practice)."""
    model = folded(
        *DOUBLE_BOAT,
        "pull out A along l",
        "repeat step 4 on the other side",
        "valley top edge onto h, all layers",
        "pull out D along l",
        "pull out C along r",
    )
    at_once = folded(
        "crease left edge onto right edge as v; crease bottom edge onto top edge as h; "
        "crease bottom edge onto h as b; crease top edge onto h as t; "
        "crease left edge onto v as l; crease right edge onto v as r; "
        "mark P where l meets b; mark Q where r meets b; mark R where r meets t; mark S where l meets t; "
        "mark H at midpoint of A D; mark F at midpoint of B C; mark O where v meets h",
        "collapse valley line P Q, line Q R, line R S, line S P, valley line A P, line B Q, line C R, "
        "line D S, mountain line P H, line Q F, line R F, line S H, holding O",
    )
    assert any(s.is_identity for s in congruences(at_once.finished, model.finished))
    assert [lies(model, c) for c in "ABCD"] == [(0, 50), (100, 50), (100, 50), (0, 50)]


def ends(segment: Segment) -> set[tuple[float, float]]:
    """Both ends, in hundredths."""
    return {(round(100 * x), round(100 * y)) for x, y in segment}


#: The middle, and the middles of the edges, of a sheet that is blintzed.
BLINTZ = (
    "mark O at the centre; mark S at midpoint of A B; mark E at midpoint of B C; mark N at midpoint of C D; "
    "mark W at midpoint of D A"
)
CORNERS = "valley A to O; valley B to O; valley C to O; valley D to O"


def test_a_doubled_sheet_makes_the_double_boat_too() -> None:
    """Four corners folded behind to the centre first: the square is 50 sqrt(2) wide, its corners come to
    the middle of both sides, half that width away from the centre."""
    model = folded(
        "mark O at centre; mark E at midpoint of A B; mark F at midpoint of B C; "
        "mark G at midpoint of C D; mark H at midpoint of D A",
        "mountain A to O; mountain B to O; mountain C to O; mountain D to O",
        "rotate 45 degrees clockwise",
        "valley left edge onto centre line, all layers as u; "
        "valley right edge onto centre line, all layers as w",
        "valley bottom edge onto horizontal centre line, all layers",
        "pull out E along u; pull out F along w",
        "valley top edge onto horizontal centre line, all layers",
        "pull out H along u; pull out G along w",
    )
    half = 25 * 2**0.5
    assert spot(model, 50, 0) == spot(model, 0, 50) == pytest.approx((50 - half, 50))
    assert spot(model, 100, 50) == spot(model, 50, 100) == pytest.approx((50 + half, 50))
    assert all(lies(model, name) == (50, 50) for name in "ABCD")


def test_a_flap_that_would_take_the_model_along_does_not_come_out() -> None:
    """Blintzed three times: it is not the rest that moves, and the flap stays."""
    told = refused(
        BLINTZ,
        "mark X at 1/4 of W D; mark P at 1/4 of W N",
        CORNERS,
        "turn over",
        "valley bottom corner to centre; valley right corner to centre; valley top corner to centre; "
        "valley left corner to centre",
        "turn over",
        "valley bottom left corner to centre; valley bottom right corner to centre; "
        "valley top right corner to centre; valley top left corner to centre",
        "turn over",
        "pull out X along line P right corner",
    )
    assert told.code == "held"
    assert told.message.startswith("the flap with point X cannot move alone")


#: A kite narrowed once more and folded in half, as for the swan.
SWAN = (
    "crease B to D as middle; valley bottom left edge onto middle; valley bottom right edge onto middle",
    "turn over",
    "valley bottom left edge onto middle; valley bottom right edge onto middle",
    "mountain along middle, moving the right corner, all layers",
)
ON_CORNER = "sheet square 100 mm, corner A at the bottom\n"


def test_which_layers_it_comes_out_over_is_asked() -> None:
    """The flap of D lies between the two halves with that of B: it can come to lie before B or behind it.
    Each hint folds; with 'over B' it lies over B."""
    found = refused(*SWAN, "pull out D", sheet=ON_CORNER)
    assert found.code == "which-lies-over"
    assert found.hints == ("add 'over B'",)
    after = folded(*SWAN, "pull out D over B", sheet=ON_CORNER).finished
    (b,), (d,) = (after.facets_on_sheet(p) for p in ((0.99, 0.01), (0.01, 0.99)))
    assert after.above(d, b)


#: A boat with two hulls, folded in half: the corners of its middle lie between the hulls.
HULLS = (
    "mark O at the centre; valley A, B, C and D to O",
    "turn over",
    "crease bottom edge onto top edge, all layers, as h; mark K at bottom left corner; "
    "mark L at bottom right corner; mark M at top right corner; mark N at top left corner; "
    "valley left edge onto centre line, all layers, as l; "
    "valley right edge onto centre line, all layers, as r",
    "valley bottom edge onto h, all layers; valley top edge onto h, all layers",
    "pull out K along l; pull out L along r; pull out M along r; pull out N along l",
    "mountain top edge onto bottom edge",
)


def test_it_is_told_where_layers_only_change_places_inside() -> None:
    (warning,) = folded(*HULLS, "pull out B", sheet=ON_CORNER).warnings
    assert warning.code == "still-inside"
    assert not folded(*HULLS, sheet=ON_CORNER).warnings


def test_it_is_told_where_a_flap_lies_free_and_is_only_opened() -> None:
    doors = (
        "crease left edge onto right edge as v",
        "valley left edge onto v as l; valley right edge onto v as r",
    )
    (warning,) = folded(*doors, "pull out A along l").warnings
    assert warning.code == "not-trapped"
