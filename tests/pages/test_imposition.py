"""The order of pages on sheets that are folded once and nested."""

from __future__ import annotations

import pytest

from foldscript.pages.booklet.imposition import padded_count, page_at, saddle, sheet_for, turned_on
from foldscript.pages.sizes import PageSize, page_size


def test_twenty_pages() -> None:
    """Saddle stitching, common practice: the outer sheet holds 20 | 1 and, behind, 2 | 19."""
    sides = [(side.left + 1, side.right + 1) for side in saddle(20)]
    assert sides == [
        (20, 1),
        (2, 19),
        (18, 3),
        (4, 17),
        (16, 5),
        (6, 15),
        (14, 7),
        (8, 13),
        (12, 9),
        (10, 11),
    ]


@pytest.mark.parametrize("count", range(1, 30))
def test_blank_pages_fill_the_sheets_before_the_back_cover(count: int) -> None:
    full = padded_count(count)
    assert full % 4 == 0
    assert 0 <= full - count < 4
    pages = [page_at(position, count) for position in range(full)]
    assert [page for page in pages if page is not None] == list(range(count))
    assert pages[-1] == count - 1
    assert pages[: count - 1] == list(range(count - 1))


@pytest.mark.parametrize("count", range(4, 44, 4))
def test_pages_that_meet_make_one_more_than_all(count: int) -> None:
    for side in saddle(count):
        assert side.left + side.right + 2 == count + 1


@pytest.mark.parametrize(
    ("page", "sheet"),
    [("A5", "A4"), ("A4", "A3"), ("A6", "A5"), ("half letter", "Letter"), ("Letter", "Tabloid")],
)
def test_two_pages_lie_on_the_next_larger_paper(page: str, sheet: str) -> None:
    """ISO 216: halving a size gives the next, rounded down to whole millimetres."""
    size, large = page_size(page), page_size(sheet).landscape()
    found = sheet_for(size)
    assert (found.name, found.width, found.height) == (sheet, large.width, large.height)
    assert 0 <= found.width - 2 * size.width < 3
    assert turned_on(found) == "short"


def test_a_paper_without_a_name() -> None:
    found = sheet_for(PageSize("own", 720.0, 72.0))
    assert (found.width, found.height) == (1440.0, 72.0)
    assert found.name == "508 × 25 mm"
    assert turned_on(sheet_for(PageSize("slip", 100.0, 400.0))) == "long"
