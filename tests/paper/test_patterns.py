"""Crease patterns: how the sheet is divided, where facets lie, what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.geometry.isometries import IDENTITY
from foldscript.geometry.lines import Point, Segment, distance, line_at
from foldscript.geometry.polygons import area
from foldscript.paper.flap import flap, fold_flap
from foldscript.paper.layers import Collision
from foldscript.paper.sheet import Sheet
from foldscript.paper.silhouette import centre
from foldscript.paper.state import flat as flat_sheet
from foldscript.source.diagnostics import Refusal

from ..conftest import assert_sound, examples
from ..geometry.plane import is_convex
from .orders import (
    assignments,
    count_assignments,
    count_orders,
    fold_pattern,
    folded,
    orders,
    senses_of,
)
from .patterns import pattern
from .sheets import M, V, grid, rectangle, strip, vertex

O = (0.5, 0.5)  # noqa: E741


def test_a_sheet_without_creases_is_one_facet() -> None:
    flat = pattern(rectangle(), [])
    assert [f.outline for f in flat.facets] == [rectangle().outline]
    assert flat.folds == ()
    assert count_orders(flat) == 1
    assert count_assignments(flat) == 1


def test_crossing_creases_are_divided_where_they_cross() -> None:
    flat = pattern(rectangle(), [((0.5, 0.0), (0.5, 1.0)), ((0.0, 0.5), (1.0, 0.5))])
    assert len(flat.facets) == 4
    assert sorted(f.crease for f in flat.folds) == [0, 0, 1, 1]
    assert all(distance(*f.segment) == pytest.approx(0.5) for f in flat.folds)


def test_a_crease_that_ends_on_another_divides_it() -> None:
    rise = 0.5 + 0.5 * math.tan(math.radians(30))
    flat = pattern(
        rectangle(),
        [((0.5, 0.0), (0.5, 1.0)), ((0.0, rise), O), (O, (1.0, rise))],
    )
    assert len(flat.facets) == 4
    assert [f.crease for f in flat.folds].count(0) == 2


def test_facets_come_in_reading_order_from_the_bottom_left() -> None:
    flat = grid([1, 2], [1, 1, 1])
    middles = [
        tuple(sum(p[k] for p in f.outline) / len(f.outline) for k in (1, 0)) for f in flat.facets
    ]
    assert middles == sorted(middles)


def test_segments_run_counter_clockwise_in_the_first_facet() -> None:
    flat = vertex([60] * 6, first=10)
    for fold in flat.folds:
        for facet, (p, q) in ((fold.a, fold.segment), (fold.b, fold.segment[::-1])):
            ring = flat.facets[facet].outline
            sides = list(zip(ring, [*ring[1:], ring[0]], strict=True))
            assert any(distance(p, a) + distance(q, b) < 1e-9 for a, b in sides)


def test_the_facet_held_stays_where_it_is() -> None:
    spot = (0.9, 0.9)
    flat = pattern(rectangle(), [((0.0, 0.3), (1.0, 0.3)), ((0.2, 0.0), (0.2, 1.0))], spot)
    held = next(f for f in flat.facets if f.place == IDENTITY)
    assert area(held.outline) == pytest.approx(0.8 * 0.7)
    state = fold_pattern(flat)
    assert state.where(spot) == pytest.approx(spot)
    assert state.where((0.0, 0.9)) == pytest.approx((0.4, 0.9))


def test_creases_reach_past_the_sheet() -> None:
    flat = pattern(rectangle(), [((-3.0, 0.25), (9.0, 0.25))])
    assert next(f.segment for f in flat.folds) in (
        ((0.0, 0.25), (1.0, 0.25)),
        ((1.0, 0.25), (0.0, 0.25)),
    )


@pytest.mark.parametrize(
    ("creases", "code", "says"),
    [
        (
            [((0.0, 0.0), (1.0, 0.0))],
            "off-the-sheet",
            "crease 1, from (0.0, 0.0) mm to (100.0, 0.0) mm",
        ),
        ([((0.0, 2.0), (1.0, 2.0))], "off-the-sheet", "does not cross the sheet"),
        (
            [((0.0, 0.5), (1.0, 0.5)), ((0.2, 0.5), (0.7, 0.5))],
            "crease-twice",
            "creases 1 and 2 lie along each other from (20.0, 50.0) mm to (70.0, 50.0) mm",
        ),
        ([((0.0, 0.5), (0.4, 0.5))], "odd-vertex", "at (40.0, 50.0) mm: a crease ends there alone"),
        (
            [(O, (0.0, 0.0)), (O, (1.0, 0.0)), (O, (0.5, 1.0))],
            "odd-vertex",
            "at (50.0, 50.0) mm: 3 creases meet there, an odd number",
        ),
        ([((0.0, 0.5), O), (O, (0.5, 1.0))], "kawasaki", "90 degrees are missing"),
        (
            [(O, (0.0, 0.0)), (O, (1.0, 0.0)), (O, (1.0, 1.0)), (O, (0.0, 0.99))],
            "kawasaki",
            "0.58 degrees are missing",
        ),
    ],
    ids=lambda v: v if isinstance(v, str) and "-" in v and " " not in v else "",
)
def test_refusals(creases: list[Segment], code: str, says: str) -> None:
    with pytest.raises(Refusal) as refused:
        pattern(rectangle(), creases)
    assert refused.value.code == code
    assert says in refused.value.message
    assert refused.value.hints


def test_kawasaki_for_a_hair_s_breadth() -> None:
    """A thousandth of a degree is a mistake; rounding in the last digit is none."""
    tip = (0.5 + math.cos(math.radians(90.001)) / 2, 0.5 + math.sin(math.radians(90.001)) / 2)
    cross: list[Segment] = [(O, (0.0, 0.5)), (O, (1.0, 0.5)), (O, (0.5, 0.0))]
    with pytest.raises(Refusal, match=r"0\.001 degrees are missing"):
        pattern(rectangle(), [*cross, (O, tip)])
    pattern(rectangle(), [*cross, (O, (0.5 + 1e-10, 1.0))])


def test_senses_are_those_of_the_sheet_with_its_front_up() -> None:
    """A valley brings the fronts together: the upper layer shows its back."""
    for sense in (V, M):
        state = fold_pattern(strip([1, 1]), [sense])
        upper = 0 if state.above(0, 1) else 1
        assert state.facets[upper].shows_front == (sense is M)


def test_senses_given_for_some_creases() -> None:
    flat = strip([1, 1, 1, 1])
    given_all = {
        (a, b, c): count_orders(flat, [a, b, c]) for a in (M, V) for b in (M, V) for c in (M, V)
    }
    assert sum(given_all.values()) == count_orders(flat) == 16
    for b in (M, V):
        some = sum(n for key, n in given_all.items() if key[1] is b)
        assert count_orders(flat, [None, b, None]) == some
    assert count_assignments(flat) == sum(n > 0 for n in given_all.values())


def test_orders_and_assignments_agree() -> None:
    flat = vertex([45] * 8)
    listed = list(orders(flat))
    assert {senses_of(flat, order) for order in listed} == set(assignments(flat))
    assert listed == list(orders(flat))


def test_the_number_of_senses_must_fit() -> None:
    with pytest.raises(ValueError, match="3 creases need as many senses, not 1"):
        count_orders(strip([1, 1, 1, 1]), [M])


def test_a_pattern_without_order_names_facets() -> None:
    """The middle cell is too narrow to take both ends between them."""
    flat = strip([3, 1, 3])
    assert count_orders(flat, [M, M]) == 0
    with pytest.raises(Collision) as clash:
        fold_pattern(flat, [M, M])
    assert clash.value.facets
    assert set(clash.value.facets) <= {0, 1, 2}


@st.composite
def simply_folded(draw: st.DrawFn) -> tuple[Sheet, list[Segment]]:
    """Creases that lines folded one after another leave on the whole sheet."""
    sheet = rectangle(1.0, draw(st.sampled_from((1.0, 0.6))))
    state = flat_sheet(sheet)
    for _ in range(draw(st.integers(1, 4))):
        angle = math.radians(draw(st.integers(0, 23)) * 7.5)
        x, y = centre(state)
        at: Point = (x + draw(st.integers(-2, 2)) / 37, y + draw(st.integers(-2, 2)) / 41)
        line = line_at(at, (math.cos(angle), math.sin(angle)))
        try:
            moving = flap(state, line, range(len(state.facets)), whole_stack=True)
        except Refusal:
            continue
        state = fold_flap(state, moving, draw(st.sampled_from((M, V))))
    return sheet, [j.segment for j in state.joints if j.folded]


@examples(25)
@given(simply_folded())
def test_what_folds_step_by_step_folds_as_a_pattern(made: tuple[Sheet, list[Segment]]) -> None:
    sheet, creases = made
    flat = pattern(sheet, creases)
    assert sum(area(f.outline) for f in flat.facets) == pytest.approx(area(sheet.outline))
    assert all(is_convex(f.outline) for f in flat.facets)
    first = next(orders(flat), None)
    assert first is not None
    assert_sound(folded(flat, first))
