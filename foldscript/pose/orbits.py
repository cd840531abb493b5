"""Points that a symmetry takes to each other: one carries the others along.

In: for each point which one carries it, and how that one's move is turned to be its own. Out: moves of all
points from those of the carriers, and slopes the other way. What is alike on several sides is solved for on
one of them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True)
class Orbits:
    """Points of which one carries the others along, so that only it has to be solved for.

    Attributes
    ----------
    of : for each point the number of the one that carries it
    turn : n × 3 × 3, with d the move of that one, d @ turn.T is the point's own
    size : how many points each carries, itself among them
    """

    of: Indices
    turn: Array
    size: Array

    def carried(self, moves: Array) -> Array:
        """The moves of all points, from those that carry them."""
        return np.einsum("vij,vj->vi", self.turn, moves[self.of])

    def gathered(self, slopes: Array) -> Array:
        """What slopes at all points (n × 3) come to at those that carry them."""
        out = np.zeros((len(self.size), 3))
        np.add.at(out, self.of, np.einsum("vi,vij->vj", slopes, self.turn))
        return out
