"""Sheets from pages: counts against a brute force and known values, cuts that run from edge to edge.

ISO 216: A4 210 x 297 mm; ANSI/ASME Y14.1: Letter 215.9 x 279.4 mm.
"""

from __future__ import annotations

from functools import cache
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.classes.cutting import Cutting, Paper, cut, saving_size

from ..conftest import examples

A4 = Paper("A4", 210.0, 297.0)
LETTER = Paper("Letter", 215.9, 279.4)


def made(paper: Paper, width: float, height: float) -> Cutting:
    found = cut(paper, width, height)
    assert found is not None
    return found


def sizes(found: Cutting) -> list[tuple[float, float]]:
    return [(r.width, r.height) for r in found.leftovers]


def test_a4_gives_a_square_of_210_mm() -> None:
    """Common practice: one cut, and a strip of 87 mm is left over."""
    found = made(A4, 210, 210)
    assert found.count == 1
    assert sizes(found) == [(210.0, 87.0)]
    (only,) = found.cuts
    assert (only.count, only.width, only.height, only.across, only.at) == (
        1,
        210.0,
        297.0,
        True,
        (210.0,),
    )


@pytest.mark.parametrize(
    ("paper", "width", "height", "count"),
    [
        (A4, 150, 150, 1),  # 297 < 2 x 150
        (A4, 148, 148, 2),
        (A4, 105, 105, 4),
        (A4, 75, 75, 6),  # 2 x 3
        (A4, 70, 70, 12),
        (A4, 210, 148.5, 2),  # A5, but for half a millimetre (ISO 216 rounds down)
        (A4, 297, 210, 1),
        (LETTER, 150, 150, 1),
        (LETTER, 139.7, 139.7, 2),  # 5.5 inches twice in 11
        (LETTER, 76.2, 76.2, 6),  # 3 inches: 2 x 3
        (LETTER, 215.9, 215.9, 1),
    ],
)
def test_sheets_a_page(paper: Paper, width: float, height: float, count: int) -> None:
    """Divided by hand."""
    assert made(paper, width, height).count == count


def test_a_page_that_is_the_sheet_needs_no_cut() -> None:
    found = made(A4, 297, 210)
    assert found.cuts == ()
    assert found.leftovers == ()


def test_what_does_not_fit() -> None:
    assert cut(A4, 300, 100) is None
    assert cut(A4, 211, 211) is None
    assert cut(LETTER, 210, 297) is None  # A4 is longer than Letter
    assert cut(A4, 215.9, 279.4) is None  # and Letter wider than A4


def test_pieces_turned_both_ways_on_one_page() -> None:
    """30 x 20 mm: 50 x 60 takes five without waste; in 50 x 50 a fourth would need a pinwheel, which
    straight cuts from edge to edge cannot make (derived)."""
    assert made(Paper("card", 50, 60), 30, 20).count == 5
    assert made(Paper("card", 50, 50), 30, 20).count == 3


def test_leftovers_are_told_largest_first() -> None:
    assert sizes(made(A4, 150, 150)) == [(210.0, 147.0), (60.0, 150.0)]


def test_alike_pieces_are_cut_alike() -> None:
    """Six squares of 75 mm in seven cuts: waste off first, then three strips, each cut in two."""
    found = made(A4, 75, 75)
    assert [(c.count, c.width, c.height, c.across, c.at) for c in found.cuts] == [
        (1, 210.0, 297.0, False, (150.0,)),
        (1, 150.0, 297.0, True, (75.0, 150.0, 225.0)),
        (3, 150.0, 75.0, False, (75.0,)),
    ]


@cache
def brute(width: int, height: int, w: int, h: int) -> int:
    """Most sheets by straight cuts from edge to edge, trying every whole millimetre."""
    if (width, height) in ((w, h), (h, w)):
        return 1
    if min(width, height) < min(w, h) or max(width, height) < max(w, h):
        return 0
    best = 0
    for x in range(1, width // 2 + 1):
        best = max(best, brute(x, height, w, h) + brute(width - x, height, w, h))
    for y in range(1, height // 2 + 1):
        best = max(best, brute(width, y, w, h) + brute(width, height - y, w, h))
    return best


@examples(60)
@given(st.integers(4, 22), st.integers(4, 22), st.integers(2, 9), st.integers(2, 9))
def test_as_many_as_every_way_of_cutting_gives(width: int, height: int, w: int, h: int) -> None:
    found = cut(Paper("card", width * 10, height * 10), w * 10, h * 10)
    assert (found.count if found else 0) == brute(width, height, w, h)


@given(st.floats(60, 400), st.floats(60, 400), st.floats(4, 120), st.floats(4, 120))
def test_pieces_fill_the_page_and_do_not_overlap(w: float, h: float, a: float, b: float) -> None:
    width, height, a, b = (round(v, 1) for v in (w, h, a, b))
    found = cut(Paper("card", width, height), a, b)
    if found is None:
        return
    pieces = [*found.sheets, *found.leftovers]
    for one in found.sheets:
        assert sorted((one.width, one.height)) == pytest.approx(sorted((a, b)), abs=0.06)
    for one in pieces:
        assert one.x >= 0
        assert one.y >= 0
        assert one.x + one.width <= width + 0.01
        assert one.y + one.height <= height + 0.01
    if len(pieces) < 60:
        for p, q in combinations(pieces, 2):
            across = min(p.x + p.width, q.x + q.width) - max(p.x, q.x)
            down = min(p.y + p.height, q.y + q.height) - max(p.y, q.y)
            assert min(across, down) <= 0.01
    area = sum(p.width * p.height for p in pieces)
    assert area <= width * height + 0.1
    assert area >= width * height - (width + height) * 1.0 * (len(pieces) + 1)


def test_many_small_sheets_are_laid_in_rows() -> None:
    assert made(A4, 5, 5).count == 42 * 59
    assert made(A4, 20, 30).count >= (210 // 20) * (297 // 30)


def test_a_slightly_smaller_square_can_save_half_the_paper() -> None:
    """Common practice: two squares of 148 mm from A4, where 150 mm gives one."""
    assert saving_size(A4, 150, 150) == (148.0, 148.0, 2)
    assert saving_size(A4, 140, 140) is None
