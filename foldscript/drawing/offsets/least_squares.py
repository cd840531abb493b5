"""Soft constraints on moves in the plane, and the moves that come nearest to all of them.

In: equations in unknown moves, each with a weight, and how much every unknown is drawn to zero. Out:
the least squares solution. The systems are small; general products and solvers of matrices would wake
a thread on every core for what takes a moment on one, and wait for all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    import numpy
    from numpy.typing import ArrayLike, NDArray


@dataclass(frozen=True)
class Constraints:
    """Equations of one shape, n of them in m moves each, as arrays.

    Attributes
    ----------
    unknowns : (n, m), which moves count; one may stand there twice
    coefficients : (n, m, 2), the vectors along which they count
    target, weight : (n,), the sum that they are to make, and how much it counts
    """

    unknowns: NDArray[numpy.intp]
    coefficients: NDArray[numpy.float64]
    target: NDArray[numpy.float64]
    weight: NDArray[numpy.float64]


#: Unknowns that are eliminated at once: so few that a general solver stays on one core.
_BLOCK = 40


#: Left side, flat, and right side of the equations that some constraints make.
Sums: TypeAlias = "tuple[NDArray[numpy.float64], NDArray[numpy.float64]]"


def sums(constraints: Sequence[Constraints], moves: int) -> Sums:
    """What constraints on this many moves add to the equations; may be used again with others."""
    import numpy

    size = 2 * moves
    normal, right = numpy.zeros(size * size), numpy.zeros(size)
    for group in constraints:
        count, terms = group.unknowns.shape
        if not count:
            continue
        along = (group.coefficients * group.weight[:, None, None]).reshape(count, 2 * terms)
        columns = (2 * group.unknowns[:, :, None] + numpy.arange(2)).reshape(count, 2 * terms)
        cells = columns[:, :, None] * size + columns[:, None, :]
        products = along[:, :, None] * along[:, None, :]
        normal += numpy.bincount(cells.ravel(), products.ravel(), size * size)
        target = (along * (group.target * group.weight)[:, None]).ravel()
        right += numpy.bincount(columns.ravel(), target, size)
    return normal, right


def solve(
    constraints: Sequence[Constraints], rest: ArrayLike, more: Sums | None = None
) -> NDArray[numpy.float64]:
    """Moves, one a row; `rest` weighs how each is held where it is, `more` are others."""
    import numpy

    normal, right = sums(constraints, numpy.shape(rest)[0])
    if more is not None:
        normal, right = normal + more[0], right + more[1]
    matrix = normal.reshape(len(right), len(right))
    matrix[numpy.diag_indices(len(right))] += numpy.repeat(numpy.square(rest), 2)
    return _eliminated(matrix, right).reshape(-1, 2)


def _eliminated(
    matrix: NDArray[numpy.float64], right: NDArray[numpy.float64]
) -> NDArray[numpy.float64]:
    """Solution of a symmetric positive definite system, block by block; both arrays are used up."""
    import numpy

    size = len(right)
    starts = range(0, size, _BLOCK)
    for k in starts:
        end = min(size, k + _BLOCK)
        beyond = numpy.concatenate([matrix[k:end, end:], right[k:end, None]], axis=1)
        part = numpy.linalg.solve(matrix[k:end, k:end], beyond)
        if end < size:
            matrix[end:, end:] -= numpy.einsum("ki,kj->ij", matrix[k:end, end:], part[:, :-1])
            right[end:] -= numpy.einsum("ki,k->i", matrix[k:end, end:], part[:, -1])
        matrix[k:end, end:], right[k:end] = part[:, :-1], part[:, -1]
    for k in reversed(starts):
        end = min(size, k + _BLOCK)
        right[k:end] -= numpy.einsum("ij,j->i", matrix[k:end, end:], right[end:])
    return right
