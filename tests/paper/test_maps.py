"""Maps and strips: how many ways there are to fold them, from tables and by brute force."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.paper.layers import Collision
from foldscript.paper.signs import Sense
from foldscript.source.diagnostics import Refusal

from ..checker.validator import faults
from ..conftest import assert_sound, examples, states_document
from .arrangements import arrangement
from .orders import count_assignments, count_orders, fold_pattern, folded, orders
from .patterns import Pattern
from .piles import map_foldings, strip_orders
from .satisfiability import clauses, count_models, satisfiable, triples
from .sheets import SENSES, M, V, grid, strip


def cells(columns: int, rows: int) -> Pattern:
    return grid([1] * columns, [1] * rows)


@pytest.mark.parametrize(
    ("n", "count"), list(enumerate([1, 2, 6, 16, 50, 144, 462, 1392], start=1)), ids=str
)
def test_strip_of_stamps(n: int, count: int) -> None:
    """OEIS A000136."""
    assert count_orders(strip([1] * n)) == count


@pytest.mark.parametrize(("n", "count"), list(enumerate([2, 8, 60, 320, 1980], start=1)), ids=str)
def test_two_by_n_map(n: int, count: int) -> None:
    """OEIS A001415."""
    assert count_orders(cells(n, 2)) == count


@pytest.mark.parametrize(("n", "count"), list(enumerate([1, 8, 1368], start=1)), ids=str)
def test_n_by_n_map(n: int, count: int) -> None:
    """OEIS A001418."""
    assert count_orders(cells(n, n)) == count


def test_map_that_folds_at_every_point_but_not_as_a_whole() -> None:
    """Such 2 x n maps exist for every n >= 5: Nishat and Whitesides, CCCG 2013."""
    top, middle, bottom = "VVVV", "VVMVV", "MVVM"
    senses = [SENSES[c] for c in bottom + top + middle]
    flat = cells(5, 2)
    for x in range(4):  # |M - V| = 2 at every inner point (Maekawa; Justin), so each folds
        around = [bottom[x], top[x], middle[x], middle[x + 1]]
        assert abs(around.count("M") - around.count("V")) == 2
        corner = grid([1, 1], [1, 1])
        assert count_orders(corner, [SENSES[c] for c in around]) == 1
    assert count_orders(flat, senses) == 0
    with pytest.raises(Collision) as clash:
        fold_pattern(flat, senses)
    assert clash.value.reason in ("ring", "interleaved", "search")
    assert len(clash.value.facets) >= 2


@pytest.mark.parametrize("n", [2, 3, 6, 11])
def test_a_pleat_has_one_order(n: int) -> None:
    """Published with the counts of strips: Hull et al., arXiv 2503.23661 (2025)."""
    assert count_orders(strip([1] * n), [(M, V)[k % 2] for k in range(n - 1)]) == 1


@pytest.mark.parametrize("k", [1, 2, 3, 5, 8])
def test_k_mountains_in_a_row_have_k_orders(k: int) -> None:
    """M repeated k times on k + 1 equal cells: Hull et al., arXiv 2503.23661 (2025)."""
    assert count_orders(strip([1] * (k + 1)), [M] * k) == k


@pytest.mark.parametrize(("columns", "rows"), [(2, 2), (5, 1), (6, 1), (3, 2), (2, 3)])
@pytest.mark.parametrize("seed", range(4))
def test_map_with_some_senses_given_against_all_piles(columns: int, rows: int, seed: int) -> None:
    piles = map_foldings(columns, rows)
    n = len(piles[0])
    senses = [(M, V, None)[(seed * 7 + 5 * k + k * k * (seed + 1)) % 3] for k in range(n)]
    fitting = [p for p in piles if all(s in (None, q) for s, q in zip(senses, p, strict=True))]
    flat = cells(columns, rows)
    assert count_orders(flat, senses) == len(fitting)
    assert count_assignments(flat, senses) == len(set(fitting))


@pytest.mark.parametrize(("columns", "rows"), [(2, 2), (6, 1), (3, 2), (4, 2)])
def test_assignments_of_maps_against_all_piles(columns: int, rows: int) -> None:
    assert count_assignments(cells(columns, rows)) == len(set(map_foldings(columns, rows)))


@examples(20)
@given(st.lists(st.integers(1, 4), min_size=2, max_size=5))
def test_strip_of_unequal_cells_against_brute_force(widths: list[int]) -> None:
    expected = [tuple(sorted(order.items())) for order in strip_orders(widths)]
    found = [tuple(sorted(order.items())) for order in orders(strip(widths))]
    assert len(found) == len(set(found))
    assert sorted(found) == sorted(expected)


@pytest.mark.parametrize(
    ("widths", "heights"), [([2, 3], [1, 2]), ([1, 2, 2], [3]), ([1, 3], [2, 2])]
)
def test_map_of_unequal_cells_against_the_outside_check(
    widths: Sequence[int], heights: Sequence[int]
) -> None:
    """Every combination of 'i above j' is put before the validator, which knows no solver."""
    flat = grid(widths, heights)
    listed = list(orders(flat))
    pairs = list(listed[0])
    sound = [
        order
        for values in itertools.product((True, False), repeat=len(pairs))
        if not faults(states_document(folded(flat, order := dict(zip(pairs, values, strict=True)))))
    ]
    assert sorted(map(str, sound)) == sorted(map(str, listed))


GRIDS = st.tuples(
    st.lists(st.integers(1, 3), min_size=1, max_size=3),
    st.lists(st.integers(1, 3), min_size=1, max_size=3),
)


@examples(30)
@given(GRIDS, st.data())
def test_random_grids_against_a_general_solver(
    sizes: tuple[list[int], list[int]], data: st.DataObject
) -> None:
    """The same conditions as clauses: as many solutions, counted by python-sat."""
    flat = grid(*sizes)
    senses: list[Sense | None] = data.draw(
        st.lists(st.sampled_from((M, V, None)), min_size=flat.count, max_size=flat.count)
    )
    try:
        placed, pairs, known, found = arrangement(flat, senses)
    except Collision:
        assert count_orders(flat, senses) == 0
        return
    formula = clauses(pairs, known, found, triples(placed, pairs))
    assert count_orders(flat, senses) == count_models(formula, len(pairs))


@pytest.mark.parametrize("seed", range(12))
def test_larger_maps_fold_or_not_as_a_general_solver_says(seed: int) -> None:
    """Random senses that suit every inner point; most such maps fold at none or few orders."""
    flat, senses = locally_flat(4, 4, seed)
    placed, pairs, known, found = arrangement(flat, senses)
    expected = satisfiable(clauses(pairs, known, found, triples(placed, pairs)))
    try:
        assert_sound(fold_pattern(flat, senses))
        folds = True
    except Collision:
        folds = False
    assert folds == expected


def locally_flat(columns: int, rows: int, seed: int) -> tuple[Pattern, list[Sense]]:
    """A map with senses such that |M - V| = 2 at every inner point, drawn by a fixed rule."""
    rnd = random.Random(seed)
    upright = {(x, y): rnd.choice((M, V)) for x in range(columns - 1) for y in range(rows)}
    level = {(x, y): rnd.choice((M, V)) for y in range(rows - 1) for x in range(columns)}
    for y in range(rows - 1):
        for x in range(columns - 1):
            around = [upright[x, y], upright[x, y + 1], level[x, y]]
            # of four, three are alike
            if len(set(around)) == 1:
                level[x + 1, y] = V if around[0] is M else M
            else:
                level[x + 1, y] = max((M, V), key=around.count)
    senses = [upright[x, y] for y in range(rows) for x in range(columns - 1)]
    senses += [level[x, y] for y in range(rows - 1) for x in range(columns)]
    return cells(columns, rows), senses


def test_a_map_of_144_cells_with_all_senses_given() -> None:
    """Pleated both ways: one order, found without a search."""
    n = 12
    upright = [(M, V)[x % 2] for _ in range(n) for x in range(n - 1)]
    level = [(M, V)[(x + y) % 2] for y in range(n - 1) for x in range(n)]
    assert count_orders(cells(n, n), [*upright, *level]) == 1


def test_a_deep_strip() -> None:
    """Far more layers than Python lets functions call each other."""
    n = 300
    one = list(itertools.islice(orders(strip([1] * n), [M, V] * (n // 2 - 1) + [M]), 2))
    assert len(one) == 1
    assert sum(one[0].values()) in (0, n * (n - 1) // 2)


def test_the_search_gives_up_in_time_and_says_so() -> None:
    with pytest.raises(Refusal) as refused:
        count_orders(cells(5, 5), work_limit=500)
    assert refused.value.code == "too-complex"
