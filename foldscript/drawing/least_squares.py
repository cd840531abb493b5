"""Wishes about moves in the plane, and the moves that come nearest to all of them.

In: equations in unknown moves, each with a weight, and how much every unknown wants to be zero. Out:
the least squares solution. The systems are small; general products and solvers of matrices would wake
a thread on every core for what takes a moment on one, and wait for all of them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from ..geometry.lines import Point

#: A wish: how each unknown's move counts in it (along which vector), the wanted value, its weight.
Row = tuple[dict[int, Point], float, float]


#: Unknowns up to which a general solver stays on one core.
_FEW = 40


def solve(rows: Sequence[Row], rest: Sequence[float]) -> list[Point]:
    """One move for each unknown; `rest` weighs the wish of each to stay where it is."""
    import numpy

    size = 2 * len(rest)
    normal = numpy.zeros(size * size)
    right = numpy.zeros(size)
    alike: dict[int, list[Row]] = defaultdict(list)
    for row in rows:
        alike[len(row[0])].append(row)
    for terms, group in sorted(alike.items()):
        at = numpy.array([list(row[0]) for row in group])
        along = numpy.array([[row[2] * x for p in row[0].values() for x in p] for row in group])
        wanted = numpy.array([row[1] * row[2] for row in group])
        columns = (2 * at[:, :, None] + numpy.arange(2)).reshape(len(group), 2 * terms)
        cells = columns[:, :, None] * size + columns[:, None, :]
        products = along[:, :, None] * along[:, None, :]
        normal += numpy.bincount(cells.ravel(), products.ravel(), size * size)
        right += numpy.bincount(columns.ravel(), (along * wanted[:, None]).ravel(), size)
    matrix = normal.reshape(size, size)
    matrix[numpy.diag_indices(size)] += numpy.repeat(numpy.square(rest), 2)
    few = size <= _FEW
    found = numpy.linalg.solve(matrix, right) if few else _eliminated(matrix, right)
    return [(float(x), float(y)) for x, y in found.reshape(-1, 2)]


def _eliminated(matrix: Any, right: Any) -> Any:
    """Solution of a symmetric positive definite system, by elimination; both arrays are used up."""
    import numpy

    size = len(right)
    for k in range(size - 1):
        row = matrix[k, k + 1 :]
        part = row / matrix[k, k]
        matrix[k + 1 :, k + 1 :] -= part[:, None] * row
        right[k + 1 :] -= part * right[k]
    found = numpy.zeros(size)
    for k in range(size - 1, -1, -1):
        known = (matrix[k, k + 1 :] * found[k + 1 :]).sum()
        found[k] = (right[k] - known) / matrix[k, k]
    return found
