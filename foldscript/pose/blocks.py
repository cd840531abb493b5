"""Large symmetric systems whose unknowns lie on the sheet, and touch only those beside them.

In: which unknowns touch, and where they lie. Out: solutions. The sheet is halved again and again; unknowns at
the cuts are set apart, so that what is left falls into blocks that know nothing of each other. These are
eliminated one by one, then the cuts are solved for (Schur complements, nested dissection after A. George,
1973). What took the third power of all unknowns takes that of a block.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

#: Blocks are halved while they are larger than this.
_LARGE = 180


@dataclass(frozen=True)
class _Block:
    """Unknowns that only touch each other and some cut ones, and where entries go that tell of them."""

    inside: Indices
    cut: Indices
    own: tuple[Indices, Indices]
    beside: tuple[Indices, Indices]


class Blocks:
    """A pattern of entries, taken apart once; entries may be told more than once, and are added."""

    def __init__(self, rows: Indices, columns: Indices, spots: Array) -> None:
        part = _parts(spots)
        count = len(spots)
        cut = np.unique(rows[part[rows] < part[columns]])
        part[cut] = -1
        self._count, self._cut = count, cut
        place = np.zeros(count, dtype=np.int64)
        place[cut] = np.arange(len(cut))
        among = np.flatnonzero((part[rows] < 0) & (part[columns] < 0))
        self._among = among, place[rows[among]] * len(cut) + place[columns[among]]
        self._blocks: list[_Block] = []
        for k in range(int(part.max(initial=-1)) + 1):
            inside = np.flatnonzero(part == k)
            if not len(inside):
                continue
            place[inside] = np.arange(len(inside))
            own = np.flatnonzero((part[rows] == k) & (part[columns] == k))
            out = np.flatnonzero((part[rows] == k) & (part[columns] < 0))
            beside, which = np.unique(columns[out], return_inverse=True)
            self._blocks.append(
                _Block(
                    inside,
                    place[beside],
                    (own, place[rows[own]] * len(inside) + place[columns[own]]),
                    (out, place[rows[out]] * len(beside) + which),
                )
            )

    def solved(self, values: Array, right: Array, damping: float) -> Array:
        """x with (matrix + damping) · x = right; `values` are the entries in the order of the pattern.

        Raises numpy's LinAlgError for a singular block.
        """
        middle = _dense(values, self._among, len(self._cut), len(self._cut))
        middle[np.diag_indices_from(middle)] += damping
        rest = right[self._cut].astype(np.float64)
        shares: list[Array] = []
        for block in self._blocks:
            size, wide = len(block.inside), len(block.cut)
            matrix = _dense(values, block.own, size, size)
            matrix[np.diag_indices_from(matrix)] += damping
            across = _dense(values, block.beside, size, wide)
            share = np.linalg.solve(matrix, np.c_[across, right[block.inside]])
            middle[np.ix_(block.cut, block.cut)] -= across.T @ share[:, :-1]
            rest[block.cut] -= across.T @ share[:, -1]
            shares.append(share)
        x = np.zeros(self._count)
        at_cut = np.linalg.solve(middle, rest) if len(rest) else rest
        x[self._cut] = at_cut
        for block, share in zip(self._blocks, shares, strict=True):
            x[block.inside] = share[:, -1] - share[:, :-1] @ at_cut[block.cut]
        return x


def _dense(values: Array, entries: tuple[Indices, Indices], high: int, wide: int) -> Array:
    which, where = entries
    return np.bincount(where, values[which], high * wide).astype(np.float64).reshape(high, wide)


def _parts(spots: Array) -> Indices:
    """For each unknown the number of its part of the sheet."""
    part = np.zeros(len(spots), dtype=np.int64)
    waiting, number = [np.arange(len(spots))], 0
    while waiting:
        some = waiting.pop()
        if len(some) <= _LARGE:
            part[some] = number
            number += 1
            continue
        axis = int(np.argmax(np.ptp(spots[some], axis=0)))
        order = some[np.argsort(spots[some, axis], kind="stable")]
        waiting += [order[len(order) // 2 :], order[: len(order) // 2]]
    return part
