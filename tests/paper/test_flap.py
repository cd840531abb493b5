"""Simple folds: which paper moves, whether it is free, where it lands."""

from __future__ import annotations

from itertools import pairwise

import pytest

from foldscript.geometry.lines import Line, flipped
from foldscript.geometry.polygons import area
from foldscript.paper.flap import Blocked, blockers, flap, fold_flap, moving_parts, sheet_segments
from foldscript.paper.signs import Sense
from foldscript.paper.state import State, flat
from foldscript.source.diagnostics import Refusal

from ..conftest import assert_sound
from .sheets import M, V, rectangle

RIGHT = Line(1.0, 0.0, 0.5)  # what lies right of x = 1/2 moves


def every(state: State) -> range:
    return range(len(state.facets))


def folded(state: State, line: Line, *seeds: int, sense: Sense = V, stack: bool = False) -> State:
    after = fold_flap(state, flap(state, line, seeds or every(state), whole_stack=stack), sense)
    assert_sound(after)
    return after


BOOK = folded(flat(rectangle()), RIGHT)


def top(state: State, x: float, y: float) -> int:
    return state.facets_at((x, y))[0]


def test_a_valley_brings_the_back_in_front() -> None:
    state = folded(flat(rectangle()), RIGHT)
    assert state.where((1.0, 0.3)) == pytest.approx((0.0, 0.3))
    assert not state.facets[top(state, 0.2, 0.2)].shows_front


def test_a_mountain_brings_it_behind() -> None:
    state = folded(flat(rectangle()), RIGHT, sense=M)
    assert state.facets[top(state, 0.2, 0.2)].shows_front


def test_the_other_side_moves_when_the_line_is_turned() -> None:
    state = folded(flat(rectangle()), flipped(RIGHT))
    assert state.where((0.0, 0.3)) == pytest.approx((1.0, 0.3))


def test_moving_parts() -> None:
    parts = moving_parts(BOOK, Line(-1.0, 0.0, -0.25))  # left of x = 1/4
    assert set(parts) == {0, 1}
    assert all(area(p) == pytest.approx(0.25) for p in parts.values())
    assert moving_parts(BOOK, Line(1.0, 0.0, 0.5)) == {}


def test_the_smallest_flap_that_hangs_together() -> None:
    """Beyond a line parallel to the spine each layer is a flap of its own; across it they are one."""
    away = Line(-1.0, 0.0, -0.25)
    front = top(BOOK, 0.1, 0.5)
    assert flap(BOOK, away, [front]).facets == (front,)
    assert flap(BOOK, away, [front], whole_stack=True).facets == (0, 1)
    across = Line(0.0, 1.0, 0.5)
    assert flap(BOOK, across, [front]).facets == (0, 1)


def test_creases_of_a_flap() -> None:
    front = top(BOOK, 0.1, 0.5)
    moving = flap(BOOK, Line(-1.0, 0.0, -0.25), [front])
    ((facet, seg),) = moving.creases
    assert facet == front
    assert sorted(seg) == [(0.25, 0.0), (0.25, 1.0)]
    ((p, q),) = sheet_segments(BOOK, moving.creases)
    assert {p, q} == {(0.75, 0.0), (0.75, 1.0)}


def test_folding_along_a_fold_opens_it() -> None:
    front = top(BOOK, 0.1, 0.5)
    opened = fold_flap(BOOK, flap(BOOK, flipped(RIGHT), [front]), V)
    assert len(opened.facets) == 1
    assert opened.where((1.0, 0.0)) == pytest.approx((1.0, 0.0))


def test_all_layers_together() -> None:
    state = folded(BOOK, Line(0.0, 1.0, 0.5), stack=True)
    assert len(state.facets) == 4
    assert len(state.facets_at((0.2, 0.2))) == 4
    shown = [state.facets[i].shows_front for i in state.facets_at((0.2, 0.2))]
    assert all(one != other for one, other in pairwise(shown))


@pytest.mark.parametrize("sense", [V, M])
def test_blocked(sense: Sense) -> None:
    """The layer underneath cannot be folded over in front, nor the one in front behind."""
    front, back = BOOK.facets_at((0.1, 0.5))
    moving, blocker = (back, front) if sense is V else (front, back)
    chosen = flap(BOOK, Line(-1.0, 0.0, -0.25), [moving])
    assert blockers(BOOK, chosen, sense) == [(moving, blocker)]
    with pytest.raises(Blocked) as blocked:
        fold_flap(BOOK, chosen, sense)
    assert (blocked.value.moving, blocked.value.blocker) == (moving, blocker)
    other = M if sense is V else V
    assert blockers(BOOK, chosen, other) == []
    assert_sound(fold_flap(BOOK, chosen, other))


def test_free_where_the_blocker_does_not_reach() -> None:
    """A flap over the strip from 1/2 to 3/4 holds down what lies under it, and nothing left of it."""
    state = folded(flat(rectangle()), Line(1.0, 0.0, 0.75))
    under = next(i for i in every(state) if state.facets[i].shows_front)
    assert len(folded(state, Line(-1.0, 0.0, -0.3), under).facets) == 3
    with pytest.raises(Blocked):
        fold_flap(state, flap(state, Line(-1.0, 0.0, -0.6), [under]), V)


@pytest.mark.parametrize(
    "line", [Line(1.0, 0.0, 2.0), Line(1.0, 0.0, -1.0), Line(1.0, 0.0, 1.0), Line(1.0, 0.0, 0.0)]
)
def test_the_line_misses(line: Line) -> None:
    """Past the paper on either side, or along its edge: nothing moves, or nothing would bend."""
    with pytest.raises(Refusal) as refused:
        flap(flat(rectangle()), line, [0])
    assert refused.value.code == "fold-misses-flap"


def test_a_layer_trapped_between_layers_of_the_flap_moves_with_them() -> None:
    """Pleated in three: the two outer layers hold the one between them."""
    pleat = folded(folded(flat(rectangle()), Line(1.0, 0.0, 2 / 3)), Line(-1.0, 0.0, -1 / 3))
    stack = pleat.facets_at((0.5, 0.5))
    assert len(stack) == 3
    across = Line(0.0, 1.0, 0.5)
    assert flap(pleat, across, [stack[0]]).facets == (0, 1, 2)
