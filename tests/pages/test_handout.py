"""The handout as a whole, with hand-made figures: nothing overlaps, nothing leaves the page."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise

import pytest
import shapely

from foldscript.drawing.scene.outlines import shifted
from foldscript.drawing.scene.scene import Draw, Move, Path, Scene, Text
from foldscript.drawing.scene.strokes import polylines
from foldscript.folding.ending import finished_size_mm
from foldscript.output.fonts import measure
from foldscript.pages.document import Document, Page, Placed
from foldscript.pages.grid import finished_frame, grid
from foldscript.pages.layout.cells import CellRow, cell_rows
from foldscript.pages.layout.head import rounded_mm
from foldscript.pages.layout.row_places import Figure
from foldscript.pages.measures import COSTS
from foldscript.pages.sizes import PageSize, page_size
from foldscript.pages.typesetting import Typesetter
from foldscript.source.diagnostics import FoldscriptError

from .fakes import CAPTIONS, figures, handout_of, model, scene, signs

Box = tuple[float, float, float, float]
SIZES = ("A4", "Letter", "A5")


def laid_out(
    count: int,
    size: PageSize,
    captions: tuple[str, ...] = CAPTIONS,
    notes: tuple[str, ...] = (),
    keys: int = 5,
    title: str = "Folded card",
) -> Document:
    return handout_of(
        model(count, title=title, notes=notes),
        figures(count, grid(size).frame, captions),
        scene(*finished_frame(size)),
        signs(keys),
        size,
        measure,
    )


def box(item: Placed) -> Box:
    """What an item covers, in points; a line of text from its ascenders to its descenders."""
    x, y = item.at
    match item.content:
        case Scene() as s:
            return (x, y, x + s.width * item.scale, y + s.height * item.scale)
        case Text() as t:
            width = measure(t.text, t.size, t.bold)
            left = x - {"start": 0.0, "middle": width / 2, "end": width}[t.anchor]
            return (left, y - 0.72 * t.size, left + width, y + 0.23 * t.size)
        case Path():
            return (x, y, x, y)


def overlap(a: Box, b: Box) -> bool:
    slack = 0.01
    return (
        a[0] < b[2] - slack and b[0] < a[2] - slack and a[1] < b[3] - slack and b[1] < a[3] - slack
    )


def check_page(page: Page) -> None:
    g = grid(page.size)
    boxes = [(item, box(item)) for item in page.items if not isinstance(item.content, Path)]
    for item, (left, top, right, bottom) in boxes:
        foot = isinstance(item.content, Text) and abs(item.at[1] - g.foot) < 1e-6
        assert left >= g.left - 0.01
        assert right <= g.right + 0.01
        assert top >= g.top - 0.01
        assert foot or bottom <= g.bottom + 0.01, item
    check_apart(boxes)


def check_apart(boxes: Sequence[tuple[Placed, Box]]) -> None:
    """Nothing lies on anything else; a number stands within its figure's frame, but on none of its ink."""
    for (one, a), (other, b) in combinations(boxes, 2):
        if {"text.number"} & {role(one), role(other)} and not (is_text(one) and is_text(other)):
            figure, letters = (one, b) if is_text(other) else (other, a)
            assert not is_inked(figure, letters), (one, other)
        else:
            assert not overlap(a, b), (one, other)


def is_text(item: Placed) -> bool:
    return isinstance(item.content, Text)


def role(item: Placed) -> str:
    return item.content.role if isinstance(item.content, Text) else ""


def is_inked(figure: Placed, letters: Box) -> bool:
    """Whether a stroke or an area of a figure, which is shown in its frame, lies where letters stand."""
    assert isinstance(figure.content, Scene)
    place = shapely.box(*letters)
    for item in figure.content.items:
        if isinstance(item, Text):
            continue
        for line in polylines([item]):
            points = [
                (figure.at[0] + x * figure.scale, figure.at[1] + y * figure.scale) for x, y in line
            ]
            area = item.is_paper and len(points) > 3
            if place.intersects(shapely.Polygon(points) if area else shapely.LineString(points)):
                return True
    return False


