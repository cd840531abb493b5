"""Booklets as they lie open: what starts on the left, thumb marks, and the code on the back cover."""

from __future__ import annotations

import io
import shutil
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as File

import pytest
from PIL import Image

from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Path, Text
from foldscript.drawing.style.styles import load_style
from foldscript.output.cairo import png_bytes
from foldscript.output.fonts import fonts_of, measure
from foldscript.output.page_svg import page_svg
from foldscript.pages.booklet.link_code import link_code
from foldscript.pages.booklet.thumbs import thumb_marks
from foldscript.pages.document import Document, Page
from foldscript.pages.grid import grid
from foldscript.pages.sizes import page_size
from foldscript.pages.typesetting import Typesetter
from tests.output.test_photocopies import DPI, copied

from .bound import WORDS, bound

MM = 72 / 25.4
LINK = "https://example.org/folding/quay?page=1"


def starts(document: Document) -> dict[str, int]:
    """The number of the page that each model begins on."""
    return {m.title: m.page + 1 for m in document.bookmarks if m.title.startswith("Model")}


def pages_of(document: Document) -> dict[str, list[int]]:
    """Numbers of the pages with steps of each model that has its pages to itself."""
    first = [*starts(document).values()]
    ends = [*first[1:], next(m.page + 1 for m in document.bookmarks if "Credits" in m.title)]
    numbered = {
        number
        for number, page in enumerate(document.pages, 1)
        if any(
            isinstance(i.content, Text) and i.content.role == "text.number" for i in page.items[:-3]
        )
    }
    return {
        name: [n for n in range(begin, end) if n in numbered]
        for name, begin, end in zip(starts(document), first, ends, strict=True)
    }


@pytest.mark.parametrize("name", ["A4", "A5", "A6"])
@pytest.mark.parametrize(
    "steps", [(6, 13, 8), (8, 6, 13), (1, 2, 3, 4, 5, 20), (5,) * 6, (9, 7) * 3]
)
def test_models_of_two_pages_lie_open_at_once(name: str, steps: tuple[int, ...]) -> None:
    """Pages with even numbers lie left."""
    document = bound(page_size(name), steps)
    for model, pages in pages_of(document).items():
        if len(pages) == 2 and [*starts(document).values()].count(pages[0]) == 1:
            assert pages[0] % 2 == 0, model


def test_a_picture_of_the_model_stands_before_it_where_its_steps_have_to_wait() -> None:
    """6 steps take two pages of A5, 13 take three, 8 two: the last would begin on page 9."""
    document = bound(page_size("A5"), (6, 13, 8))
    assert starts(document) == {"Model 1": 4, "Model 2": 6, "Model 3": 10}
    plate = document.pages[8]
    assert len(plate.scenes) == 1
    assert "Model 3" in [i.content.text for i in plate.items if isinstance(i.content, Text)]


def thumbs(page: Page) -> Iterator[tuple[float, float, float, float]]:
    for item in page.items:
        if isinstance(item.content, Path) and item.content.role == "page.thumb":
            left, top, right, low = item_box(item.content) or (0.0, 0.0, 0.0, 0.0)
            x, y = item.at
            yield x + left, y + top, x + right, y + low


@pytest.mark.parametrize("name", ["A4", "A5", "Letter", "A6"])
def test_thumb_marks_step_down_at_the_outer_edge(name: str) -> None:
    """Within 5 mm of its edges a home printer prints nothing (common practice: 4 to 5 mm)."""
    document = bound(page_size(name), (3, 9, 13, 14))
    g = grid(page_size(name))
    tops: list[float] = []
    for number, page in enumerate(document.pages, 1):
        for left, top, right, low in thumbs(page):
            near, far = (
                (left, right)
                if number % 2 == 0
                else (page.size.width - right, page.size.width - left)
            )
            assert near == pytest.approx(5 * MM, abs=0.01)
            assert far < g.left - 1.0 * MM
            assert g.top <= top < low <= g.bottom
            assert right - left >= 1.5 * MM
            tops.append(top)
    assert tops == sorted(tops)
    assert len(set(tops)) == 4
    assert not [*thumbs(document.pages[0])]
    assert not [*thumbs(document.pages[1])]


def test_one_model_and_narrow_margins_have_no_thumb_marks() -> None:
    document = bound(page_size("A5"), (9,))
    assert not [mark for page in document.pages for mark in thumbs(page)]
    size = page_size("A5")
    assert [*thumb_marks(range(1), 3, True, size, grid(size), 5 * MM)]
    assert not [*thumb_marks(range(1), 3, True, size, grid(size), 10 * MM)]


def test_thumb_marks_outlive_two_copies() -> None:
    style = load_style("grey")
    page = next(p for p in bound(page_size("A5"), (3, 9, 13)).pages if [*thumbs(p)])
    ((left, top, right, low),) = thumbs(page)
    picture = Image.open(
        io.BytesIO(png_bytes(page_svg(page, style), DPI, fonts_of(style)))
    ).convert("L")
    x, y = (round(value / 2 * DPI / 72) for value in (left + right, top + low))
    assert copied(copied(picture)).getpixel((x, y)) == 0


# --- the code --------------------------------------------------------------------------------------


def test_the_back_cover_has_the_link_in_letters_and_as_a_code() -> None:
    with_link = bound(page_size("A5"), words=replace(WORDS, link=LINK))
    back = with_link.pages[-1]
    assert LINK in [i.content.text for i in back.items if isinstance(i.content, Text)]
    roles = [i.content.role for i in back.items if isinstance(i.content, Path)]
    assert "page.code" in roles
    assert roles.index("page.code.ground") < roles.index("page.code")
    without = bound(page_size("A5")).pages[-1]
    assert "page.code" not in [i.content.role for i in without.items if isinstance(i.content, Path)]


@pytest.mark.parametrize("link", [LINK, "http://a.io", "https://example.org/" + "x" * 180])
def test_the_code_is_white_round_about_and_its_squares_are_large_enough(link: str) -> None:
    """ISO/IEC 18004: four squares of white, and three corners of seven squares each way."""
    block = link_code(link, "", grid(page_size("A6")), Typesetter(measure, 1.2))
    ground, code = (item.content for item in block.items[:2])
    assert isinstance(ground, Path)
    assert isinstance(code, Path)
    outer, inner = item_box(ground), item_box(code)
    assert outer is not None
    assert inner is not None
    count = round((outer[2] - 0) / ((inner[0] - outer[0]) / 4))
    square = outer[2] / count
    assert square >= 0.5 * MM - 0.001
    assert (count - 8 - 21) % 4 == 0  # 21 squares, and four more for every version
    assert inner[0] - outer[0] == pytest.approx(4 * square)
    assert outer[2] - inner[2] == pytest.approx(4 * square)
    assert outer[3] - inner[3] == pytest.approx(4 * square)
    assert outer[2] < grid(page_size("A6")).width


@pytest.mark.skipif(shutil.which("zbarimg") is None, reason="zbarimg is not installed")
@pytest.mark.parametrize("style", ["colour", "grey", "dark"])
def test_a_reader_of_codes_finds_the_link(tmp_path: File, style: str) -> None:
    back = bound(page_size("A5"), words=replace(WORDS, link=LINK)).pages[-1]
    path = tmp_path / "back.png"
    path.write_bytes(png_bytes(page_svg(back, load_style(style)), 200, fonts_of(load_style(style))))
    run = subprocess.run(["zbarimg", "-q", "--raw", str(path)], capture_output=True, check=False)
    assert run.stdout.decode().strip() == LINK
