"""Pages of real models: the head stands with a step, the finished model with the key; none is near empty."""

from __future__ import annotations

import re
from functools import cache

import pytest

from foldscript.drawing.plan import planned
from foldscript.drawing.scene.scene import Scene, Text
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model
from foldscript.output.fonts import measure
from foldscript.pages.document import Page
from foldscript.pages.grid import grid
from foldscript.pages.layout.handout import handout
from foldscript.pages.measures import KEY
from foldscript.pages.sizes import page_size

from ..sample_scripts import sample


def folded(name: str) -> Model:
    return sample(name).model


@cache
def pages_of(name: str, style_name: str, size: str) -> tuple[Page, ...]:
    style, page = load_style(style_name), page_size(size)
    return handout(folded(name), style, page, measure).pages


def said(page: Page, role: str) -> list[Text]:
    texts = [item.content for item in page.items if isinstance(item.content, Text)]
    return [text for text in texts if text.role == role]


def titles(page: Page) -> list[str]:
    return [item.content.title for item in page.scenes if isinstance(item.content, Scene)]


@pytest.mark.parametrize(
    ("name", "size"), [("flapping-bird", "A5"), ("frog", "A5"), ("flapping-bird", "Half letter")]
)
def test_the_first_step_of_large_print_stands_below_the_head(name: str, size: str) -> None:
    """Facts and notes are set closer for it where need be, in letters no smaller than the key's."""
    first = pages_of(name, "large", size)[0]
    label = planned(folded(name))[0].label  # the bird's is turned first of all: '1–2'
    assert [number.text for number in said(first, "text.number")] == [label]
    large = grid(page_size(size), load_style("large").enlarged)
    assert {fact.size for fact in said(first, "text.fact")} <= {large.key, large.caption}


def test_facts_set_closer_are_all_there() -> None:
    said_first = " ".join(
        text.text for text in said(pages_of("frog", "large", "A5")[0], "text.fact")
    )
    for fact in ("square 20 cm, coloured side up", "about 134 × 85 mm", "28", "intermediate"):
        assert fact in said_first


@pytest.mark.parametrize("name", ["swan", "cup", "dart"])
def test_heads_with_room_for_a_step_stay_as_they_are(name: str) -> None:
    first = pages_of(name, "large", "A5")[0]
    large = grid(page_size("A5"), load_style("large").enlarged)
    assert {fact.size for fact in said(first, "text.fact")} == {large.caption}


@pytest.mark.parametrize("name", ["swan", "crane", "frog", "hat-to-boat"])
def test_a_key_that_runs_on_has_enough_entries_on_its_last_page(name: str) -> None:
    last = pages_of(name, "large", "A5")[-1]
    assert len(said(last, "text.key")) >= KEY.overleaf


@pytest.mark.parametrize("name", ["fish", "lantern", "lily", "star-box", "waterbomb"])
def test_the_key_on_a_small_page_keeps_the_finished_model_company(name: str) -> None:
    pages = pages_of(name, "colour", "A5")
    key = next(page for page in pages if said(page, "text.key"))
    last = re.compile("Finished: .+|.+, before it is (opened out|curled)")
    assert any(last.fullmatch(title) for title in titles(key))
    assert {entry.size for entry in said(key, "text.key")} == {grid(page_size("A5")).key}


@pytest.mark.parametrize("name", ["crane", "lantern"])
def test_few_pages_of_large_print_hold_one_step_only(name: str) -> None:
    """The first has the head as well, the last the finished model; a step as high as a page stands alone."""
    between = [said(page, "text.number") for page in pages_of(name, "large", "A5")[1:]]
    single = [numbers[0].text for numbers in between if len(numbers) == 1]
    last = str(len(folded(name).steps))
    assert not [number for number in single if number != last]
