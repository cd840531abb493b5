"""Tuck: under a layer, between two, inside; or slipped there without a fold."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import Act, Arrow, FoldLine, Sense
from foldscript.paper.state import State

from ..scripts import captions, folded, layers_at, refused

BOOK = "valley bottom edge onto top edge"
CORNER = "mark P at 1/3 of A B; mark Q at 2/3 of A D"
DOORS = "valley A to 2/3 of A B; valley B to 1/3 of A B"


def stack(state: State, x: float, y: float) -> list[str]:
    """Names of the sheet's corners on the plates at a folded spot (mm), from the front."""
    unit = state.sheet.unit_mm
    found = []
    for i in state.facets_at((x / unit, y / unit)):
        plate = next(p for p in state.plates if i in p)
        names = [
            name
            for name, at in zip(state.sheet.corner_names, state.sheet.outline, strict=True)
            if set(state.facets_on_sheet(at)) & set(plate)
        ]
        found.append("".join(names))
    return found


def test_a_corner_goes_inside() -> None:
    """The front layer's corner lies between front and back: front, tip, back (derived)."""
    model = folded(BOOK, CORNER, "tuck A through P Q, inside")
    assert stack(model.finished, 30, 75) == ["B", "A", "CD"]
    arrow, line = (
        next(s for s in model.steps[-1].panels[0].signs if isinstance(s, kind))
        for kind in (Arrow, FoldLine)
    )
    assert isinstance(arrow, Arrow)
    assert (arrow.act, arrow.under) == (Act.TUCK, True)
    assert isinstance(line, FoldLine)
    assert line.sense is Sense.MOUNTAIN
    assert captions(model)[-1] == (
        "Fold corner A over along the line through P and Q and tuck it inside."
    )


def test_the_back_corner_goes_inside_too() -> None:
    """From the back it is a valley fold."""
    model = folded(BOOK, CORNER, "tuck D through P Q, inside")
    assert stack(model.finished, 30, 75) == ["AB", "D", "C"]


def test_both_corners_inside() -> None:
    model = folded(BOOK, CORNER, "tuck A through P Q, inside", "tuck D through P Q, inside")
    assert layers_at(model, 30, 75) == 4
    assert stack(model.finished, 30, 75)[0] == "B"
    assert stack(model.finished, 30, 75)[3] == "C"


def test_under_a_layer() -> None:
    """A strip's end goes under the door that lies on the strip already."""
    model = folded("valley A to 2/3 of A B", "tuck B to 1/3 of A B, under A")
    assert stack(model.finished, 50, 50) == ["AD", "BC", ""]
    plain = folded("valley A to 2/3 of A B", "valley B to 1/3 of A B")
    assert stack(plain.finished, 50, 50) == ["BC", "AD", ""]


def test_between_two_layers() -> None:
    """Said by the two layers it goes between, the same as inside."""
    for line in (
        "tuck A through P Q, between B and C",
        "tuck mountain A through P Q, between B and C",
        "tuck A through P Q, over C",
    ):
        model = folded(BOOK, CORNER, line)
        assert stack(model.finished, 30, 75) == ["B", "A", "CD"], line


def test_a_sense_that_is_said_is_kept() -> None:
    found = refused(BOOK, CORNER, "tuck valley A through P Q, between B and C")
    assert found.code == "layers-collide"


def test_slipped_under() -> None:
    """Without a fold line only the order changes."""
    model = folded(DOORS, "tuck B under A")
    assert stack(model.steps[0].after, 50, 50) == ["BC", "AD", ""]
    assert stack(model.finished, 50, 50) == ["AD", "BC", ""]
    assert captions(model)[-1] == "Tuck corner B under the layer with corner A."


@pytest.mark.parametrize(
    ("steps", "code"),
    [
        (("tuck A to C",), "tuck-where"),
        ((DOORS, "tuck inside"), "tuck-what"),
        ((DOORS, "tuck A inside"), "tuck-where"),
        ((DOORS, "tuck A under B"), "lies-there"),
        ((DOORS, "tuck A under D"), "same-layer"),
        ((BOOK, CORNER, "tuck A through P Q, between C and D"), "same-layer"),
        (("tuck A to 1/4 of A C, inside",), "not-inside"),
        ((BOOK, CORNER, "tuck A through P Q, under C"), "layers-collide"),
        (("valley D to 1/4 of D B", "tuck B to 9/10 of A B, under D"), "tuck-misses"),
    ],
)
def test_refusals(steps: tuple[str, ...], code: str) -> None:
    found = refused(*steps)
    assert found.code == code, found.message
    assert found.hints or code in ("lies-there", "same-layer", "tuck-what", "tuck-misses")


def test_flaps_that_do_not_reach_each_other() -> None:
    """Two small corners: the sheet on which B hangs lies under A, but B does not."""
    corners = "valley A to 1/4 of A C; valley B to 1/4 of B D"
    found = refused(corners, "tuck B under A")
    assert found.code == "tuck-misses"
    assert "the flap with corner B does not reach that layer" in found.message
    assert any("say where it is folded" in hint for hint in found.hints)


def test_the_refusal_names_what_is_in_the_way() -> None:
    """The front layer's corner cannot go under the back layer: they hang together at the fold."""
    found = refused(BOOK, CORNER, "tuck A through P Q, under C")
    assert found.message.startswith("the flap cannot be tucked under the layer with corner C")
    assert "the layer with corner A" in found.message


def test_a_flap_does_not_open_through_another_that_opens() -> None:
    """A preliminary base folded in half: two folds lie on each other where the flap would swing."""
    base = (
        "mark M at midpoint of B C; mark N at midpoint of D A; crease A to C as d1; crease B to D as d2; "
        "turn over; crease edge A B onto edge C D, as h; crease edge B C onto edge D A, as v",
        "collapse mountain d2, valley h, valley v, holding A",
        "valley bottom corner to top corner, all layers",
    )
    diamond = "sheet square 100 mm, coloured side up, corner A at the bottom\n"
    assert refused(*base, "tuck M to N, inside", sheet=diamond).code == "layers-collide"