def numbers(page: Page) -> list[Placed]:
    return [
        item
        for item in page.items
        if isinstance(item.content, Text) and item.content.role == "text.number"
    ]


def label(item: Placed) -> str:
    assert isinstance(item.content, Text)
    return item.content.text


@pytest.mark.parametrize("name", SIZES)
@pytest.mark.parametrize("count", [*range(1, 14), 20, 27, 40])
def test_nothing_overlaps_and_nothing_leaves_the_margins(name: str, count: int) -> None:
    document = laid_out(count, page_size(name), notes=("Use stiff paper.",) if count % 3 else ())
    for page in document.pages:
        check_page(page)
    shown = [label(item) for page in document.pages for item in numbers(page)]
    assert shown == [str(i + 1) for i in range(count)]


@pytest.mark.parametrize(
    "name", ["A3", "A6", "Legal", "Half letter", "A4 landscape", "A5 landscape"]
)
def test_every_other_size_works_too(name: str) -> None:
    for count in (1, 6, 17):
        for page in laid_out(count, page_size(name)).pages:
            check_page(page)


@pytest.mark.parametrize(("name", "most"), [("A4", 12), ("Letter", 12), ("A5", 8)])
def test_figures_a_page(name: str, most: int) -> None:
    """Common practice: six to twelve figures on A4 or Letter, four to eight on A5."""
    document = laid_out(40, page_size(name))
    counts = [len(numbers(page)) for page in document.pages]
    assert max(counts) <= most
    assert all(count >= most / 2 for count in counts[1:-1])


@pytest.mark.parametrize("name", SIZES)
def test_figures_read_left_to_right_then_down(name: str) -> None:
    for page in laid_out(17, page_size(name)).pages:
        g = grid(page.size)
        for one, other in pairwise(numbers(page)):
            (x, y), (next_x, next_y) = one.at, other.at
            beside = abs(next_x - x - g.column - g.gutter) < 0.01
            assert (beside and abs(next_y - y) < 0.01) or (next_x < x and next_y > y + 1)


@pytest.mark.parametrize("name", SIZES)
@pytest.mark.parametrize("count", range(3, 41))
def test_no_figure_is_left_alone_on_the_last_page(name: str, count: int) -> None:
    """Unless the page before would be poor without the row that stands on it."""
    pages = laid_out(count, page_size(name)).pages
    if len(pages) < 2:
        return
    g = grid(pages[0].size)

    def figures_on(page: Page) -> list[Placed]:
        return [item for item in page.scenes if item.content.width >= g.frame[0] - 1]  # type: ignore[union-attr]

    if len(figures_on(pages[-1])) == 1:
        before = figures_on(pages[-2])
        row = max(item.at[1] for item in before) - 10.0  # figures of a row begin at like heights
        above = max(box(item)[3] for item in before if item.at[1] < row) - g.top
        assert 1.0 - above / (g.bottom - g.top) > COSTS.poor_from


def test_number_stands_in_the_corner_of_its_figure_and_caption_below() -> None:
    """Level with the figure's top, or above it, and three millimetres above the caption."""
    (page,) = laid_out(1, page_size("A4")).pages
    number = numbers(page)[0]
    figure = next(p for p in page.scenes if p.at[1] > box(number)[1] - 1)
    caption = next(
        p
        for p in page.items
        if isinstance(p.content, Text) and p.content.text.startswith("Fold the")
    )
    assert box(number)[0] == pytest.approx(figure.at[0])
    assert box(number)[1] <= figure.at[1] + 0.01
    assert not is_inked(figure, box(number))
    assert caption.at[1] - 7.5 - box(figure)[3] == pytest.approx(3 * 72 / 25.4)


