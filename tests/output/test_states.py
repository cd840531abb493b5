"""Folded states as JSON: what they say, and that the outside check reads them."""

from __future__ import annotations

import json
from dataclasses import replace
from types import MappingProxyType

import pytest

from foldscript.geometry.isometries import IDENTITY
from foldscript.output.states import states, states_json
from foldscript.paper.state import Facet, State

from ..checker.validator import faults
from ..paper.orders import fold_pattern
from ..paper.patterns import pattern
from ..paper.sheets import rectangle
from ..scripts import folds, script

TEXT = script("valley A to C", "crease B to D, all layers", "turn over")


def test_the_document() -> None:
    document = states(folds('model "Cup"\n' + TEXT))
    assert document["format"] == "foldscript-states"
    assert document["version"] == 1
    assert document["model"] == "Cup"
    assert document["sheet"] == {
        "outline": [[0, 0], [100, 0], [100, 100], [0, 100]],
        "unit": "mm",
    }
    assert [s["step"] for s in document["states"]] == [0, 1, 2, 3]
    assert faults(document) == []


def test_a_state_in_millimetres() -> None:
    flat, folded, creased, over = states(folds(TEXT))["states"]
    assert [p["shows"] for p in flat["plates"]] == ["front"]
    assert flat["above"] == []
    back = next(k for k, p in enumerate(folded["plates"]) if p["shows"] == "back")
    assert folded["above"] == [[back, 1 - back]]
    (a, b, tx), (c, d, ty) = folded["plates"][back]["place"]
    assert (tx, ty) == pytest.approx((100, 100))
    assert a * d - b * c == pytest.approx(-1)
    assert folded["marks"] == []
    assert len(creased["marks"]) in (1, 2)
    assert over["above"] == [[1 - back, back]]
    assert "cuts" not in folded


def test_the_text_is_json_a_state_a_line() -> None:
    model = folds(TEXT)
    text = states_json(model)
    assert json.loads(text) == json.loads(json.dumps(states(model)))
    assert text.endswith("\n")
    assert sum(line.strip().startswith('{"step"') for line in text.splitlines()) == 4


def test_the_same_model_gives_the_same_bytes() -> None:
    assert states_json(folds(TEXT)) == states_json(folds(TEXT))


def test_no_negative_zeros() -> None:
    text = states_json(folds(script("valley A to C", "turn over", "rotate half turn")))
    assert "-0.0," not in text
    assert "-0.0]" not in text


def test_titles_of_any_letters() -> None:
    model = folds('model "Kühles \\"Boot\\" 船"\n' + TEXT)
    assert json.loads(states_json(model))["model"] == 'Kühles "Boot" 船'


def test_plates_are_the_maximal_flat_pieces() -> None:
    """A corner folded in from a polygon that stays one plate of many facets."""
    model = folds(script("valley A to centre", "valley B to midpoint of B C, all layers", "unfold"))
    assert faults(states(model)) == []
    last = states(model)["states"][-1]
    assert len(last["plates"]) == 2


def test_a_plate_with_a_hole_through_its_facets() -> None:
    """States of crease patterns are given in pieces that hold one order for each pair."""
    creases = [((0.25, 0.0), (0.25, 1.0)), ((0.75, 0.0), (0.75, 1.0))]
    state = fold_pattern(pattern(rectangle(), creases))
    assert len(state.plates) == 3


def test_a_model_that_starts_folded_begins_with_the_flat_sheet() -> None:
    text = "start from preliminary base\nstep\nturn over\n"
    document = states(folds(text))
    assert len(document["states"][0]["plates"]) == 1
    assert len(document["states"][1]["plates"]) > 1
    assert faults(document) == []


def test_specks_beside_a_plate_are_no_plates() -> None:
    """A crumb that hangs on a plate within the tolerance, but is parted from it where corners are rounded to
    the grid: the plate's outline is that of the plate."""
    sheet = rectangle(1.0, 1.0)
    crumb = ((1 + 9e-10, 0.5), (1 + 9e-10 + 3e-9, 0.5), (1 + 9e-10, 0.5 + 3e-9))
    state = State(
        sheet, (Facet(sheet.outline, IDENTITY), Facet(crumb, IDENTITY)), MappingProxyType({})
    )
    assert state.plates == ((0, 1),)
    model = replace(folds(script("mark M at centre")), sheet=sheet, start=state, steps=())
    ((plate,),) = (each["plates"] for each in states(model)["states"])
    assert sorted(plate["outline"]) == [[0, 0], [0, 100], [100, 0], [100, 100]]
    assert plate["holes"] == []
