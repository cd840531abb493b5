"""Figures are drawn as large as fills the pages best: no page nearly empty, none too small."""

from __future__ import annotations

import statistics
from dataclasses import replace

import pytest

from foldscript.drawing import asked as drawing
from foldscript.drawing.draw import draw
from foldscript.drawing.kept import DrawingCache
from foldscript.drawing.plan import planned
from foldscript.drawing.row import Row
from foldscript.drawing.scene.scene import Scene, Text
from foldscript.drawing.signs.registry import glyphs
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model
from foldscript.output.fonts import measure
from foldscript.pages import measures
from foldscript.pages.document import Document, Page
from foldscript.pages.grid import figure_frame, grid
from foldscript.pages.layout.cells import cell_rows
from foldscript.pages.layout.drawn_cells import cell_scales, drawn_cells
from foldscript.pages.layout.extents import extent, fewest_pages, least_heights, stand_ins
from foldscript.pages.layout.figure_size import Sized, best_size, cost_of, grids_to_try
from foldscript.pages.layout.handout import handout
from foldscript.pages.sizes import POINTS_PER_MM, page_size
from foldscript.pages.typesetting import Typesetter

from ..sample_scripts import sample
from ..scripts import folded as script_folded
from .measures_of_pages import measured

SIZES = measures.SIZES
#: Three sizes may be drawn, each where it promises anything more.
GAINS = (0.0, 0.0, 0.0)
A4 = page_size("A4")
COLOUR = load_style("colour")


def folded(name: str) -> Model:
    return sample(name).model


def laid_out(model: Model, style_name: str = "colour") -> Document:
    return handout(model, load_style(style_name), A4, measure)


def steps_on(page: Page) -> list[Scene]:
    """Numbered figures on a page."""
    scenes = [item.content for item in page.scenes if isinstance(item.content, Scene)]
    return [scene for scene in scenes if scene.title.startswith("Step")]


@pytest.mark.parametrize("name", ["cup", "dart", "dog", "frame", "letter"])
def test_up_to_ten_figures_fit_one_page_and_none_is_small(name: str) -> None:
    model = folded(name)
    document = laid_out(model)
    assert [len(steps_on(page)) for page in document.pages] == [len(planned(model))]
    widths = [scene.width for scene in steps_on(document.pages[0])]
    usual = figure_frame(A4)[0]
    assert all(wide >= SIZES.widths[-1] * usual - 0.01 for wide in widths)
    assert min(measured(model, "colour", "A4").sides) >= 30.0  # millimetres


@pytest.mark.parametrize("name", ["lily", "swan"])
def test_two_pages_are_filled_alike_with_larger_figures(name: str) -> None:
    document = laid_out(folded(name))
    counts = [len(steps_on(page)) for page in document.pages]
    assert len(counts) == 2
    assert abs(counts[0] - counts[1]) <= 3
    lowest = max(item.at[1] for item in document.pages[-1].items if item.at[1] < grid(A4).bottom)
    assert lowest > A4.height / 2
    assert all(scene.width > 1.2 * figure_frame(A4)[0] for scene in steps_on(document.pages[0]))


@pytest.mark.parametrize("name", ["crane", "helmet", "lily", "swan"])
def test_pages_but_the_last_are_full(name: str) -> None:
    """Nine tenths of their height, with no gap that is wider than twelve millimetres."""
    found = measured(folded(name), "colour", "A4")
    assert found.pages > 1
    assert all(fill >= 0.9 for fill in found.fills)


@pytest.mark.parametrize(("name", "pages", "close"), [("boat", 1, True), ("kimono", 2, False)])
def test_the_head_is_set_closer_where_that_saves_a_page(name: str, pages: int, close: bool) -> None:
    document = laid_out(folded(name))
    assert len(document.pages) == pages
    facts = [i.content for i in document.pages[0].items if isinstance(i.content, Text)]
    sizes = {text.size for text in facts if text.role == "text.fact"}
    assert sizes == {grid(A4).key if close else grid(A4).caption}


def test_a_page_is_saved_only_by_figures_that_stay_large_in_the_middle() -> None:
    """Nine tenths of the size wanted are large enough for that, four fifths are not."""

    def cost(pages: int, size: float) -> float:
        return cost_of(pages, 0.0, [size * 50 * POINTS_PER_MM], grid(A4))

    assert cost(1, 0.8) > cost(2, 1.2) > cost(1, 0.9)


@pytest.mark.parametrize("name", ["boat", "letter", "bases/bird-base"])
@pytest.mark.parametrize("size", ["A4", "A5"])
def test_large_print_is_hardly_drawn_smaller_and_mostly_no_page_holds_one_step(
    name: str, size: str
) -> None:
    page, style = page_size(size), load_style("large")
    usual = figure_frame(page, style.enlarged)
    document = handout(folded(name), style, page, measure)
    steps = [steps_on(page) for page in document.pages]
    least = SIZES.widths[-1] - 1e-4
    # Beside the sign of a turn a figure is cut to its ink: then its height tells.
    sizes = [(scene.width / usual[0], scene.height / usual[1]) for some in steps for scene in some]
    assert all(max(size) >= least for size in sizes)
    assert sum(len(some) for some in steps) >= 1.3 * sum(1 for some in steps if some)


