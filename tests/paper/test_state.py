"""A folded state answers questions about itself."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from foldscript.geometry.isometries import Isometry, reflection, rotation
from foldscript.geometry.lines import Line, distance
from foldscript.geometry.polygons import area, centroid
from foldscript.paper.state import flat

from ..conftest import assert_sound
from .orders import fold_pattern
from .patterns import pattern
from .sheets import M, V, rectangle, strip, vertex

ACCORDION = fold_pattern(strip([1, 1, 1]), [V, M])
UNIT = 1 / 3


def test_above_works_both_ways_round() -> None:
    assert ACCORDION.above(0, 1) is not ACCORDION.above(1, 0)
    assert flat(rectangle()).above(0, 0) is None


def test_top_down() -> None:
    stack = ACCORDION.top_down(range(3))
    assert stack in ((0, 1, 2), (2, 1, 0))
    assert all(ACCORDION.above(i, j) for i, j in pairwise(stack))
    assert ACCORDION.top_down([1]) == (1,)


def test_facets_at_a_folded_point() -> None:
    assert ACCORDION.facets_at((UNIT / 2, 0.05)) == ACCORDION.top_down(range(3))
    assert ACCORDION.facets_at((0.9, 0.05)) == ()
    assert ACCORDION.facets_at((UNIT / 2, 0.05), among=[2]) == (2,)


def test_facets_on_the_sheet_and_where_they_lie() -> None:
    assert ACCORDION.facets_on_sheet((0.1, 0.05)) == (0,)
    assert ACCORDION.facets_on_sheet((UNIT, 0.05)) == (0, 1)
    assert ACCORDION.where((1.0, 0.0)) == pytest.approx((UNIT, 0.0))
    assert ACCORDION.where((2 / 3, 0.0)) == pytest.approx((0.0, 0.0))
    with pytest.raises(ValueError, match="not a point of the sheet"):
        ACCORDION.where((2.0, 0.0))


def test_joints_and_raw_edges() -> None:
    assert {(j.a, j.b) for j in ACCORDION.joints} == {(0, 1), (1, 2)}
    assert all(j.folded for j in ACCORDION.joints)
    total = sum(distance(*seg) for _, seg in ACCORDION.raw_edges)
    assert total == pytest.approx(2 + 2 * 0.1)
    folds = ACCORDION.fold_segments
    assert sorted(seg[0][0] for _, seg in folds) == [pytest.approx(0), pytest.approx(UNIT)]


def test_joints_of_facets_that_share_part_of_a_side() -> None:
    flat_cross = pattern(rectangle(), [((0.5, 0.0), (0.5, 1.0)), ((0.0, 0.5), (1.0, 0.5))])
    state = fold_pattern(flat_cross)
    assert len(state.joints) == 4
    assert {frozenset((j.a, j.b)) for j in state.joints} == {
        frozenset((f.a, f.b)) for f in flat_cross.folds
    }


def test_neighbours() -> None:
    assert ACCORDION.neighbours == (frozenset({1, 2}), frozenset({0, 2}), frozenset({0, 1}))


def test_plates_join_what_lies_flat() -> None:
    """Facets of the grown paper that hold together unfolded are one plate."""
    state = fold_pattern(vertex([90] * 4))
    assert state.plates == ((0,), (1,), (2,), (3,))
    whole = flat(rectangle())
    assert whole.plates == ((0,),)


def test_the_plate_of_a_facet() -> None:
    """Two thirds of the strip lie flat, the last one is folded over."""
    first, second, third = ACCORDION.facets
    state = replace(
        ACCORDION,
        facets=(replace(first, place=second.place), second, third),
        order={(1, 2): ACCORDION.order[1, 2]},
    )
    assert [state.plates[state.plate_of[i]] for i in range(3)] == [(0, 1), (0, 1), (2,)]
    assert [state.plate(i) for i in range(3)] == [{0, 1}, {0, 1}, {2}]


@pytest.mark.parametrize(
    "motion", [rotation(math.radians(30), (0.2, 0.1)), reflection(Line(0.6, 0.8, 0.1))]
)
def test_moved_as_a_whole(motion: Isometry) -> None:
    after = ACCORDION.moved(motion)
    for pair, above in ACCORDION.order.items():
        assert after.order[pair] is (above != motion.flips)
    for p in ((0.0, 0.0), (0.5, 0.05), (1.0, 0.1)):
        assert after.where(p) == pytest.approx(motion(ACCORDION.where(p)))
    assert_sound(after)


def test_placed_outlines_run_counter_clockwise() -> None:
    assert all(area(p) > 0 for p in ACCORDION.placed)


def test_the_facet_in_which_a_point_lies_deepest() -> None:
    """Of several that meet at a point the first; beside the paper the nearest."""
    state = ACCORDION
    for i, facet in enumerate(state.facets):
        assert state.deepest(centroid(facet.outline)) == i
    left = min(range(len(state.facets)), key=lambda i: centroid(state.facets[i].outline)[0])
    assert state.deepest((-0.5, 0.05)) == left
