"""Which edge of a flat model opens, as the pose tells it that the model is brought into.

In: the flat state and the pose. Out: the edge of its outline that gapes most between its front and its back.
"""

from __future__ import annotations

import numpy as np

from ...geometry.isometries import inverse
from ...geometry.lines import Point, Segment, add, point_on_segment, scale, subtract
from ...geometry.remembered import remembered
from ...paper.openings import open_sides
from ...paper.signs import PointSign
from ...paper.state import State
from ...pose.pose import Pose
from .camera import Array
from .moving import on_sheet

#: How far inside an edge its layers are looked at (sheet units), and where along it.
_INSIDE, _PLACES = 1e-3, (0.3, 0.45, 0.55, 0.7)
#: An edge that opens this much of what another does opens as well.
_AS_WELL = 0.7


def opened(state: State, pose: Pose, sign: PointSign) -> PointSign:
    """A sign of opening, at an edge that opens: its own where that does, else the one that opens most."""
    if sign.opens is None or sign.slit:
        return sign
    parted = [
        (round(_parted(state, pose, edge, outward), 3), edge, outward)
        for edge, outward in open_sides(state)
    ]
    if not parted:
        return sign
    most, (p, q), outward = max(parted)
    own = [far for far, edge, _ in parted if point_on_segment(edge, sign.at)]
    if most <= 0.0 or (own and max(own) >= _AS_WELL * most):
        return sign
    at = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
    return PointSign(sign.kind, at, add(at, outward), (p, q), count=sign.count)


def _parted(state: State, pose: Pose, edge: Segment, outward: Point) -> float:
    """How wide an edge gapes in space: how far from all paper the middle lies between two layers of it, where
    it is least along the edge (mm). Where paper is stretched between them nothing opens.
    """
    there, unit = on_sheet(pose), state.sheet.unit_mm
    triangles = _triangles(pose)
    found: list[float] = []
    for k in _PLACES:
        on = add(edge[0], scale(subtract(edge[1], edge[0]), k))
        spot = subtract(on, scale(outward, _INSIDE))
        sheet = [inverse(state.facets[i].place)(spot) for i in state.facets_at(spot)]
        at = np.array([there((x * unit, y * unit)) for x, y in sheet])
        middles = (at[1:] + at[:-1]) / 2
        found.append(max((_off_paper(triangles, middle) for middle in middles), default=0.0))
    return min(found)


@remembered
def _triangles(pose: Pose) -> Array:
    """The paper in space (mm), cut into triangles (n, 3, 3)."""
    corners = [
        (ring[0], ring[k], ring[k + 1])
        for ring in (piece.corners for piece in pose.pieces)
        for k in range(1, len(ring) - 1)
    ]
    return np.array(pose.space, dtype=float)[np.array(corners)]


def _off_paper(triangles: Array, at: Array) -> float:
    """How far a place lies from all paper (mm)."""
    return float(_from_triangles(at, triangles).min())


def _from_triangles(at: Array, triangles: Array) -> Array:
    """Distance of a place from each of the triangles (n, 3, 3)."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    sides = [(a, b), (b, c), (c, a)]
    near = [_from_segments(at, p, q) for p, q in sides]
    normal = np.cross(b - a, c - a)
    n = np.sqrt((normal**2).sum(axis=1))
    n[n < 1e-12] = 1e-12
    within = np.ones(len(a), dtype=bool)
    for p, q in sides:
        within &= (np.cross(q - p, at - p) * normal).sum(axis=1) >= 0.0
    over = np.abs(((at - a) * normal).sum(axis=1)) / n
    return np.where(within, over, np.minimum.reduce(near))


def _from_segments(at: Array, p: Array, q: Array) -> Array:
    way = q - p
    long = (way**2).sum(axis=1)
    long[long < 1e-12] = 1e-12
    t = (((at - p) * way).sum(axis=1) / long).clip(0.0, 1.0)
    return np.sqrt(((p + t[:, None] * way - at) ** 2).sum(axis=1))
