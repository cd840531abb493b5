"""How much of every layer lies open to the eye, roughly, before anything is drawn.

In: a state. Out: for each facet how much of its plate is open, beside the most open plate, and which of
its corners are. Points spread over the facets are counted, all at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ...geometry.polygons import Polygon
from ...paper.state import State
from .covers import Covers

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

#: Points in a triangle between two corners of a facet and its middle (weights in sixths), where
#: there are few facets and where there are many.
_FINE, _COARSE, _FEW = ((4, 1, 1), (1, 4, 1), (1, 1, 4), (2, 2, 2)), ((2, 2, 2),), 16

#: How far from a corner towards the middle of its facet is looked whether the corner lies open.
_INTO = 0.04


def open_parts(state: State, covers: Covers) -> list[float]:
    """From 0 (hidden) to 1 (of the most open plate)."""
    import numpy

    spots, weights, owners = _spots(state.placed)
    hidden = covers.hidden(spots[:, None], owners)
    left = numpy.bincount(owners, weights * ~hidden, len(state.facets))
    out = [0.0] * len(state.facets)
    for plate in state.plates:
        whole = float(sum(left[i] for i in plate))
        for i in plate:
            out[i] = whole
    most = max(out) or 1.0
    return [x / most for x in out]


def open_corners(spots: Sequence[Polygon], covers: Covers) -> list[list[bool]]:
    """For each facet and corner of its outline `spots`, whether the facet lies open right at it."""
    import numpy

    at = numpy.array([p for ring in spots for p in ring])
    owners = numpy.repeat(numpy.arange(len(spots)), [len(ring) for ring in spots])
    count = numpy.bincount(owners)
    middle = numpy.stack([numpy.bincount(owners, at[:, k]) / count for k in (0, 1)], axis=1)
    inward = at + _INTO * (middle[owners] - at)
    seen = iter((~covers.hidden(inward[:, None], owners)).tolist())
    return [[next(seen) for _ in ring] for ring in spots]


def _spots(
    rings: tuple[Polygon, ...],
) -> tuple[NDArray[numpy.float64], NDArray[numpy.float64], NDArray[numpy.intp]]:
    """Points over all facets, the area that each stands for, and the facet of each."""
    import numpy

    a = numpy.array([p for ring in rings for p in ring])
    b = numpy.array([p for ring in rings for p in (*ring[1:], ring[0])])
    owners = numpy.repeat(numpy.arange(len(rings)), [len(ring) for ring in rings])
    count = numpy.bincount(owners)
    c = numpy.stack([numpy.bincount(owners, a[:, k]) / count for k in (0, 1)], axis=1)[owners]
    u, v = b - a, c - a
    area = numpy.abs(u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]) / 2
    parts = _FINE if len(rings) <= _FEW else _COARSE
    spots = numpy.stack([(x * a + y * b + z * c) / 6 for x, y, z in parts], axis=1)
    return (
        spots.reshape(-1, 2),
        numpy.repeat(area / len(parts), len(parts)),
        numpy.repeat(owners, len(parts)),
    )