@pytest.mark.parametrize(
    ("name", "pages"), [("fish", 2), ("lantern", 2), ("masu", 4), ("swan", 3), ("waterbomb", 3)]
)
def test_large_print_takes_few_pages_with_figures_of_45_millimetres(name: str, pages: int) -> None:
    """As long as that in the middle, and none under thirty: both as printed."""
    found = measured(folded(name), "large", "A4")
    assert found.pages <= pages
    assert statistics.median(found.sides) >= 45.0
    assert min(found.sides) >= 30.0


def test_the_key_lists_the_signs_of_the_figures_on_the_pages() -> None:
    """The dog's figures are drawn again in another size, after the key's signs were known."""
    document = laid_out(folded("dog"))
    shown = {key for page in document.pages for scene in steps_on(page) for key in scene.signs}
    words = " ".join(document.texts())
    for key in ("inset", "point.landmark", "scale", "paper.plain", "turn-over"):
        said = all(word in words for word in glyphs()[key].name.split())
        assert said == (key in shown), key


@pytest.mark.parametrize(("name", "style"), [("goldfish", "large"), ("crane", "colour")])
@pytest.mark.parametrize("part", [1.0, 0.9])
def test_rows_are_estimated_as_high_as_they_come_out(name: str, style: str, part: float) -> None:
    """To a point in the middle: only where signs will stand is not known before they are drawn."""
    looks = load_style(style)
    g = grid(A4, looks.enlarged)
    of_part = replace(g, frame=(part * g.frame[0], part * g.frame[1]))
    typesetter = Typesetter(measure, g.leading)
    usual, drawn = (
        drawn_cells(Row(folded(name), one.gutter), looks, one, str) for one in (g, of_part)
    )
    row = Row(folded(name), g.gutter)
    scales = zip(row.scales(of_part.frame), row.scales(g.frame), strict=True)
    number = g.column / 2 - typesetter.width("12", g.number_size, True) - measures.CELL.number_air
    extents = [extent(cell, number, g.frame) for cell in usual]
    boxes = stand_ins(usual, extents, [now / then for now, then in scales], of_part.frame)
    told, true = (cell_rows(some, of_part, typesetter) for some in (boxes, drawn))
    off = [abs(a.height - b.height) for a, b in zip(told, true, strict=True)]
    assert statistics.median(off) < 1.0
    assert max(off) < 2.0 * g.caption


def test_sizes_are_drawn_in_the_order_of_their_promises_and_the_best_is_taken() -> None:
    promises = {"a": 4.0, "b": 2.0, "c": 3.0, "d": 6.0}
    truth = {"a": 4.7, "b": 5.5, "c": 4.5}
    drawn: list[str] = []

    def draw_it(size: str) -> Sized[str]:
        drawn.append(size)
        return Sized(size, truth[size])

    assert best_size(promises, promises.get, draw_it, GAINS) == "c"
    assert drawn == ["b", "c", "a"]


def test_of_equal_promises_the_first_given_is_drawn_first() -> None:
    taken = best_size((0.9, 0.8), lambda size: 0.0, lambda size: Sized(size, 0.0), GAINS)
    assert taken == 0.9


def test_a_size_that_promises_nothing_or_cannot_be_had_is_never_taken() -> None:
    estimates = {"impossible": None, "fails": 1.0}
    drawn: list[str] = []

    def draw_it(size: str) -> None:
        drawn.append(size)

    assert best_size(estimates, estimates.get, draw_it, GAINS) is None
    assert drawn == ["fails"]


def test_no_more_sizes_are_drawn_than_asked_for() -> None:
    drawn: list[int] = []

    def draw_it(size: int) -> Sized[int]:
        drawn.append(size)
        return Sized(size, 9.0)

    assert best_size((1, 2, 3), float, draw_it, GAINS[:2]) == 1
    assert drawn == [1, 2]


def test_what_is_drawn_tells_what_others_will_come_to() -> None:
    """The first of three sizes on one page comes out as two pages: so would the next, but not the last."""
    drawn: list[float] = []

    def estimate(size: float) -> float:
        limit = 1.0 if not drawn else 0.8  # what fits one page, as far as is known
        return (1.0 if size <= limit else 2.0) - 0.1 * size

    def draw_it(size: float) -> Sized[float]:
        drawn.append(size)
        return Sized(size, (1.0 if size <= 0.8 else 2.0) - 0.1 * size)

    assert best_size((1.1, 1.0, 0.9, 0.8), estimate, draw_it, GAINS[:2]) == 0.8
    assert drawn == [1.0, 0.8]


