"""Page styles: large print is larger in everything, and signs between figures stay with them."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from foldscript.drawing.scene.scene import Path, Scene, Text
from foldscript.drawing.style.styles import Style, load_style, style_names
from foldscript.folding.steps import Model, Panel, Step
from foldscript.output.fonts import measure
from foldscript.output.page_svg import page_svg
from foldscript.output.svg import scene_svg
from foldscript.pages.document import Document, Page
from foldscript.pages.layout.handout import handout
from foldscript.pages.sizes import page_size
from foldscript.paper.signs import Arrow, FoldLine, Sense, TurnOver
from foldscript.paper.state import flat
from foldscript.source.diagnostics import Span

from .fakes import HALVED, SHEET, model

SIZES = ("A4", "A5", "Letter", "half letter")


MIDDLE = FoldLine(Sense.VALLEY, ((0, ((0.0, 0.5), (1.0, 0.5))),))
DOWN = Arrow("valley", (0.5, 1.0), (0.5, 0.0))


def turning(steps: int) -> Model:
    """A model that is turned over at every third step, which is told with the figure before it."""
    made: list[Step] = []
    for number in range(1, steps + 1):
        turn = number % 3 == 0
        state = HALVED if turn else flat(SHEET)
        panel = Panel(state, (TurnOver(True),) if turn else (MIDDLE, DOWN))
        words = "Turn over from side to side." if turn else "Fold the top edge to the bottom edge."
        made.append(Step(number, words, (), (), (panel,), state, HALVED, Span(0, 0)))
    return replace(model(), steps=tuple(made))


def laid_out(style: Style, page: str, steps: int = 17) -> Document:
    one, size = turning(steps), page_size(page)
    return handout(one, style, size, measure)


def printed_sizes(document: Document, role: str) -> set[float]:
    """Type sizes in points on the printed page."""
    return {
        round(item.content.size * page.scale, 3)
        for page in document.pages
        for item in page.items
        if isinstance(item.content, Text) and item.content.role == role
    }


def steps_on(page: Page) -> list[Scene]:
    return [
        s.content for s in page.scenes if isinstance(s.content, Scene) and "Step" in s.content.title
    ]


@pytest.mark.parametrize("page", SIZES)
def test_captions_are_9_or_10_points_and_18_in_large_print(page: str) -> None:
    """Common practice: 9 to 11 points for captions, by the size of the page; 16 to 18 in large print."""
    small = 9.0 if page in ("A5", "half letter") else 10.0
    for name in style_names():
        wanted = {18.0} if name == "large" else {small}
        assert printed_sizes(laid_out(load_style(name), page), "text.caption") == wanted


@pytest.mark.parametrize("size", SIZES)
def test_large_print_has_larger_figures_and_fewer_on_a_page(size: str) -> None:
    """Of so many steps that neither has a page to spare, on which figures would grow."""
    usual, large = (laid_out(load_style(name), size, 26) for name in ("colour", "large"))
    most = [max(len(steps_on(p)) for p in d.pages) for d in (usual, large)]
    assert most[1] <= most[0] / 1.5
    widths = [
        max(scene.width * page.scale for page in d.pages for scene in steps_on(page))
        for d in (usual, large)
    ]
    assert widths[1] > widths[0]
    assert {p.size for p in large.pages} == {page_size(size)}


@pytest.mark.parametrize(
    ("page", "least", "most"), [("A4", 6, 12), ("Letter", 6, 12), ("A5", 4, 8)]
)
def test_figures_a_page(page: str, least: int, most: int) -> None:
    """Common practice: six to twelve figures on A4 or Letter, four to eight on A5; the first page has
    the head, the last what is left."""
    for name in ("colour", "grey", "dark"):
        counts = [len(steps_on(p)) for p in laid_out(load_style(name), page, 40).pages]
        assert max(counts) <= most
        assert all(count >= least for count in counts[1:-1])


@pytest.mark.parametrize("name", style_names())
@pytest.mark.parametrize("page", SIZES)
def test_a_turn_over_sign_stays_with_its_figure(name: str, page: str) -> None:
    """It stands right after the figure that is turned, on the same page, beside it or above its frame."""
    style = load_style(name)
    document = laid_out(style, page)
    before: list[str] = []
    for one in document.pages:
        scenes = [i for i in one.items if isinstance(i.content, Scene)]
        for figure, sign in pairwise(scenes):
            assert isinstance(figure.content, Scene)
            assert isinstance(sign.content, Scene)
            if sign.content.signs == frozenset({"turn-over"}) and figure.content.title.startswith(
                "Step"
            ):
                before.append(figure.content.title)
                low = figure.at[1] + figure.scale * figure.content.height
                assert sign.at[1] < low, "no lower than its figure"
    assert before == [f"Step {n - 1}–{n}" for n in range(3, 18, 3)]
    for one in document.pages:
        alone = [i for i in one.items if isinstance(i.content, Path)]
        assert all(i.content.role.startswith("page.") for i in alone)  # type: ignore[union-attr]


def test_dark_pages_are_painted() -> None:
    dark = load_style("dark")
    ground = dark.ink("page").fill or ""
    document = laid_out(dark, "A5")
    assert f'fill="{ground}"'.encode() in page_svg(document.pages[0], dark)
    scene = steps_on(document.pages[0])[0]
    assert f'fill="{ground}"'.encode() in scene_svg(scene, dark)


def test_a_figure_on_its_own_is_printed_as_large_as_on_the_page() -> None:
    scene = steps_on(laid_out(load_style("large"), "A4").pages[0])[0]
    svg = scene_svg(scene, load_style("large")).decode()
    assert f'width="{1.5 * scene.width:.2f}'.rstrip("0").rstrip(".") in svg
    assert f'viewBox="0 0 {scene.width:.2f}'.rstrip("0").rstrip(".") in svg
