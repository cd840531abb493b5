"""The one operation that changes a state: tears, kept orders, the planner's orders, joining."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.geometry.isometries import (
    IDENTITY,
    Isometry,
    compose,
    reflection,
    rotation,
    translation,
)
from foldscript.geometry.lines import Line, Segment, distance, flipped, line_through
from foldscript.geometry.polygons import area
from foldscript.paper.layers import Collision
from foldscript.paper.refold import creased, divided, refold, undivided
from foldscript.paper.state import State, flat
from foldscript.source.diagnostics import Refusal

from ..conftest import assert_sound, examples
from .sheets import rectangle

UPRIGHT = Line(1.0, 0.0, 0.5)  # x = 1/2, the right half on its left side
LEVEL = Line(0.0, 1.0, 0.5)


def halves() -> State:
    """A flat square divided along x = 1/2; facet 0 is the right half."""
    return divided(flat(rectangle()), UPRIGHT, [0]).state


def moved(state: State, motion: Isometry, *facets: int, **options: object) -> State:
    """These facets moved as one rigid group."""
    return refold(state, dict.fromkeys(facets, motion), dict.fromkeys(facets, 0), **options)  # type: ignore[arg-type]


def test_dividing_moves_no_paper() -> None:
    fine = divided(flat(rectangle()), UPRIGHT, [0])
    assert fine.parent == (0, 0)
    assert fine.pieces(0) == (0, 1)
    assert fine.state.facets[0].outline == ((0.5, 0.0), (1.0, 0.0), (1.0, 1.0), (0.5, 1.0))
    assert all(f.place == IDENTITY for f in fine.state.facets)
    again = divided(fine, LEVEL, [0, 1])
    assert again.parent == (0, 0, 0, 0)
    assert undivided(fine.state).parent == (0, 1)


def test_dividing_leaves_facets_that_the_line_misses_or_that_are_not_named() -> None:
    state = halves()
    assert divided(state, Line(1.0, 0.0, 0.7), [0]).parent == (0, 0, 1)
    assert divided(state, Line(1.0, 0.0, 0.7), [1]).parent == (0, 1)
    assert divided(state, UPRIGHT, [0, 1]).parent == (0, 1)


def test_dividing_hands_orders_down() -> None:
    folded = moved(halves(), reflection(UPRIGHT), 0, orders={(0, 1): True})
    fine = divided(folded, LEVEL, [0, 1]).state
    over = {pair for pair, above in fine.order.items() if above}
    assert len(fine.order) == 2
    assert over == set(fine.order)
    assert_sound(fine)


def test_new_corners_are_shared_to_the_last_bit() -> None:
    line = line_through((0.1, 0.0), (0.8, 1.0))
    fine = divided(divided(flat(rectangle()), line, [0]), LEVEL, [0, 1]).state
    corners = [p for f in fine.facets for p in f.outline]
    assert all(p == q or distance(p, q) > 1e-9 for p in corners for q in corners)


def test_a_tear_is_refused() -> None:
    for motion in (translation((0.2, 0.0)), rotation(0.1), reflection(Line(1.0, 0.0, 0.6))):
        with pytest.raises(Refusal) as refused:
            moved(halves(), motion, 0)
        assert refused.value.code == "tear"
        assert refused.value.hints


def test_cut_paper_moves_away() -> None:
    cut: Segment = ((0.5, 0.0), (0.5, 1.0))
    state = moved(halves(), translation((0.25, 0.0)), 0, cuts=[cut])
    assert state.where((1.0, 0.0)) == (1.25, 0.0)
    assert state.cuts == (cut,)
    assert not state.joints
    assert_sound(state)


def test_the_planner_s_order_is_taken() -> None:
    for above in (True, False):
        state = moved(halves(), reflection(UPRIGHT), 0, orders={(0, 1): above})
        assert state.above(0, 1) is above
        back = moved(halves(), reflection(UPRIGHT), 0, orders={(1, 0): above})
        assert back.above(1, 0) is above
        assert_sound([state, back])


def test_what_is_left_open_follows_the_planner_s_wish() -> None:
    for wish in (True, False):
        state = moved(halves(), reflection(UPRIGHT), 0, prefer=lambda i, j, wish=wish: wish)
        assert state.above(0, 1) is wish


def test_orders_inside_a_group_are_kept_and_turn_with_it() -> None:
    folded = moved(halves(), reflection(UPRIGHT), 0, orders={(0, 1): True})
    fine = divided(folded, LEVEL, [0, 1]).state
    top = [i for i, poly in enumerate(fine.placed) if min(y for _, y in poly) > 0.4]
    rest = [i for i in range(4) if i not in top]
    before = fine.above(*top)
    state = moved(fine, reflection(LEVEL), *top, orders={(t, r): True for t in top for r in rest})
    assert before is not None
    assert state.above(*top) is not before
    assert state.above(*rest) is fine.above(*rest)
    assert_sound(state)


def test_layers_that_would_collide_are_named() -> None:
    """Of a square folded in half, only the layer in front is turned up behind the other."""
    folded = moved(halves(), reflection(UPRIGHT), 0, orders={(0, 1): True})
    fine = divided(folded, LEVEL, [0, 1]).state
    tops = [i for i, poly in enumerate(fine.placed) if min(y for _, y in poly) > 0.4]
    rests = [i for i in range(4) if i not in tops]
    orders = {(t, r): (t < 2) for t in tops for r in rests}
    with pytest.raises(Collision) as clash:
        moved(fine, reflection(LEVEL), *tops, orders=orders)
    assert clash.value.reason in ("pierced", "interleaved", "ring", "joint", "search")
    assert set(clash.value.facets) <= set(range(4))
    assert len(clash.value.facets) >= 2


def test_opened_folds_stay_as_creases_and_facets_join() -> None:
    folded = moved(halves(), reflection(UPRIGHT), 0, orders={(0, 1): True})
    opened = moved(folded, reflection(UPRIGHT), 0)
    assert len(opened.facets) == 1
    assert opened.creases == (((0.5, 0.0), (0.5, 1.0)),) or opened.creases == (
        ((0.5, 1.0), (0.5, 0.0)),
    )
    assert_sound([folded, opened])


def test_creases_are_not_doubled() -> None:
    state = creased(flat(rectangle()), [((0.0, 0.5), (0.7, 0.5)), ((0.3, 0.5), (1.0, 0.5))])
    assert state.creases == (((0.0, 0.5), (1.0, 0.5)),)
    assert creased(state, [((0.2, 0.5), (0.4, 0.5))]).creases == state.creases
    folded = moved(halves(), reflection(UPRIGHT), 0, orders={(0, 1): True})
    assert creased(folded, [((0.5, 0.2), (0.5, 0.8))]).creases == ()


def test_a_crease_that_is_folded_again_is_none_any_more() -> None:
    state = creased(halves(), [((0.5, 0.0), (0.5, 1.0)), ((0.0, 0.0), (1.0, 1.0))])
    folded = moved(state, reflection(UPRIGHT), 0, orders={(0, 1): True})
    assert folded.creases == (((0.0, 0.0), (1.0, 1.0)),)


def test_facets_join_only_to_convex_ones() -> None:
    """A corner folded in and out again leaves one facet; an order that differs keeps two."""
    corner = line_through((0.5, 0.0), (1.0, 0.5))
    fine = divided(flat(rectangle()), flipped(corner), [0]).state
    (small,) = [i for i, f in enumerate(fine.facets) if area(f.outline) < 0.2]
    folded = moved(fine, reflection(corner), small, orders={(small, 1 - small): True})
    assert len(folded.facets) == 2
    assert len(moved(folded, reflection(corner), small).facets) == 1


def test_the_state_before_is_unchanged() -> None:
    before = halves()
    order, facets = dict(before.order), before.facets
    moved(before, reflection(UPRIGHT), 0, orders={(0, 1): True})
    assert (dict(before.order), before.facets) == (order, facets)


@examples(30)
@given(
    st.lists(st.tuples(st.floats(0, math.pi), st.floats(-0.3, 0.3)), min_size=20, max_size=60),
    st.booleans(),
)
def test_many_motions_do_not_drift(turns: list[tuple[float, float]], over: bool) -> None:
    """60 reflections and back: placements stay isometries, corners return within 1e-9."""
    state = moved(halves(), reflection(UPRIGHT), 0, orders={(0, 1): over})
    there = state
    mirrors = [reflection(Line(math.cos(a), math.sin(a), c)) for a, c in turns]
    for mirror in [*mirrors, *reversed(mirrors)]:
        there = there.moved(mirror)
    for f, g in zip(state.facets, there.facets, strict=True):
        assert all(abs(x - y) < 1e-9 for x, y in zip(f.place, g.place, strict=True))
        assert g.place.a**2 + g.place.c**2 == pytest.approx(1, abs=1e-12)
    assert dict(there.order) == dict(state.order)
    assert compose(mirrors[0], mirrors[0]).flips is False


def test_a_line_beside_a_corner_is_refused_by_its_name() -> None:
    """0.05 mm on a sheet of 100 mm; half of that is nearer than any hand folds."""
    square = flat(rectangle())
    near = 0.0005 / math.sqrt(2)
    with pytest.raises(Refusal) as told:
        divided(square, line_through((1.0, 1 - near), (1 - near, 1.0)), [0])
    assert told.value.code == "too-near"
    assert "mm beside corner C" in told.value.message
    assert "through corner C" in told.value.hints[0].text


def test_a_line_beside_an_edge_is_refused() -> None:
    with pytest.raises(Refusal) as told:
        divided(flat(rectangle()), Line(0.0, 1.0, 1e-4), [0])
    assert told.value.code == "too-near"
    assert "beside an edge or a fold" in told.value.message
    divided(flat(rectangle()), Line(0.0, 1.0, 2e-3), [0])
