"""Pull out: a trapped layer to the front, a folded-in flap to the outside."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import Act, Arrow

from ..scripts import captions, covered, folded, lies, refused
from .test_tuck import BOOK, CORNER, DOORS, stack


def test_to_the_front() -> None:
    model = folded(DOORS, "pull out A")
    assert stack(model.finished, 50, 50) == ["AD", "BC", ""]
    (arrow,) = [s for s in model.steps[-1].panels[0].signs if isinstance(s, Arrow)]
    assert arrow.act is Act.PULL_OUT
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


def test_a_door_held_in_a_fold_does_not_swing_out() -> None:
    """Doors, then the bottom edge folded up over them: the door's lower end is held in that fold."""
    doors = (
        "crease left edge onto right edge as v; crease bottom edge onto top edge as h",
        "valley left edge onto v as l; valley right edge onto v as r",
        "valley bottom edge onto h, all layers",
    )
    found = refused(*doors, "pull out A along l")
    assert found.code == "layers-collide"
    assert "would have to pass through a fold" in found.message
