"""What a layer order must satisfy, each on the smallest arrangement that shows it.

Sources: J. Justin (1997); M. Bern and B. Hayes, SODA 1996; E. Demaine and J. O'Rourke (2007);
H. Akitaya, E. Demaine and J. Ku (2024).
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.geometry.polygons import Polygon
from foldscript.paper.conditions import Conditions, Hinge, Nested, Same, conditions
from foldscript.paper.layers import Collision, Solver

from ..conftest import examples
from .orders import every_pair

Order = dict[tuple[int, int], bool]


def box(x0: float, x1: float, y0: float = 0.0, y1: float = 1.0) -> Polygon:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def solver(placed: Sequence[Polygon], hinges: Sequence[Hinge], known: Order) -> Solver:
    return Solver(placed, every_pair(placed), known, conditions(placed, hinges))


X0 = ((0.0, 0.0), (0.0, 1.0))


def upright(a: int, b: int, x: float, folded: bool) -> Hinge:
    return Hinge(a, b, ((x, 0.0), (x, 1.0)), folded)


def solutions(placed: Sequence[Polygon], hinges: Sequence[Hinge], known: Order) -> list[Order]:
    return list(solver(placed, hinges, known).orders())


def test_ring() -> None:
    """Three layers that share some area do not each lie over the next."""
    placed = [box(0, 1), box(0, 1), box(0, 1)]
    assert len(solutions(placed, [], {})) == 6
    with pytest.raises(Collision) as clash:
        solver(placed, [], {(0, 1): True, (1, 2): True, (0, 2): False})
    assert clash.value.reason == "ring"
    assert sorted(clash.value.facets) == [0, 1, 2]
    x, y = clash.value.at or (-1, -1)
    assert 0 < x < 1
    assert 0 < y < 1


def test_ring_only_where_the_three_share_some_area() -> None:
    """Three strips that overlap two and two, round an empty middle, may lie in a ring."""
    placed: list[Polygon] = [
        box(0, 3, 0, 1),
        box(0, 1, 0, 3),
        ((0.5, 3.0), (3.0, 0.5), (3.2, 0.7), (0.7, 3.2)),
    ]
    assert every_pair(placed) == [(0, 1), (0, 2), (1, 2)]
    assert len(solutions(placed, [], {})) == 8


def test_pierced_fold() -> None:
    """A layer that crosses a folded edge lies above both sides or below both."""
    placed = [box(0, 1), box(0, 1), box(-1, 2)]
    fold = upright(0, 1, 0.0, folded=True)
    found = solutions(placed, [fold], {(0, 1): True})
    assert [(o[0, 2], o[1, 2]) for o in found] == [(True, True), (False, False)]
    with pytest.raises(Collision) as clash:
        solver(placed, [fold], {(0, 2): True, (1, 2): False})
    assert clash.value.reason == "pierced"


def test_layer_that_ends_at_a_fold_may_lie_in_it() -> None:
    placed = [box(0, 1), box(0, 1), box(0, 2)]
    found = solutions(placed, [upright(0, 1, 0.0, folded=True)], {(0, 1): True})
    assert len(found) == 3


def test_interleaved_folds() -> None:
    """Two folds along one segment with their layers on the same side are nested or apart."""
    placed = [box(0, 1), box(0, 1), box(0, 1), box(0, 1)]
    folds = [upright(0, 1, 0.0, folded=True), upright(2, 3, 0.0, folded=True)]
    assert len(solutions(placed, folds, {})) == 24 - 8
    with pytest.raises(Collision) as clash:
        solver(placed, folds, {(0, 2): True, (1, 2): False, (0, 3): True, (1, 3): True})
    assert clash.value.reason == "interleaved"
    assert sorted(clash.value.facets) == [0, 1, 2, 3]


def test_folds_with_their_layers_on_opposite_sides_do_not_meet() -> None:
    placed = [box(0, 1), box(0, 1), box(-1, 0), box(-1, 0)]
    folds = [upright(0, 1, 0.0, folded=True), upright(2, 3, 0.0, folded=True)]
    assert len(solutions(placed, folds, {})) == 4


def test_unfolded_joint() -> None:
    """Across an unfolded joint the order to a third layer does not change."""
    placed = [box(-1, 0), box(0, 1), box(-1, 1)]
    joint = upright(0, 1, 0.0, folded=False)
    found = solutions(placed, [joint], {})
    assert [(o[0, 2], o[1, 2]) for o in found] == [(True, True), (False, False)]
    with pytest.raises(Collision) as clash:
        solver(placed, [joint], {(0, 2): True, (1, 2): False})
    assert clash.value.reason in ("joint", "pierced")


def test_two_unfolded_joints_along_each_other() -> None:
    placed = [box(-1, 0), box(0, 1), box(0, 1), box(-1, 0)]
    joints = [upright(0, 1, 0.0, folded=False), upright(2, 3, 0.0, folded=False)]
    found = solutions(placed, joints, {})
    assert [(o[0, 3], o[1, 2]) for o in found] == [(True, True), (False, False)]


def test_unfolded_joint_along_a_fold() -> None:
    """A flat layer that ends nowhere near, given as two pieces that meet right at a fold."""
    placed = [box(0, 1), box(0, 1), box(0, 1), box(-1, 0)]
    hinges = [upright(0, 1, 0.0, folded=True), upright(2, 3, 0.0, folded=False)]
    found = solutions(placed, hinges, {(0, 1): True})
    assert [(o[0, 2], o[1, 2]) for o in found] == [(True, True), (False, False)]


def test_conditions_among_settled_pairs_are_left_out() -> None:
    placed = [box(0, 1), box(0, 1), box(-1, 2), box(-1, 2)]
    fold = [upright(0, 1, 0.0, folded=True)]
    assert len(conditions(placed, fold).same) == 2
    fresh = conditions(placed, fold, {(0, 3), (1, 3)})
    assert [(s.x, s.u) for s in fresh.same] == [(3, 3)]
    assert conditions(placed, fold, set()) == Conditions((), ())


def test_a_joint_that_opens_meets_the_settled_folds_along_it() -> None:
    """Nested folds: the inner one opens flat, and its still side now runs into the outer one."""
    placed = [box(0, 1), box(0, 1), box(0, 1), box(-1, 0)]
    for opened in (False, True):
        hinges = [upright(0, 1, 0.0, folded=True), Hinge(2, 3, X0, False, opened=opened)]
        found = conditions(placed, hinges, set())
        assert [(s.x, s.y, s.u, s.v) for s in found.same] == [(2, 0, 2, 1)] * opened


def test_two_joints_that_open_together_keep_their_order() -> None:
    placed = [box(0, 1), box(-1, 0), box(0, 1), box(-1, 0)]
    hinges = [Hinge(0, 1, X0, False, opened=True), Hinge(2, 3, X0, False, opened=True)]
    assert [(s.x, s.y, s.u, s.v) for s in conditions(placed, hinges, set()).same] == [(0, 2, 1, 3)]


def layer() -> st.SearchStrategy[int]:
    return st.integers(0, 3)


@st.composite
def random_conditions(draw: st.DrawFn) -> Conditions:
    """Any equalities and nestings of four layers that all lie over each other."""
    pair = st.tuples(layer(), layer()).filter(lambda p: p[0] != p[1])
    same = draw(st.lists(st.tuples(pair, pair), max_size=2))
    nested = draw(st.lists(st.permutations(range(4)), max_size=2))
    return Conditions(
        tuple(Same(x, y, u, v, "joint", (0.0, 0.0)) for (x, y), (u, v) in same),
        tuple(Nested(a, b, c, d, (0.0, 0.0)) for a, b, c, d in nested),
    )


@examples(80)
@given(
    random_conditions(), st.dictionaries(st.sampled_from([(0, 1), (1, 3), (2, 3)]), st.booleans())
)
def test_solver_against_all_piles(found: Conditions, known: Order) -> None:
    """Every pile of four layers is tried; each solution comes once, the wished-for one first."""
    pairs = list(itertools.combinations(range(4), 2))
    expected = []
    for pile in itertools.permutations(range(4)):
        over = {(i, j): pile.index(i) < pile.index(j) for i in range(4) for j in range(4)}
        if _holds(pile, found) and all(over[p] == v for p, v in known.items()):
            expected.append(tuple(over[p] for p in pairs))
    placed = [box(0, 1)] * 4
    try:
        ours = [
            tuple(order[p] for p in pairs)
            for order in Solver(placed, pairs, known, found).orders(lambda i, j: (i + j) % 2 == 0)
        ]
    except Collision:
        ours = []
    assert len(ours) == len(set(ours))
    assert sorted(ours) == sorted(expected)
    if expected:
        wish = [(i + j) % 2 == 0 for i, j in pairs]
        best = max(expected, key=lambda one: [v == w for v, w in zip(one, wish, strict=True)])
        assert ours[0] == best
    else:
        with pytest.raises(Collision):
            Solver(placed, pairs, known, found).solve()


def test_layers_are_named_also_when_only_a_search_finds_the_collision() -> None:
    """No single condition is broken by what is known; no pile of the five fits all of them."""
    spot = (0.5, 0.5)
    same = [Same(0, 4, 2, 0, "joint", spot), Same(0, 1, 1, 2, "joint", spot)]
    folds = [(3, 2, 4, 1), (4, 0, 2, 1), (3, 4, 1, 2), (1, 3, 0, 2), (4, 3, 2, 0)]
    found = Conditions(tuple(same), tuple(Nested(*fold, spot) for fold in folds))
    assert not any(_holds(pile, found) for pile in itertools.permutations(range(5)))
    solver = Solver([box(0, 1)] * 5, list(itertools.combinations(range(5), 2)), {}, found)
    with pytest.raises(Collision) as clash:
        solver.solve()
    assert clash.value.reason == "search"
    assert 2 <= len(clash.value.facets) <= 5


def _holds(pile: Sequence[int], found: Conditions) -> bool:
    def over(i: int, j: int) -> bool:
        return pile.index(i) < pile.index(j)

    def between(k: int, i: int, j: int) -> bool:
        return over(i, k) != over(j, k)

    return all(over(s.x, s.y) == over(s.u, s.v) for s in found.same) and all(
        between(n.c, n.a, n.b) == between(n.d, n.a, n.b) for n in found.nested
    )
