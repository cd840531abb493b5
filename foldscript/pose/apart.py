"""What hands pull apart: two places of the paper that lie over each other.

In: points of the net and how they make up a place. Out: where both places are in space.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .pieces import Array


@dataclass(frozen=True)
class Apart:
    """Two places that lie over each other, and how far apart they are wanted (sheet units).

    Attributes
    ----------
    low, high : points of the paper, as many of the one as of the other
    share : how much of each of them makes up the place
    """

    low: tuple[int, ...]
    high: tuple[int, ...]
    share: tuple[float, ...]
    width: float

    def places(self, points: Array) -> tuple[Array, Array]:
        """Where both are among the points' places in space."""
        share = np.array(self.share)
        return share @ points[list(self.low)], share @ points[list(self.high)]
