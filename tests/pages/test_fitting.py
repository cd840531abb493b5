"""Figures are drawn as large as fills the pages best: no page nearly empty, none too small."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.drawing.draw import draw
from foldscript.drawing.scene import Scene
from foldscript.drawing.styles import load_style
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.moves.registry import verbs
from foldscript.output.fonts import measure
from foldscript.pages.document import Document, Page
from foldscript.pages.fitting import LARGER, SMALLER
from foldscript.pages.grid import figure_frame, grid
from foldscript.pages.handout import handout
from foldscript.pages.sizes import page_size
from foldscript.syntax.parser import parse
from foldscript.syntax.reading import read_source

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
A4 = page_size("A4")


def folded(name: str) -> Model:
    path = SAMPLES / f"{name}.foldscript"
    return fold(parse(read_source(path), verbs()), path)


def laid_out(model: Model, style_name: str = "colour") -> Document:
    style = load_style(style_name)
    figures = draw(model, style, figure_frame(A4, style.enlarged))
    return handout(model, figures, style, A4, measure)


def steps_on(page: Page) -> list[Scene]:
    """Numbered figures on a page."""
    scenes = [item.content for item in page.scenes if isinstance(item.content, Scene)]
    return [scene for scene in scenes if scene.title.startswith("Step")]


@pytest.mark.parametrize("name", ["dart", "frame"])
def test_nine_figures_fit_one_page_a_little_smaller(name: str) -> None:
    document = laid_out(folded(name))
    assert [len(steps_on(page)) for page in document.pages] == [8]
    widths = [scene.width for scene in steps_on(document.pages[0])]
    usual = figure_frame(A4)[0]
    assert all(SMALLER[-1] * usual - 0.01 <= wide < usual for wide in widths)
    assert min(widths) > 38 * 72 / 25.4  # millimetres


@pytest.mark.parametrize("name", ["boat", "cicada", "dog", "fish", "letter", "bases/bird-base"])
def test_two_pages_are_filled_alike_with_larger_figures(name: str) -> None:
    document = laid_out(folded(name))
    counts = [len(steps_on(page)) for page in document.pages]
    assert len(counts) == 2
    assert abs(counts[0] - counts[1]) <= 2
    lowest = max(item.at[1] for item in document.pages[-1].items if item.at[1] < grid(A4).bottom)
    assert lowest > A4.height / 2
    widths = [scene.width for scene in steps_on(document.pages[0])]
    assert all(figure_frame(A4)[0] < wide <= LARGER[0] * figure_frame(A4)[0] for wide in widths)


def test_well_filled_pages_and_large_print_stay_as_they_are() -> None:
    for name, style_name in (("cup", "colour"), ("crane", "colour"), ("boat", "large")):
        style = load_style(style_name)
        usual = figure_frame(A4, style.enlarged)[0]
        for page in laid_out(folded(name), style_name).pages:
            assert all(scene.width == pytest.approx(usual) for scene in steps_on(page))
