"""What pages say of a model: its sheet, its size, and what has become of it after its last step."""

from __future__ import annotations

from dataclasses import replace

import pytest

from foldscript.drawing.row import Row
from foldscript.drawing.style.styles import load_style
from foldscript.folding.ending import Ending, ending
from foldscript.folding.steps import Model
from foldscript.moves.registry import verbs
from foldscript.pages.grid import grid
from foldscript.pages.layout.drawn_cells import drawn_cells
from foldscript.pages.layout.head import facts
from foldscript.pages.sizes import page_size

from ..moves.test_open_out import HAT
from ..moves.test_open_out import SHEET as HAT_SHEET
from ..scripts import folds, script
from .fakes import SHEET, model


def ending_with(*last: str) -> Model:
    """The card, a 15 cm square folded in half, after which these steps follow."""
    return folds(script("valley bottom edge onto top edge", *last, sheet="sheet square 15 cm\n"))


def plainly(text: str) -> str:
    return text


def last_caption(one: Model) -> str:
    """What stands under the last figure."""
    return drawn_cells(Row(one), load_style(), grid(page_size("A4")), plainly)[-1].caption


def size(one: Model) -> tuple[str, str]:
    """The fact that tells the size."""
    return facts(one, plainly)[1]


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
    assert last_caption(one) == "The model before it is opened out."
    assert size(one) == (
        "Flat",
        "about 150 \u00d7 75 mm, before it is opened out",
    )


def test_a_curled_model_keeps_its_size() -> None:
    one = ending_with("curl A")
    assert last_caption(one) == "The model before it is curled."
    assert size(one) == ("Finished", "about 150 \u00d7 75 mm")


def test_a_flat_model_is_finished() -> None:
    one = ending_with("valley left edge onto right edge")
    assert last_caption(one) == "The finished model."
    assert ending(one) is Ending.FLAT


def test_a_last_step_that_only_tells_what_to_do_with_the_model_shows_it_finished() -> None:
    """No second picture of the same stands after it; after a turn, there is one."""
    one = ending_with("hold A")
    assert last_caption(one) == "Hold the paper at corner A."
    assert ending(one) is Ending.FLAT
    assert last_caption(ending_with("hold A", "turn over")) == "The finished model."


def test_a_flap_that_is_opened_out_and_pressed_flat_leaves_the_model_flat() -> None:
    one = folds(script(*HAT, "open out E and F", sheet=HAT_SHEET))
    assert last_caption(one) == "The finished model."
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
