"""Tuck into a pocket: between which two layers follows from a point where the pocket lies."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from foldscript.paper.state import State

from ..laws.images import IMAGES, Image
from ..laws.outcomes import broken
from ..scripts import captions, folded, lies, refused

DIAMOND = "sheet square 100 mm, coloured side down, corner A at the bottom\n"
#: A traditional cup before its last folds: two side flaps of two layers each cross in front.
CUP = (
    "valley A to C as base; pinch edge B A onto base, at edge D A, as guide",
    "mark G where guide meets edge D A; valley B to G; mark H at the right corner",
    "valley D to H; mark M at midpoint of G H",
)


def layers_over(state: State, name: str) -> int:
    """How many layers lie over a corner of the sheet, where they overlap its layer."""
    (facet,) = state.facets_on_sheet(state.sheet.corner(name))
    return sum(1 for k in state.neighbours[facet] if state.above(k, facet))


def test_between_the_layers_of_the_flap_on_top() -> None:
    model = folded(*CUP, "tuck A through G H into the pocket at top layer at M", sheet=DIAMOND)
    assert layers_over(model.finished, "A") == 1
    assert captions(model)[-1] == (
        "Fold corner A over along the line through G and H and tuck it into the pocket at point M."
    )


def test_it_is_what_between_two_layers_says() -> None:
    pocket = folded(*CUP, "tuck A through G H into the pocket at M", sheet=DIAMOND)
    said = folded(
        *CUP,
        "tuck A through G H, between top layer at M and second layer at M",
        sheet=DIAMOND,
    )
    assert dict(pocket.finished.order) == dict(said.finished.order)


def test_several_pockets_are_named_by_words_that_choose() -> None:
    """Each hint, followed, puts the corner between other layers."""
    where = "into the pocket at midpoint of G H"
    fault = refused(*CUP, f"tuck A through G H {where}", sheet=DIAMOND)
    assert fault.code == "several-pockets"
    assert fault.hints[0] == "give the place a name before this: 'mark P at ...'"
    found: set[int] = set()
    for hint in fault.hints[1:]:
        between, what = hint.removeprefix("say '").split("', for the ")
        assert ", that closed by the fold" in what or what.endswith(", that open on all sides")
        between = between.replace(" at P", " at M")
        model = folded(*CUP, f"tuck A through G H, {between}", sheet=DIAMOND)
        found.add(layers_over(model.finished, "A"))
    assert len(found) == len(fault.hints) - 1 > 1


#: A strip folded up makes a pocket along its top edge, y = 60; the top edge hangs over it.
STRIP = (
    "valley along line 30 mm from the bottom edge, moving the bottom edge",
    "valley top edge onto line 10 mm from the bottom edge",
    "mark P at midpoint of A B",
)


def test_a_flap_slips_in_where_it_lies() -> None:
    before = folded(*STRIP)
    assert layers_over(before.finished, "C") == 0
    model = folded(*STRIP, "tuck C into the pocket at P")
    assert layers_over(model.finished, "C") == 1
    assert lies(model, "C") == lies(before, "C")
    assert captions(model)[-1] == "Tuck corner C into the pocket at point P."


def test_one_layer_is_no_pocket() -> None:
    fault = refused("mark P at centre", "tuck A to P into the pocket at P")
    assert fault.code == "no-pocket"
    assert "only one layer" in fault.message


def test_a_pocket_whose_walls_no_fold_joins_any_longer() -> None:
    """A corner bookmark: after both sides have gone up, front and back hold together by these only."""
    model = folded(
        "valley A to C; mark O at midpoint of the bottom edge",
        "valley the right corner to the top corner as side, and unfold",
        "repeat step 2 on the left",
        "valley A to O, 1 layer as rim; mark M at midpoint of rim",
        "refold side; tuck B along rim into the pocket at M",
        "repeat step 5 on the left",
        sheet=DIAMOND,
    )
    state = model.finished
    (wall,) = state.facets_on_sheet((0.42, 0.38))  # the front, between the rim and the first fold
    for x, y in [(0.97, 0.01), (0.99, 0.03), (0.01, 0.97), (0.03, 0.99)]:  # the tips of B and D
        (tip,) = state.facets_on_sheet((x, y))
        assert state.above(wall, tip)


def test_a_pocket_that_is_closed_there() -> None:
    """The folded edge is below: from there nothing gets in between the two layers."""
    fault = refused(
        "valley A to C as k", "mark P at midpoint of B D; tuck B to P into the pocket at P"
    )
    assert fault.code == "layers-collide"
    assert "into the pocket at point P" in fault.message


_STRIP = (
    *("mark P at midpoint of A B", "mark X at 2/5 of A D", "mark Y at 3/5 of A D"),
    "valley edge A B onto line through Y parallel to edge A B",
    "valley edge C D onto line through X parallel to line A B",
)
SAID: Sequence[Sequence[str]] = (
    (*_STRIP, "tuck C into the pocket at P"),
    (*_STRIP, "unfold", "tuck C to midpoint of A B, into the pocket at P"),
    (*_STRIP, "tuck C into the pocket at X"),
)


@pytest.mark.parametrize("statements", SAID, ids=lambda said: said[-1])
@pytest.mark.parametrize("image", [i for i in IMAGES if not i.over], ids=lambda image: image.name)
def test_the_mirror_law(statements: Sequence[str], image: Image) -> None:
    assert not broken(statements, image)


#: Two corners folded in, one at the top: a fold along the top takes a part of that along.
CORNERS = ("mark O at the centre", "valley D to O", "valley B to 1/3 of A B")


@pytest.mark.parametrize("place", ["into the pocket at D", "under D"])
def test_what_goes_in_two_statements_is_told(place: str) -> None:
    """The part of the corner that the fold takes along has to bend the other way: in one it cannot."""
    found = refused(*CORNERS, f"tuck C to midpoint of B C {place}")
    assert found.hints[0].startswith("fold it over first")
    assert f"'tuck C {place}'" in found.hints[0]
    model = folded(*CORNERS, "valley C to midpoint of B C", f"tuck C {place}")
    assert layers_over(model.finished, "C") > 0


def test_a_flap_that_is_not_folded_yet_is_asked_where() -> None:
    found = refused(
        "mark O at the centre",
        "valley A to O; valley B to O; valley D to O",
        "tuck C into the pocket at B",
    )
    assert found.code == "no-pocket"
    assert any(hint.startswith("say where it is folded") for hint in found.hints)
