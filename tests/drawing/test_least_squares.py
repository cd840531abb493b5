"""The moves that come nearest to all wishes, against a general solver."""

from __future__ import annotations

import math

import numpy
import pytest

from foldscript.drawing.least_squares import Row, solve


def test_one_wish_against_staying() -> None:
    """A point that wants to be 1 to the right, by weight 1, and to stay, by weight 1: half-way."""
    ((x, y),) = solve([({0: (1.0, 0.0)}, 1.0, 1.0)], [1.0])
    assert (x, y) == pytest.approx((0.5, 0.0))


def test_wishes_that_contradict_each_other_cancel() -> None:
    rows: list[Row] = [({0: (0.0, 1.0)}, 1.0, 2.0), ({0: (0.0, 1.0)}, -1.0, 2.0)]
    assert solve(rows, [0.1]) == [pytest.approx((0.0, 0.0))]


@pytest.mark.parametrize("count", [1, 2, 7, 60])
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
    for found, known in zip(solve(rows, rest), expected, strict=True):
        assert math.dist(found, known) < 1e-9
