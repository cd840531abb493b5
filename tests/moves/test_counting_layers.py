"""A number of layers: counted where the words point, and elsewhere on the flap where that says nothing."""

from __future__ import annotations

import pytest

from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.folding.unread import read
from foldscript.source.diagnostics import FoldscriptError, Source

from ..scripts import captions, folded, lies, refused, spot, told_of
from ..scripts import script as script_of

#: A triangle of two layers, a strip of its folded edge turned down over both, then folded in half: two wings,
#: each of two layers below and of four in the strip. M lies where each wing has two.
BAT = "sheet square 200 mm, corner A at the bottom\n"


def wings(strip: int) -> tuple[str, ...]:
    """The steps of a bat whose strip is cut out of its sides at so many millimetres from B and D."""
    return (
        "valley C to A",
        f"mark F at {strip} mm from B on edge B A; mark G at {strip} mm from D on edge D A; "
        "valley top edge onto line F G",
        "mountain left corner to right corner, all layers",
        "mark P at 50 mm from top left corner on top edge; "
        "mark M at 100 mm from bottom corner on lower right edge",
    )


def wing(words: str, verb: str = "valley") -> str:
    """One wing, or both, folded along a line from the bottom of the body."""
    return f"{verb} through P and bottom corner, moving {words}"


def test_a_number_that_is_true_of_the_flap_elsewhere() -> None:
    """At M four layers are those of both wings; in the strip they are the front one alone."""
    one = folded(*wings(30), wing("M, 4 layers"), sheet=BAT)
    both = folded(*wings(30), wing("M, all layers"), sheet=BAT)
    by_tip = folded(*wings(30), wing("right corner, 4 layers"), sheet=BAT)
    assert captions(one)[-1].endswith(", front flap only.")
    assert [lies(one, name) for name in "ABCD"] == [lies(by_tip, name) for name in "ABCD"]
    assert [lies(one, name) for name in "BD"] != [lies(both, name) for name in "BD"]
    assert told_of(script_of(*wings(30), wing("M, 4 layers"), sheet=BAT)) == ()


def test_the_same_behind() -> None:
    """Named by the layer at the back, four layers behind are the back wing alone."""
    behind = wing("bottom layer at M, 4 layers", "mountain")
    model = folded(*wings(30), behind, sheet=BAT)
    assert captions(model)[-1].endswith(", back flap only.")


def test_all_eight_can_be_counted_in_the_strip() -> None:
    model = folded(*wings(30), wing("M, 8 layers"), sheet=BAT)
    assert captions(model)[-1].endswith(", all layers together.")


@pytest.mark.parametrize("number", ["1 layer", "3 layers", "5 layers"])
def test_numbers_that_no_flap_has_are_refused_with_one_that_can_move(number: str) -> None:
    told = refused(*wings(30), wing(f"M, {number}"), sheet=BAT)
    assert told.hints[0] == f"say '{wing('M, 4 layers')}'"


def test_a_held_corner_is_first_offered_the_number_that_can_move() -> None:
    """The corner lies on the strip alone: it cannot go without the wing that the strip hangs on."""
    told = refused(*wings(30), wing("right corner"), sheet=BAT)
    assert told.code == "held"
    assert told.hints[0] == "add '4 layers'"
    assert not any("nearer" in hint for hint in told.hints)


def test_in_half_through_all_layers_is_first_offered_all_layers() -> None:
    told = refused(*wings(30)[:2], "mountain left corner to right corner", sheet=BAT)
    assert told.hints[0].startswith("say 'all layers'")


def test_sides_of_a_figure_on_its_corner_are_first_offered_as_corners() -> None:
    """Two edges face each side; in half means corner to corner, through all layers where one is held."""
    told = refused(*wings(30)[:2], "valley left edge onto right edge", sheet=BAT)
    assert told.code == "two-candidates"
    assert told.hints[0] == "say 'valley left corner to right corner, all layers'"
    told = refused("valley left edge onto right edge", sheet=BAT)
    assert told.hints[0] == "say 'valley left corner to right corner'"


def test_what_lies_in_the_way_is_first_moved_along() -> None:
    told = refused(*wings(30), wing("M", "mountain"), sheet=BAT)
    assert told.code == "blocked"
    assert told.hints[0].startswith("for what lies there to move too, add 'all layers'")


def test_a_number_with_which_both_wings_go_along_is_refused() -> None:
    """Behind, the four layers at the front wing's M are both wings, and much of them is eight thick."""
    told = refused(*wings(80), wing("M, 4 layers", "mountain"), sheet=BAT)
    assert told.code == "more-layers"
    assert told.hints[0].endswith(", all layers'")
    assert told.hints[1].startswith("or leave the number out")


#: Doors squashed to roofs; below them lie two leaves of one layer each beside one another, and the back.
HOUSE = (
    "valley top edge onto bottom edge",
    "crease left edge onto right edge, all layers as v",
    "mark P at left end of the top edge; mark Q at right end of the top edge; "
    "valley left edge onto v, all layers as l; valley right edge onto v, all layers as r",
    "mark L at top left corner; mark R at top right corner; "
    "squash line L P onto l; squash line R Q onto r",
)


def test_layers_side_by_side_are_counted_once() -> None:
    """The leaves meet in the middle: the flap that carries both is of two layers there, not of three."""
    up = "valley bottom edge onto line L R"
    assert refused(*HOUSE, f"{up}, 1 layer").hints[0] == f"say '{up}, 2 layers'"
    text = script_of(*HOUSE, f"{up}, 2 layers")
    assert told_of(text) == ()
    two, all_of_it = folded(*HOUSE, f"{up}, 2 layers"), folded(*HOUSE, f"{up}, 3 layers")
    assert captions(two)[-1].endswith(", front flap only.")
    assert captions(all_of_it)[-1].endswith(", all layers together.")
    assert spot(two, 0, 0) != spot(all_of_it, 0, 0)


def read_and_folded(text: str) -> Model:
    return fold(read(Source("a.foldscript", text)))


def _base(number: str) -> str:
    """A preliminary base whose tips go up: they lie on the line where the halves of its flaps meet."""
    return (
        f"start from preliminary base\nstep\n  valley bottom corner to 2 cm short of O, {number}\n"
    )


def test_flaps_that_meet_where_they_are_counted_are_one_layer() -> None:
    """Four layers lie on each side of the middle: C, the halves of B and D, which are two of each, and A."""
    one, three, four = (
        lies(read_and_folded(_base(n)), "C") for n in ("1 layer", "3 layers", "4 layers")
    )
    assert one == three == four
    moved = [
        lies(read_and_folded(_base(n)), "A") != lies(read_and_folded(_base("1 layer")), "A")
        for n in ("3 layers", "4 layers", "all layers")
    ]
    assert moved == [False, True, True]


def test_more_than_lie_on_one_side_are_too_many() -> None:
    with pytest.raises(FoldscriptError) as told:
        read_and_folded(_base("5 layers"))
    assert told.value.diagnostics[0].message.startswith("there are only 4 layers there")
