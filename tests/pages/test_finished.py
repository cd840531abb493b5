"""What pages say of the model after its last step."""

from __future__ import annotations

from dataclasses import replace

import pytest

from foldscript.folding.ending import Ending, ending
from foldscript.folding.steps import Model
from foldscript.moves.registry import verbs
from foldscript.moves.request import Deed
from foldscript.pages import finished
from foldscript.pages.head import facts

from .fakes import HALVED, SHEET, model


def ending_with(verb: str) -> Model:
    """The card, after whose last step a move leaves the flat."""
    one = model()
    deed = Deed(step=6, verb=verb, before=HALVED, after=HALVED, signs=())
    return replace(one, steps=(*one.steps[:-1], replace(one.steps[-1], deeds=(deed,))))


def plainly(text: str) -> str:
    return text


@pytest.mark.parametrize("verb", ["shape", "inflate", "blow into", "squeeze"])
def test_a_model_opened_out_in_the_end_is_told_to_be_drawn_flat(verb: str) -> None:
    one = ending_with(verb)
    assert finished.finished_caption(one, plainly) == "The model before it is opened out."
    assert finished.finished_fact(one, plainly) == (
        "Flat",
        "about 150 \u00d7 75 mm, before it is opened out",
    )


def test_a_curled_model_keeps_its_size() -> None:
    one = ending_with("curl")
    assert finished.finished_caption(one, plainly) == "The model before it is curled."
    assert finished.finished_fact(one, plainly) == ("Finished", "about 150 \u00d7 75 mm")


@pytest.mark.parametrize("verb", ["valley", "hold", "open out"])
def test_a_flat_model_is_finished(verb: str) -> None:
    one = ending_with(verb)
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
