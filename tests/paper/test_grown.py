"""Folded paper of all shapes: the solver beside a general one, and the order that is there."""

from __future__ import annotations

import itertools

import pytest

from foldscript.paper.conditions import conditions
from foldscript.paper.layers import Solver
from foldscript.paper.refold import hinges

from ..conftest import assert_sound
from .grown import grown, senses_known
from .orders import every_pair
from .satisfiability import clauses, count_models, satisfiable, triples


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("facets", [4, 8, 11])
def test_as_many_orders_as_a_general_solver_counts(facets: int, seed: int) -> None:
    state = grown(facets, seed)
    pairs = every_pair(state.placed)
    found = conditions(state.placed, hinges(state, state.facets))
    for known in ({}, senses_known(state)):
        formula = clauses(pairs, known, found, triples(state.placed, pairs))
        ours = list(itertools.islice(Solver(state.placed, pairs, known, found).orders(), 3000))
        if len(ours) == 3000:
            continue
        assert len(ours) == count_models(formula, len(pairs))
        assert dict(state.order) in ours


@pytest.mark.parametrize("seed", [1, 2])
def test_the_order_found_for_many_facets_is_sound(seed: int) -> None:
    """Given the senses only; every triple, pair and fold is checked by the general solver's clauses."""
    state = grown(60, seed)
    pairs = every_pair(state.placed)
    known = senses_known(state)
    found = conditions(state.placed, hinges(state, state.facets))
    order = Solver(state.placed, pairs, known, found).solve()
    rings = triples(state.placed, pairs)
    assert all(order[pair] == above for pair, above in known.items())
    assert satisfiable(clauses(pairs, order, found, rings))


def test_grown_states_are_sound() -> None:
    assert_sound([grown(n, seed) for n in (11, 30) for seed in (1, 2)])
