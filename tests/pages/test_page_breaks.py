"""Page breaks: rows shared out over pages."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from foldscript.pages.layout.page_breaks import PageRoom, RowSize, page_breaks


def sizes(rows: list[RowSize], room: PageRoom) -> list[int]:
    return [len(share) for share in page_breaks(rows, room).pages]


def test_all_on_one_page_where_they_fit() -> None:
    assert sizes([RowSize(100, 3)] * 3, PageRoom(first=330, later=700, gap=15, most=3)) == [3]


def test_as_few_pages_as_possible() -> None:
    assert len(sizes([RowSize(100, 3)] * 7, PageRoom(first=215, later=330, gap=15, most=3))) == 3


def test_no_single_figure_on_the_last_page() -> None:
    rows = [RowSize(100, 2), RowSize(100, 2), RowSize(100, 2), RowSize(100, 1)]
    assert sizes(rows, PageRoom(first=310, later=310, gap=0, most=3)) == [2, 2]


def test_a_page_inside_a_model_is_not_left_half_empty() -> None:
    """Rather a single figure overleaf; and three pages rather even than one of them half empty."""
    rows = [RowSize(100, 2), RowSize(100, 2), RowSize(100, 2), RowSize(100, 1)]
    assert sizes(rows, PageRoom(first=400, later=400, gap=0, most=3)) == [3, 1]
    even = [RowSize(100, 2)] * 6
    assert sizes(even, PageRoom(first=250, later=250, gap=0, most=3)) == [2, 2, 2]


def test_the_tail_takes_a_row_along_rather_than_stand_alone() -> None:
    rows = [RowSize(100, 3)] * 3
    assert sizes(rows, PageRoom(first=300, later=300, gap=0, most=3, tail=90)) == [2, 1]


def test_a_tail_as_high_as_the_page_stands_alone() -> None:
    rows = [RowSize(100, 3)] * 2
    assert sizes(rows, PageRoom(first=300, later=300, gap=0, most=3, tail=290)) == [2, 0]


def test_a_head_as_high_as_the_page_stands_alone() -> None:
    assert sizes([RowSize(100, 3)] * 2, PageRoom(first=50, later=300, gap=0, most=3)) == [0, 2]


def test_a_page_does_not_begin_with_a_step_half_way_where_others_are_as_good() -> None:
    room = PageRoom(first=300, later=300, gap=0, most=3, stretch=100)
    for half, pages in ((2, [3, 2]), (3, [2, 3])):
        rows = [RowSize(100, 2, goes_on=k == half) for k in range(5)]
        assert sizes(rows, room) == pages


def test_what_is_reserved_at_the_foot_of_a_page_leaves_its_rows_less_room() -> None:
    rows = [RowSize(100, 3)] * 6
    room = PageRoom(first=300, later=300, gap=0, most=3)
    assert sizes(rows, room) == [3, 3]
    assert sizes(rows, replace(room, reserved=(0, 90.0))) == [2, 3, 1]
    assert sizes(rows, replace(room, reserved=(1, 90.0))) == [3, 2, 1]


def test_no_rows_still_make_a_page() -> None:
    assert sizes([], PageRoom(first=300, later=300, gap=0, most=3)) == [0]


@given(
    st.lists(st.tuples(st.floats(10, 300), st.integers(1, 3)), max_size=20),
    st.floats(0, 300),
    st.floats(0, 300),
    st.integers(1, 4),
)
def test_every_row_once_in_order_and_no_page_too_full(
    made: list[tuple[float, int]], first: float, tail: float, most: int
) -> None:
    rows = [RowSize(height, figures) for height, figures in made]
    room = PageRoom(first, 300.0, 10.0, most, tail)
    shares = page_breaks(rows, room).pages
    assert [i for share in shares for i in share] == list(range(len(rows)))
    for number, share in enumerate(shares):
        used = sum(rows[i].height for i in share) + 10.0 * (len(share) - 1)
        assert len(share) <= most
        assert not share or used <= (first if number == 0 else 300.0) + 1e-3
