"""The booklet as a whole, with hand-made models: order, contents, feet, nothing over anything."""

from __future__ import annotations

from dataclasses import replace

import pytest

from foldscript.drawing.scene.scene import Path, Text
from foldscript.output.fonts import measure
from foldscript.pages.booklet.booklet import ChapterError, assemble
from foldscript.pages.booklet.texts import BookletTexts
from foldscript.pages.document import Document, Page, Placed
from foldscript.pages.grid import grid
from foldscript.pages.sizes import page_size
from foldscript.source.diagnostics import FoldscriptError

from .bound import WORDS, bound, chapter
from .test_handout import box, check_apart

SIZES = ("A4", "A5", "Letter", "half letter")


def texts(page: Page) -> list[str]:
    return [item.content.text for item in page.items if isinstance(item.content, Text)]


def said(page: Page) -> str:
    return " ".join(texts(page))


def page_of(document: Document, words: str) -> int:
    """The first page, counted from 0, with a text of exactly these words."""
    return next(i for i, page in enumerate(document.pages) if words in texts(page))


def titles(document: Document, level: int) -> list[str]:
    return [mark.title for mark in document.bookmarks if mark.level == level]


@pytest.mark.parametrize("name", [*SIZES, "A6", "A5 landscape"])
@pytest.mark.parametrize("steps", [(6,), (6, 13, 8), (3,) * 12, (1, 2, 3, 4, 5, 20)])
def test_nothing_overlaps_and_nothing_leaves_the_margins(name: str, steps: tuple[int, ...]) -> None:
    document = bound(page_size(name), steps)
    for page in document.pages:
        g = grid(page.size)
        boxes = [(item, box(item)) for item in page.items if not isinstance(item.content, Path)]
        for _, (left, top, right, bottom) in boxes:
            assert left >= g.left - 0.01
            assert right <= g.right + 0.01
            assert top >= g.top - 0.01
            assert bottom <= page.size.height - 0.3 * g.top
        check_apart(boxes)


def test_parts_in_their_order() -> None:
    document = bound(page_size("A5"))
    assert titles(document, 0) == [
        "Paper on the Quay",
        "Contents",
        "Before you fold",
        "Model 1",
        "Model 2",
        "Model 3",
        "Credits and licences",
    ]
    pages = [mark.page for mark in document.bookmarks]
    assert pages == sorted(pages)
    assert "Otterhythe Branch Library" in said(document.pages[0])
    assert "Otterhythe Branch Library" in said(document.pages[-1])
    assert "Copy it." in said(document.pages[-2])
    assert len(document.pages[0].scenes) == 3
    assert len(document.pages[-1].scenes) == 3


def test_steps_hang_below_their_model_and_are_shut() -> None:
    document = bound(page_size("A5"))
    model, last = None, 0
    for mark in document.bookmarks:
        if mark.level == 0:
            model, last = mark, 0
        elif mark.title[0].isdigit():
            assert model is not None
            assert model.shut
            assert int(mark.title.split()[0]) == last + 1
            last += 1


def test_one_key_for_the_whole_booklet() -> None:
    document = bound(page_size("A5"), keys=40)
    words = [text for page in document.pages for text in texts(page)]
    assert words.count("Signs used in this booklet") == 1
    assert "Signs used" not in words
    assert len([w for w in words if w.startswith("turn over")]) == 8


@pytest.mark.parametrize("name", SIZES)
@pytest.mark.parametrize("steps", [(6, 13, 8), (3,) * 30])
def test_contents_say_where_the_models_are_and_lead_there(
    name: str, steps: tuple[int, ...]
) -> None:
    document = bound(page_size(name), steps)
    links = [link for page in document.pages for link in page.links]
    starts = [mark for mark in document.bookmarks if mark.title.startswith("Model")]
    assert [(link.page, link.top) for link in links] == [(m.page, m.top) for m in starts]
    numbers = [
        item.content.text
        for page in document.pages
        for item in page.items
        if isinstance(item.content, Text)
        and item.content.role == "text.contents"
        and item.content.anchor == "end"
    ]
    assert numbers == [str(link.page + 1) for link in links]
    for mark in starts:
        heads = [t for t in texts(document.pages[mark.page]) if t == mark.title]
        assert heads, mark


def test_links_cover_their_lines() -> None:
    document = bound(page_size("A5"))
    page = document.pages[1]
    for number, link in enumerate(page.links, 1):
        title = next(
            item
            for item in page.items
            if isinstance(item.content, Text) and item.content.text == f"Model {number}"
        )
        left, top, right, bottom = box(title)
        assert link.box[0] <= left
        assert link.box[1] <= top
        assert right <= link.box[2]
        assert bottom <= link.box[3]


def test_every_model_starts_on_a_new_page() -> None:
    document = bound(page_size("A5"))
    starts = [m.page for m in document.bookmarks if m.title.startswith("Model")]
    assert len(set(starts)) == 3
    for start in starts:
        labels = [
            item.content.text
            for item in document.pages[start].items
            if isinstance(item.content, Text) and item.content.role == "text.number"
        ]
        assert labels[0] == "1"


