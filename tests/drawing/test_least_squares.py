"""The moves that come nearest to all constraints, against a general solver."""

from __future__ import annotations

import math

import numpy
import pytest

from foldscript.drawing.offsets.least_squares import Constraints, solve

#: How each unknown counts in a constraint, what is wanted, and how much.
Row = tuple[dict[int, tuple[float, float]], float, float]


def alike(rows: list[Row]) -> list[Constraints]:
    """Constraints with the same number of terms together."""
    out: list[Constraints] = []
    for count in sorted({len(terms) for terms, _, _ in rows}):
        group = [row for row in rows if len(row[0]) == count]
        out.append(
            Constraints(
                numpy.array([list(terms) for terms, _, _ in group]),
                numpy.array([list(terms.values()) for terms, _, _ in group]),
                numpy.array([wanted for _, wanted, _ in group]),
                numpy.array([weight for _, _, weight in group]),
            )
        )
    return out


def test_one_constraint_against_staying() -> None:
    """A point that wants to be 1 to the right, by weight 1, and to stay, by weight 1: half-way."""
    ((x, y),) = solve(alike([({0: (1.0, 0.0)}, 1.0, 1.0)]), [1.0])
    assert (x, y) == pytest.approx((0.5, 0.0))


def test_constraints_that_contradict_each_other_cancel() -> None:
    rows: list[Row] = [({0: (0.0, 1.0)}, 1.0, 2.0), ({0: (0.0, 1.0)}, -1.0, 2.0)]
    assert solve(alike(rows), [0.1])[0] == pytest.approx((0.0, 0.0))


@pytest.mark.parametrize("count", [1, 2, 7, 20, 21, 60])
def test_against_a_general_solver(count: int) -> None:
    rng = numpy.random.default_rng(count)
    rows: list[Row] = []
    for k in range(5 * count):
        some = rng.choice(count, size=min(count, 1 + k % 4), replace=False)
        terms = {int(v): (float(rng.normal()), float(rng.normal())) for v in some}
        rows.append((terms, float(rng.normal()), float(rng.uniform(0.2, 2.0))))
    rest = [float(x) for x in rng.uniform(0.05, 0.4, count)]
    matrix = numpy.zeros((len(rows) + 2 * count, 2 * count))
    wanted = numpy.zeros(len(matrix))
    for r, (terms, value, weight) in enumerate(rows):
        for v, (x, y) in terms.items():
            matrix[r, 2 * v : 2 * v + 2] = weight * x, weight * y
        wanted[r] = weight * value
    for v, held in enumerate(rest):
        matrix[len(rows) + 2 * v, 2 * v] = held
        matrix[len(rows) + 2 * v + 1, 2 * v + 1] = held
    expected = numpy.linalg.lstsq(matrix, wanted, rcond=None)[0].reshape(-1, 2)
    for found, known in zip(solve(alike(rows), rest), expected, strict=True):
        assert math.dist(found, known) < 1e-9


def test_an_unknown_may_stand_twice_in_a_constraint() -> None:
    """Twice half a move is the whole of it."""
    half = [0.5, 0.0]
    twice = Constraints(
        numpy.array([[0, 0]]), numpy.array([[half, half]]), numpy.ones(1), numpy.ones(1)
    )
    assert solve([twice], [1.0])[0] == pytest.approx((0.5, 0.0))
