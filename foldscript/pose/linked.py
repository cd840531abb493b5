"""A model that opens and shuts as a whole, half way: stiff parts that turn about the folds between them.

In: a `Change` after which no part of the paper lies as it lay: a pocket opened and flattened the other way.
Out: places for its points, with every piece plane and every corner closed, to the last digits. Folds that
stay shut keep their layers together; those that change are put half way, and what closes near there is
sought.
"""

from __future__ import annotations

import math

import numpy as np

from .change import Change
from .closing import closed_near
from .pieces import Array
from .turning import turned

#: Angles may be corrected by so much (radians); points may gape by so much (sheet units).
_FAR, _CLOSED = math.radians(40), 1e-9


def linked(change: Change) -> Array | None:
    """Places (n × 3, sheet units) half way, or None where stiff parts hold no way between."""
    middle = (change.was + change.will) / 2
    free = [int(k) for k in np.flatnonzero(change.turning)]
    angles = closed_near(change.pieces, np.where(change.turning, middle, change.was), free, _FAR)
    if angles is None:
        return None
    places, gap = turned(change.pieces, angles, change.still.index(True))
    return places if gap < _CLOSED else None


def amid(change: Change, places: Array) -> Array:
    """The same places moved to where the model is between before and after.

    Source: W. Kabsch, A solution for the best rotation to relate two sets of vectors (1976).
    """
    flat = (change.start + change.end) / 2
    goal = np.c_[flat, np.zeros(len(flat))]
    here, there = places - places.mean(axis=0), goal - goal.mean(axis=0)
    u, _, vt = np.linalg.svd(here.T @ there)
    turn = u @ np.diag([1.0, 1.0, np.sign(np.linalg.det(u @ vt))]) @ vt
    return here @ turn + goal.mean(axis=0)