def test_short_models_share_a_page() -> None:
    document = bound(page_size("A4"), (2, 2, 9, 2))
    first, second, third, fourth = (
        (m.page, m.top) for m in document.bookmarks if m.title.startswith("Model")
    )
    assert first[0] == second[0] < third[0] < fourth[0]
    assert first[1] == 0.0 < second[1]
    assert texts(document.pages[first[0]])[-1] == "Paper on the Quay"
    odd = third[0] + 1
    assert odd % 2 == 0
    assert any(text.startswith("Model") for text in texts(document.pages[odd])[-2:])


def test_page_numbers_stand_at_the_outer_edge() -> None:
    """Even pages lie left of the spine, odd ones right of it."""
    document = bound(page_size("A5"))
    for number, page in enumerate(document.pages[1:-1], start=2):
        g = grid(page.size)
        folio = next(
            item
            for item in page.items
            if isinstance(item.content, Text)
            and item.content.text == str(number)
            and abs(item.at[1] - g.foot) < 1e-6
        )
        assert folio.at[0] == pytest.approx(g.left if number % 2 == 0 else g.right)
        assert page.label == str(number)
    assert document.pages[0].label == "Cover"
    assert document.pages[-1].label == "Back cover"


def test_the_finished_model_closes_its_chapter() -> None:
    """Seven figures in two columns: the last stands alone, in the middle and larger."""
    document = bound(page_size("A5"), (6,))
    (start,) = (m.page for m in document.bookmarks if m.title == "Model 1")
    page = document.pages[start + 1]
    g = grid(page.size)
    last = page.scenes[-1]
    left, _, right, _ = box(last)
    assert (left + right) / 2 == pytest.approx((g.left + g.right) / 2, abs=0.1)
    caption = next(
        i for i in page.items if isinstance(i.content, Text) and "finished" in i.content.text
    )
    assert isinstance(caption.content, Text)
    assert caption.content.anchor == "middle"


def test_levels_set_the_contents_apart_only_where_there_are_several() -> None:
    words = replace(WORDS, levels=True)
    several = bound(page_size("A5"), words=words, levels=("simple", "simple", "complex"))
    shown = texts(several.pages[1])
    assert shown.index("Simple") < shown.index("Model 1") < shown.index("Complex")
    assert "Simple" not in texts(bound(page_size("A5"), words=words).pages[1])


def test_credits_name_every_model_once() -> None:
    size = page_size("A5")
    one, other, third = (chapter(2, size, name) for name in ("Cup", "Hat", "Star"))
    other = replace(other, model=replace(other.model, credit="", licence=""))
    document = assemble(WORDS, [one, other, third], [], [], grid(size), size, measure)
    page = document.pages[page_of(document, "Credits and licences")]
    shown = texts(page)
    at = shown.index("Traditional · free to copy and share")
    assert shown[at : at + 2] == ["Traditional · free to copy and share", "Cup, Star"]
    assert shown[shown.index("Designer not named") + 1] == "Hat"


def test_a_booklet_that_says_nothing_but_its_title() -> None:
    size = page_size("A5")
    document = assemble(
        BookletTexts("Club"), [chapter(1, size, "Cup")], [], [], grid(size), size, measure
    )
    assert titles(document, 0) == ["Club", "Contents", "Cup", "Credits and licences"]


@pytest.mark.parametrize("title", ["Long " * 60, "Paperfolding" * 9])
def test_a_title_that_no_cover_holds_is_refused(title: str) -> None:
    with pytest.raises(FoldscriptError) as caught:
        bound(page_size("A6"), words=replace(WORDS, title=title))
    assert caught.value.diagnostics[0].code == "cover-too-full"


@pytest.mark.parametrize(
    "title", ["Hat", "Paper on the Quay", "Forty Things to Fold on a Rainy Afternoon in October"]
)
@pytest.mark.parametrize("name", SIZES)
def test_the_title_fills_its_panel_without_breaking_a_word(title: str, name: str) -> None:
    page = bound(page_size(name), (2,), words=replace(WORDS, title=title)).pages[0]
    lines = [
        item
        for item in page.items
        if isinstance(item.content, Text)
        and item.content.role == "text.cover"
        and item.content.bold
    ]
    assert " ".join(line_text(line) for line in lines) == title
    assert all(box(line)[2] <= grid(page.size).right for line in lines)
    assert max(box(line)[3] for line in lines) < 0.38 * page.size.height


def line_text(item: Placed) -> str:
    assert isinstance(item.content, Text)
    return item.content.text


def test_the_model_whose_caption_does_not_fit_is_named() -> None:
    size = page_size("A6")
    good, bad = chapter(2, size, "Cup"), chapter(2, size, "Hat")
    long = replace(bad.figures[0], caption="Fold the corner. " * 300)
    bad = replace(bad, figures=(long, *bad.figures[1:]))
    with pytest.raises(ChapterError) as caught:
        assemble(WORDS, [good, bad], [], [], grid(size), size, measure)
    assert caught.value.chapter == 1
    assert caught.value.diagnostics[0].code == "caption-too-long"


def test_the_same_booklet_twice_is_the_same() -> None:
    first = bound(page_size("A5"))
    bound.cache_clear()
    assert bound(page_size("A5")) == first