def test_no_estimate_is_made_of_a_size_that_is_too_poor_whatever_its_pages_come_to() -> None:
    """What is taken, and the order of what is drawn, stay as they are where everything is estimated."""
    lowest = {"a": 3.5, "b": 1.0, "c": 2.0, "d": 5.0}
    promises = {"a": 4.0, "b": 2.0, "c": 2.0, "d": 6.0}
    estimated: list[str] = []
    drawn: list[str] = []

    def estimate(size: str) -> float:
        estimated.append(size)
        return promises[size]

    def draw_it(size: str) -> Sized[str]:
        drawn.append(size)
        return Sized(size, promises[size] + 1.0)

    assert best_size("abcd", estimate, draw_it, GAINS[:2], lowest.__getitem__) == "b"
    assert drawn == ["b", "c"]
    assert estimated == ["b", "c", "c"]


def test_rows_need_no_fewer_pages_than_they_come_to() -> None:
    """Three rows nearly half a page high: a page holds two, and only one below a head."""
    g = grid(A4)
    high = 0.47 * g.height
    assert fewest_pages([high] * 3, g) == 2
    assert fewest_pages([high] * 4, g) == 2
    assert fewest_pages([high] * 4, g, above=0.1 * g.height) == 3
    assert fewest_pages([high] * 2, g, above=0.6 * g.height) == 2
    assert fewest_pages([high / 4] * 3, replace(g, figures_most=g.columns)) == 3
    assert fewest_pages([], g) == 1


@pytest.mark.parametrize("name", ["cup", "letter"])
def test_no_row_is_lower_than_is_known_before_it_is_laid_out(name: str) -> None:
    """For every size that may be tried, so that none is given up which would be the best."""
    g, setter = grid(A4), Typesetter(measure, grid(A4).leading)
    row = Row(folded(name))
    cells = drawn_cells(row, COLOUR, g, lambda text: text)
    extents = [extent(cell, 0.0, g.frame) for cell in cells]
    usual = cell_scales(row, g)
    close = 0.0
    for tried in grids_to_try(g):
        growths = [now / then for now, then in zip(cell_scales(row, tried), usual, strict=True)]
        least = least_heights(cells, extents, growths, tried, setter)
        rows = cell_rows(stand_ins(cells, extents, growths, tried.frame), tried, setter)
        assert all(low <= one.height for low, one in zip(least, rows, strict=True))
        close = max(close, *(low / one.height for low, one in zip(least, rows, strict=True)))
    assert close > 0.9  # and as high as is known


def test_what_is_learnt_of_a_size_before_it_is_drawn_may_take_another() -> None:
    promises = {"a": 4.0, "b": 4.5}
    drawn: list[str] = []

    def look(size: str) -> bool:
        known = promises["a"] > 4.0
        promises["a"] = 5.0
        return not known

    def draw_it(size: str) -> Sized[str]:
        drawn.append(size)
        return Sized(size, promises[size])

    assert best_size("ab", promises.get, draw_it, GAINS, look=look) == "b"
    assert drawn == ["b"]


def test_figures_drawn_without_the_others_come_out_as_among_them() -> None:
    """So that those with circles, whose height is only known then, can be drawn first."""
    model, frame = (
        script_folded("valley left edge onto right edge", "valley B to C"),
        (120.0, 130.0),
    )
    some = draw(model, COLOUR, frame, only={1})
    every = draw(model, COLOUR, frame)
    assert [figure.caption for figure in some] == [figure.caption for figure in every]
    assert some[1] == every[1]
    assert not some[0].scene.items
    assert every[0].scene.items


def test_a_size_that_promises_too_little_more_is_not_drawn() -> None:
    """The first came out as promised: the next is drawn only where what it promises may be in doubt."""
    promises = {"a": 4.0, "b": 3.99, "c": 4.05}
    for gains, expected in (((0.02, 0.02), ["b"]), ((0.02, -0.1), ["b", "a"])):
        drawn: list[str] = []

        def draw_it(size: str, drawn: list[str] = drawn) -> Sized[str]:
            drawn.append(size)
            return Sized(size, promises[size])

        assert best_size(promises, promises.get, draw_it, gains) == "b"
        assert drawn == expected


def test_figures_drawn_for_themselves_lie_as_there_and_leave_signs_between_to_the_page(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Estimates begin with pictures of the steps as drawn: only signs of turns are left out."""
    model, style, g = folded("boat"), load_style("colour"), grid(A4)
    kept = DrawingCache()
    pictures = draw(model, style, g.frame, kept)
    monkeypatch.setattr(drawing, "compose", None)  # nothing is drawn anew
    alone = draw(model, style, g.frame, kept, g.gutter, alone=True)
    assert any(one.turns_after or one.turns_before for one in alone)
    fewer = [len(p.scene.items) - len(a.scene.items) for p, a in zip(pictures, alone, strict=True)]
    assert min(fewer) == 0
    assert max(fewer) > 0
