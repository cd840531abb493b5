"""Coincident layers drawn slightly apart.

In: a state and how far apart two layers that end in the same place may be drawn. Out: a `Spread`:
every facet's outline with its corners moved a little. The moves belong to the corners of the
*sheet*, one for all facets that meet there, so no joint opens; how large they are is settled in
`fanning`.
"""

from __future__ import annotations

import math
from dataclasses import replace

from ..geometry import polygons
from ..geometry.lines import dot, subtract
from ..paper.state import State
from .bends import bent
from .covers import Covers
from .fanning import settled
from .rims import corners, is_upper, rims_of
from .spreads import Spread
from .stacks import Stacks

#: Where there are more facets than this they are small, and layers are drawn closer together.
_MANY = 30


def spread(state: State, gap: float, most: float) -> Spread:
    """Moves the corners of a state: layers `gap` apart, a whole stack at most `most` (sheet units)."""
    rings, spots, count = corners(state)
    rims = rims_of(state, rings, spots)
    still = Spread(state, rings, spots, ((0.0, 0.0),) * count, rims)
    if len(state.facets) < 2:
        return still
    picked = [k for k, r in enumerate(rims) if r.mate is None or is_upper(state, r)]
    edges = [rims[k] for k in picked]
    covers = Covers(state)
    stacks = Stacks(state, edges, covers)
    stacked = tuple((picked[a], picked[b], seg) for a, b, seg, over in stacks.pairs if over)
    still = replace(still, stacked=stacked, covers=covers)
    if gap <= 0:
        return still
    closer = min(1.0, math.sqrt(_MANY / len(state.facets)))
    gap, most = closer * gap, closer * most
    moves = settled(state, rings, spots, rims, edges, stacks, covers, count, gap, most)
    for _ in range(6):
        found = replace(still, moves=moves)
        if all(_sound(found, i) for i in range(len(rings))) and _simple(found):
            bowed = bent(found, gap)
            if all(_sound(bowed, i) for i in range(len(rings))) and _simple(bowed):
                return bowed
            return found
        moves = tuple((m[0] / 2, m[1] / 2) for m in moves)
    return still


def _simple(found: Spread) -> bool:
    """Whether no outline crosses itself."""
    import shapely

    points = [p for i in range(len(found.rings)) for p in found.shape(i)]
    owners = [i for i, ring in enumerate(found.rings) for _ in ring]
    outlines = shapely.polygons(shapely.linearrings(points, indices=owners))
    return bool(shapely.is_valid(outlines).all())


def _sound(found: Spread, facet: int) -> bool:
    """Whether a facet, its corners moved, has kept its shape (a sliver must not turn inside out)."""
    before, after = found.spots[facet], found.shape(facet)
    if polygons.area(after) < 0.35 * polygons.area(before):
        return False
    n = len(after)
    return all(
        dot(subtract(after[(i + 1) % n], after[i]), subtract(before[(i + 1) % n], before[i])) > 0
        for i in range(n)
    )
