"""Layer order: how long, beside a general solver on the same paper, and how time and memory grow.

Run by hand, not with the tests (the file's name keeps it out); DEVELOPERS.md has the command. Both
solvers start from the facets: what it takes to put the conditions together is counted for both. Only
python-sat needs every triple of facets with common area written out; ours asks for those it needs.
"""

from __future__ import annotations

import tracemalloc
from collections.abc import Callable
from typing import Any

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from foldscript.geometry.polygons import Polygon
from foldscript.paper import refold
from foldscript.paper.conditions import Hinge, Pair, conditions
from foldscript.paper.layers import Solver

from ..paper.arrangements import arrangement
from ..paper.grown import grown, senses_known
from ..paper.orders import count_orders, every_pair
from ..paper.satisfiability import clauses, satisfiable, triples
from ..paper.sheets import M, V, grid

Paper = tuple[tuple[Polygon, ...], list[Hinge], dict[Pair, bool]]
FACETS = (25, 50, 100, 200, 400)


def paper(facets: int, given: str) -> Paper:
    """Facets, joints, and what is known: every mountain and valley, or nothing at all."""
    state = grown(facets)
    return (
        state.placed,
        refold.hinges(state, state.facets),
        senses_known(state) if given == "senses" else {},
    )


def ours(placed: tuple[Polygon, ...], hinges: list[Hinge], known: dict[Pair, bool]) -> bool:
    Solver(placed, every_pair(placed), known, conditions(placed, hinges)).solve()
    return True


def general(placed: tuple[Polygon, ...], hinges: list[Hinge], known: dict[Pair, bool]) -> bool:
    pairs = every_pair(placed)
    found = conditions(placed, hinges)
    return satisfiable(clauses(pairs, known, found, triples(placed, pairs)))


@pytest.mark.parametrize("solver", [ours, general], ids=["ours", "python-sat"])
@pytest.mark.parametrize("given", ["senses", "nothing"])
@pytest.mark.parametrize("facets", [50, 100, 200])
def test_order(
    benchmark: BenchmarkFixture, facets: int, given: str, solver: Callable[..., bool]
) -> None:
    args = paper(facets, given)
    benchmark.group = f"about {facets} plates ({len(args[0])}), {given} given"
    assert benchmark.pedantic(solver, args=args, rounds=5 if facets < 200 else 2)


@pytest.mark.parametrize("facets", FACETS)
def test_growth(benchmark: BenchmarkFixture, facets: int) -> None:
    """Time beside the number of overlapping triples, and the most memory held (in `extra_info`)."""
    args = paper(facets, "senses")
    pairs = every_pair(args[0])
    count = sum(1 for _ in triples(args[0], pairs))
    tracemalloc.start()
    ours(*args)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    benchmark.group = "growth"
    benchmark.extra_info.update(plates=len(args[0]), pairs=len(pairs), triples=count, peak=peak)
    assert benchmark.pedantic(ours, args=args, rounds=3)
    stats: Any = benchmark.stats
    seconds: float = stats.stats.min
    print(
        f"\n{len(args[0]):4} plates {len(pairs):6} pairs {count:8} triples"
        f" {1e3 * seconds:8.1f} ms {1e6 * seconds / count:6.3f} us/triple {peak / 2**20:6.1f} MiB"
    )


MAP = grid([1] * 12, [1] * 12)
SENSES = [(M, V)[x % 2] for _ in range(12) for x in range(11)]
SENSES += [(M, V)[(x + y) % 2] for y in range(11) for x in range(12)]


def test_map_ours(benchmark: BenchmarkFixture) -> None:
    """A 12 x 12 map with all senses given."""
    benchmark.group = "12 x 12 map"
    assert benchmark.pedantic(count_orders, args=(MAP, SENSES), rounds=3) == 1


def test_map_general(benchmark: BenchmarkFixture) -> None:
    """The same, written out for python-sat."""

    def run() -> bool:
        placed, pairs, known, found = arrangement(MAP, SENSES)
        return satisfiable(clauses(pairs, known, found, triples(placed, pairs)))

    benchmark.group = "12 x 12 map"
    assert benchmark.pedantic(run, rounds=2)