def test_numbers_of_a_row_stand_level_however_high_its_figures_are() -> None:
    """Where they stand in the corners of a low figure, a tall one and one whose corner is inked."""
    size = page_size("A4")
    wide, high = grid(size).frame
    inked = Path("edge", ((Move((0.0, 0.2 * high)), Draw((wide, 0.2 * high)))))
    low = Path("edge", ((Move((0.3 * wide, 0.6 * high)), Draw((0.6 * wide, 0.7 * high)))))
    scenes = (Scene(wide, high, (low,)), scene(wide, high), Scene(wide, high, (inked, low)))
    made = [Figure(str(k + 1), "Fold.", one) for k, one in enumerate(scenes)]
    (page,) = handout_of(model(3), made, None, [], size, measure).pages
    check_page(page)
    heights = [item.at[1] for item in numbers(page)]
    assert heights == pytest.approx([heights[0]] * 3)


def test_a_figure_with_a_part_drawn_larger_above_it_makes_its_row_no_higher() -> None:
    """It stands lower, as far as the others reach down; its neighbours stand as they would without it."""
    size = page_size("A4")
    wide, high = grid(size).frame
    tall = scene(wide, high)
    low = Path("edge", (Move((0.3 * wide, 0.4 * high)), Draw((0.7 * wide, 0.6 * high))))
    out = 0.1 * high  # a circle above the frame, and as much room below
    circle = Path("sign", (Move((0.5 * wide, 1.0)), Draw((0.6 * wide, 0.5 * out))))
    part = Scene(wide, high + 2 * out, (circle, shifted(low, 0.0, out)))
    typesetter = Typesetter(measure, grid(size).leading)

    def row(*scenes: Scene) -> CellRow:
        made = [Figure(str(k + 1), "Fold.", one) for k, one in enumerate(scenes)]
        (found,) = cell_rows(made, grid(size), typesetter)
        return found

    assert row(tall, part).height == pytest.approx(row(tall, tall).height)
    assert row(tall, part).cells[0][1] == row(tall, tall).cells[0][1]


def test_a_panel_letter_fits_beside_its_figure_too() -> None:
    size = page_size("A4")
    made = [Figure(name, "Fold.", scene(*grid(size).frame)) for name in ("9", "10", "11a", "28b")]
    for page in handout_of(model(4), made, None, [], size, measure).pages:
        check_page(page)
        assert all(t.content.size >= 11 for t in numbers(page) if isinstance(t.content, Text))


def test_long_caption_wraps_within_its_column() -> None:
    long = "Fold the lower right corner up to the crease. " * 3
    document = laid_out(4, page_size("A4"), captions=(long,))
    for page in document.pages:
        check_page(page)
    lines = [t for t in document.texts() if "crease" in t or "corner" in t]
    g = grid(page_size("A4"))
    assert all(measure(line, g.caption, False) <= g.column for line in lines)


def test_very_long_caption_gets_a_row_of_its_own() -> None:
    size = page_size("A4")
    long = "Fold the lower right corner up to the crease and press. " * 12
    document = laid_out(3, size, captions=("Fold.", long, "Unfold."))
    for page in document.pages:
        check_page(page)
    places = [item.at for page in document.pages for item in numbers(page)]
    assert all(abs(x - grid(size).left) < 0.01 for x, _ in places)


def test_unbroken_word_wider_than_the_column_is_broken() -> None:
    for page in laid_out(2, page_size("A5"), captions=("x" * 300,)).pages:
        check_page(page)


def test_caption_longer_than_a_page_is_refused() -> None:
    with pytest.raises(FoldscriptError) as caught:
        laid_out(3, page_size("A5"), captions=("Fold.", "Crease the corner well. " * 400))
    (diagnostic,) = caught.value.diagnostics
    assert diagnostic.code == "caption-too-long"
    assert "step 2" in diagnostic.message


def test_head_longer_than_a_page_is_refused() -> None:
    with pytest.raises(FoldscriptError) as caught:
        laid_out(3, page_size("A5"), title="long " * 400)
    assert caught.value.diagnostics[0].code == "head-too-long"


