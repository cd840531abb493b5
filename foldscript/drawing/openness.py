"""How much of every layer lies open to the eye, roughly, before anything is drawn.

In: a state. Out: for each facet how much of its plate is open, beside the most open plate. Points
spread over the facets are counted, all at once; facets are convex, so a point lies on one where it
lies on the inner side of each of its edges.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..geometry.polygons import Polygon
from ..paper.state import State
from .rims import lying_on

#: Points in a triangle between two corners of a facet and its middle (weights in sixths), where
#: there are few facets and where there are many.
_FINE, _COARSE, _FEW = ((4, 1, 1), (1, 4, 1), (1, 1, 4), (2, 2, 2)), ((2, 2, 2),), 16

#: How far from a corner towards the middle of its facet is looked whether the corner lies open.
_INTO = 0.04


def open_parts(state: State) -> list[float]:
    """From 0 (hidden) to 1 (of the most open plate)."""
    import numpy

    spots, weights, owners = _spots(state.placed)
    covered = _covered(state, spots, owners)
    left = numpy.bincount(owners, weights * ~covered, len(state.facets))
    out = [0.0] * len(state.facets)
    for plate in state.plates:
        whole = float(sum(left[i] for i in plate))
        for i in plate:
            out[i] = whole
    most = max(out) or 1.0
    return [x / most for x in out]


def open_corners(state: State, spots: Sequence[Polygon]) -> list[list[bool]]:
    """For each facet and corner of its outline `spots`, whether the facet lies open right at it."""
    import numpy

    at = numpy.array([p for ring in spots for p in ring])
    owners = numpy.repeat(numpy.arange(len(spots)), [len(ring) for ring in spots])
    count = numpy.bincount(owners)
    middle = numpy.stack([numpy.bincount(owners, at[:, k]) / count for k in (0, 1)], axis=1)
    seen = iter((~_covered(state, at + _INTO * (middle[owners] - at), owners)).tolist())
    return [[next(seen) for _ in ring] for ring in spots]


def _covered(state: State, spots: Any, owners: Any) -> Any:
    """Whether each point, on the facet that owns it, lies under another; sorted by owner."""
    import numpy

    normals, reach = _edges(state.placed)
    under = lying_on(state)
    covered = numpy.zeros(len(spots), dtype=bool)
    if under:
        low, high = numpy.array(under).T
        first = numpy.searchsorted(owners, numpy.arange(len(state.facets) + 1))
        count = first[low + 1] - first[low]
        tops = numpy.repeat(high, count)
        start = numpy.repeat(first[low] - numpy.cumsum(count) + count, count)
        at = start + numpy.arange(len(start))
        side = (normals[tops] * spots[at][:, None, :]).sum(-1) - reach[tops]
        hit = (side < 1e-9).all(1)
        covered[at[hit]] = True
    return covered


def _spots(rings: tuple[Polygon, ...]) -> tuple[Any, Any, Any]:
    """Points over all facets, the area that each stands for, and the facet of each."""
    import numpy

    a, b, c, owners = [], [], [], []
    for i, ring in enumerate(rings):
        middle = (sum(p[0] for p in ring) / len(ring), sum(p[1] for p in ring) / len(ring))
        for k, p in enumerate(ring):
            a.append(p)
            b.append(ring[(k + 1) % len(ring)])
            c.append(middle)
            owners.append(i)
    a, b, c = numpy.array(a), numpy.array(b), numpy.array(c)
    u, v = b - a, c - a
    area = numpy.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) / 2
    parts = _FINE if len(rings) <= _FEW else _COARSE
    spots = numpy.stack([(x * a + y * b + z * c) / 6 for x, y, z in parts], axis=1)
    return (
        spots.reshape(-1, 2),
        numpy.repeat(area / len(parts), len(parts)),
        numpy.repeat(numpy.array(owners), len(parts)),
    )


def _edges(rings: tuple[Polygon, ...]) -> tuple[Any, Any]:
    """Outward normals of every facet's edges and how far they reach; rows filled up with no edges."""
    import numpy

    most = max(len(ring) for ring in rings)
    normals = numpy.zeros((len(rings), most, 2))
    reach = numpy.ones((len(rings), most))
    rows = [i * most + k for i, ring in enumerate(rings) for k in range(len(ring))]
    at = numpy.array([p for ring in rings for p in ring])
    run = numpy.array([p for ring in rings for p in (*ring[1:], ring[0])]) - at
    out = numpy.stack([run[:, 1], -run[:, 0]], axis=1)
    normals.reshape(-1, 2)[rows] = out
    reach.reshape(-1)[rows] = (out * at).sum(1)
    return normals, reach
