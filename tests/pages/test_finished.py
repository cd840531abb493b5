"""What pages say of the model after its last step."""

from __future__ import annotations

from dataclasses import replace

import pytest

from foldscript.folding.ending import Ending, ending
from foldscript.folding.steps import Model
from foldscript.moves.registry import verbs
from foldscript.pages import finished
from foldscript.pages.layout.head import facts

from ..moves.test_open_out import HAT
from ..moves.test_open_out import SHEET as HAT_SHEET
from ..scripts import folds, script
from .fakes import SHEET, model


def ending_with(*last: str) -> Model:
    """The card, a 15 cm square folded in half, after which these steps follow."""
    return folds(script("valley bottom edge onto top edge", *last, sheet="sheet square 15 cm\n"))


def plainly(text: str) -> str:
    return text


@pytest.mark.parametrize(
    "last",
    [
        ("shape",),
        ("inflate at A",),
        ("blow into A",),
        ("squeeze A and B",),
        ("shape", "turn over", "hold A"),
        ("curl A", "shape"),
        ("shape", "curl A"),
    ],
    ids="; ".join,
)
def test_a_model_opened_out_in_the_end_is_told_to_be_drawn_flat(last: tuple[str, ...]) -> None:
    one = ending_with(*last)
    assert finished.finished_caption(one, plainly) == "The model before it is opened out."
    assert finished.finished_fact(one, plainly) == (
        "Flat",
        "about 150 \u00d7 75 mm, before it is opened out",
    )


def test_a_curled_model_keeps_its_size() -> None:
    one = ending_with("curl A")
    assert finished.finished_caption(one, plainly) == "The model before it is curled."
    assert finished.finished_fact(one, plainly) == ("Finished", "about 150 \u00d7 75 mm")


@pytest.mark.parametrize("verb", ["valley left edge onto right edge", "hold A"])
def test_a_flat_model_is_finished(verb: str) -> None:
    one = ending_with(verb)
    assert finished.finished_caption(one, plainly) == "The finished model."
    assert ending(one) is Ending.FLAT


def test_a_flap_that_is_opened_out_and_pressed_flat_leaves_the_model_flat() -> None:
    one = folds(script(*HAT, "open out E and F", sheet=HAT_SHEET))
    assert finished.finished_caption(one, plainly) == "The finished model."
    assert ending(one) is Ending.FLAT


def test_every_move_that_is_meant_exists() -> None:
    assert {
        "shape",
        "inflate",
        "blow into",
        "squeeze",
        "curl",
        "valley",
        "hold",
        "open out",
    } <= set(verbs())


def test_a_sheet_is_so_long_by_so_wide() -> None:
    one = replace(model(), sheet=replace(SHEET, shape="A4 (210 x 297 mm)"))
    assert dict(facts(one, plainly))["Sheet"].startswith("A4 (210 \u00d7 297 mm), ")