def test_long_title_and_many_signs_and_notes() -> None:
    document = laid_out(
        5,
        page_size("A5"),
        title="A card with a very long name that nobody would ever print on one line of a page",
        notes=("Take care with the corners. " * 60, "Stiff paper holds better."),
        keys=24,
    )
    for page in document.pages:
        check_page(page)
    texts = " ".join(document.texts())
    assert "Stiff paper holds better." in texts


def test_short_notes_are_read_before_the_first_figure() -> None:
    texts = list(laid_out(5, page_size("A4"), notes=("Use stiff paper.", "Crease well.")).texts())
    assert texts.index("Notes") < texts.index("Use stiff paper.") < texts.index("Crease well.")
    assert texts.index("Crease well.") < texts.index("1")
    assert texts.count("Use stiff paper.") == 1


def test_long_notes_are_read_before_the_first_figure_too() -> None:
    notes = ("Take care with the corners. " * 60, "Stiff paper holds better.")
    document = laid_out(5, page_size("A4"), notes=notes)
    texts = list(document.texts())
    assert texts.index("Notes") < texts.index("Stiff paper holds better.") < texts.index("1")
    for page in document.pages:
        check_page(page)


def test_larger_figures_are_reduced_to_their_frame() -> None:
    size = page_size("A4")
    wide = Figure("1", "Fold.", scene(900.0, 300.0))
    document = handout_of(model(1), [wide], None, [], size, measure)
    (placed,) = document.pages[0].scenes
    assert placed.scale * 900.0 == pytest.approx(grid(size).frame[0])


def test_head_says_what_a_folder_needs_before_the_first_fold() -> None:
    texts = " | ".join(laid_out(6, page_size("A4")).texts())
    for fact in (
        "Folded card",
        "traditional",
        "square 15 cm, coloured side down",
        "about 150 × 75 mm",
        "Steps | 6",
        "simple",
        "free to copy and share",
    ):
        assert fact in texts


def test_facts_that_are_not_given_are_left_out() -> None:
    document = handout_of(model(2, licence=""), [], None, [], page_size("A4"), measure)
    assert "Licence" not in " ".join(document.texts())


def test_finished_size_is_that_of_the_folded_paper() -> None:
    """A square of 150 mm folded in half once is 150 x 75 mm."""
    assert finished_size_mm(model()) == pytest.approx((150.0, 75.0))


@pytest.mark.parametrize(
    ("length", "text"),
    [(75.0, "75"), (106.066, "106"), (299.4, "299"), (420.2, "420"), (593.0, "595")],
)
def test_sizes_are_rounded_for_a_ruler(length: float, text: str) -> None:
    assert rounded_mm(length) == text


@pytest.mark.parametrize("count", [4, 6, 9, 14])
def test_foot_names_the_model_and_counts_the_pages(count: int) -> None:
    document = laid_out(count, page_size("A5"))
    for number, page in enumerate(document.pages, start=1):
        texts = [item.content.text for item in page.items if isinstance(item.content, Text)]
        assert "Folded card · traditional" in texts
        assert f"page {number} of {len(document.pages)}" in texts
        assert page.label == str(number)


def test_key_lists_each_entry_once() -> None:
    texts = list(laid_out(9, page_size("A4"), keys=5).texts())
    assert texts.count("Signs used") == 1
    assert texts.count("valley fold") == 1
    assert "Signs used" not in list(laid_out(9, page_size("A4"), keys=0).texts())


def test_bookmarks_lead_to_every_figure_in_order() -> None:
    document = laid_out(14, page_size("A4"))
    first, *steps = document.bookmarks
    assert (first.title, first.page, first.level) == ("Folded card", 0, 0)
    assert [mark.title.split()[0] for mark in steps[:-1]] == [str(i + 1) for i in range(14)]
    assert all(a.page <= b.page for a, b in pairwise(steps))
    for mark in steps[:-1]:
        on_page = [label(item) for item in numbers(document.pages[mark.page])]
        assert mark.title.split()[0] in on_page
