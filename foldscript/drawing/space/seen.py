"""A pose as it lies before the reader: its pieces on the page, how deep they lie, and which side they show.

In: a pose, a camera, a scale. Out: a `Seen`. Corners are rounded before anything else is made of them, so
that pieces share theirs to the last bit and the same pose gives the same drawing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import cast

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ...geometry.remembered import remembered
from ...pose.pose import Pose
from .camera import Array, Camera

#: Corners are drawn to this many places (points).
PLACES = 3
#: A piece that shows less than this share of itself is seen along its edge.
_EDGE_ON = 0.02


@dataclass(frozen=True, eq=False)
class Seen:
    """Pieces on the page.

    Attributes
    ----------
    pose, camera : what is seen, and from where
    points : n × 3: x right, y down, depth, in points
    shapes : polygon of every piece on the page, empty for one that is seen along its edge
    facing : for every piece 1 where it shows its front, -1 its back, 0 neither
    planes : n × 3: depth of a piece at (x, y) is a x + b y + c
    normals : n × 3 in space, on the front
    """

    pose: Pose
    camera: Camera
    points: Array
    shapes: NDArray[np.object_]
    facing: NDArray[np.int64]
    planes: Array
    normals: Array

    @cached_property
    def order(self) -> dict[tuple[int, int], bool]:
        """(one, other) -> whether `one` is in front of `other`, for pieces that lie flat together."""
        found: dict[tuple[int, int], bool] = {}
        for pair in self.pose.touching:
            side = int(self.facing[pair.one])
            if side:
                nearer = pair.on_front == (side > 0)
                found[(pair.other, pair.one)] = nearer
                found[(pair.one, pair.other)] = not nearer
        return found

    def depths(self, pieces: NDArray[np.int64], at: Array) -> Array:
        """Depths of one piece at each place on the page (n × 2)."""
        a, b, c = self.planes[pieces].T
        return at[:, 0] * a + at[:, 1] * b + c

    def depth(self, piece: int, at: Array) -> Array:
        """Depths of a piece at places on the page (n × 2)."""
        a, b, c = self.planes[piece]
        return at[:, 0] * a + at[:, 1] * b + c


def seen(
    pose: Pose, camera: Camera, scale: float, about: tuple[float, float] | None = None
) -> Seen:
    """The pose before the reader, so many points a millimetre.

    `about` is the place of the page's plane (mm, y up) that is drawn at (0, 0), None for the middle of what
    is seen.
    """
    space = np.array(pose.space, dtype=float)
    at = camera.page(space) * scale
    middle = (at.min(axis=0) + at.max(axis=0)) / 2
    if about is not None:
        middle[:2] = about[0] * scale, -about[1] * scale
    at = np.round(at - middle, PLACES) + 0.0
    count = len(pose.pieces)
    shapes = np.full(count, shapely.Polygon(), dtype=object)
    facing = np.zeros(count, dtype=np.int64)
    planes = np.zeros((count, 3))
    for some, rings in _alike(pose):
        drawn = at[rings]
        areas = _areas(drawn)
        whole = np.sqrt((_normal_sums(drawn) ** 2).sum(axis=1)) / 2
        shown = np.abs(areas) > _EDGE_ON * whole
        some, drawn = some[shown], drawn[shown]
        if len(some):
            shapes[some] = _sound(np.asarray(shapely.polygons(drawn[:, :, :2])))
            facing[some] = np.where(areas[shown] < 0, 1, -1)  # the page's y runs down
            planes[some] = _planes(drawn)
    normals = _normals(pose)
    return Seen(pose, camera, at, shapes, facing, planes, normals)


@remembered
def _alike(pose: Pose) -> tuple[tuple[NDArray[np.int64], NDArray[np.int64]], ...]:
    """Pieces with as many corners as each other, and their corners, a row for each."""
    by_count: dict[int, list[int]] = {}
    for k, piece in enumerate(pose.pieces):
        by_count.setdefault(len(piece.corners), []).append(k)
    return tuple(
        (np.array(some), np.array([pose.pieces[k].corners for k in some]))
        for some in by_count.values()
    )


def _sound(shapes: NDArray[np.object_]) -> NDArray[np.object_]:
    wrong = ~shapely.is_valid(shapes)
    shapes[wrong] = shapely.buffer(shapes[wrong], 0)
    return shapes


@remembered
def _normals(pose: Pose) -> Array:
    """Unit normals of a pose's pieces in space."""
    space, out = np.array(pose.space, dtype=float), np.zeros((len(pose.pieces), 3))
    for some, rings in _alike(pose):
        out[some] = _unit_normals(space[rings])
    return out


def extent(pose: Pose, camera: Camera) -> tuple[float, float]:
    """Width and height on the page, in millimetres."""
    at = camera.page(np.array(pose.space, dtype=float))
    wide, high, _ = at.max(axis=0) - at.min(axis=0)
    return float(wide), float(high)


def _areas(rings: Array) -> Array:
    """Areas on the page of rings (m × n × 3), below zero for those that run clockwise with y up."""
    x, y = rings[:, :, 0], rings[:, :, 1]
    u, v = np.roll(x, -1, axis=1), np.roll(y, -1, axis=1)
    return (x * v - u * y).sum(axis=1) / 2


def _normal_sums(rings: Array) -> Array:
    x, y, z = rings.transpose(2, 0, 1)
    u, v, w = np.roll(rings, -1, axis=1).transpose(2, 0, 1)
    return np.stack((y * w - z * v, z * u - x * w, x * v - y * u), axis=2).sum(axis=1)


def _unit_normals(rings: Array) -> Array:
    """Unit normals (M. Newell's sum) of rings about their middles; 0 where a ring has no area."""
    n = _normal_sums(rings - rings.mean(axis=1, keepdims=True))
    sizes = np.sqrt((n * n).sum(axis=1, keepdims=True))
    return n / np.where(sizes > 0, sizes, 1.0)


def _planes(rings: Array) -> Array:
    """Depth over the page, through the middle of each ring and across its normal."""
    middle = rings.mean(axis=1)
    n = _unit_normals(rings)
    a, b = -n[:, 0] / n[:, 2], -n[:, 1] / n[:, 2]
    return np.column_stack((a, b, middle[:, 2] - a * middle[:, 0] - b * middle[:, 1]))


def strings(geometry: object) -> list[shapely.LineString]:
    """All lines in a geometry, none of them empty."""
    return cast("list[shapely.LineString]", _parts(geometry, 1))


def areas(geometry: object) -> list[shapely.Polygon]:
    """All areas in a geometry, none of them empty."""
    return cast("list[shapely.Polygon]", _parts(geometry, 3))


def _parts(geometry: object, kind: int) -> list[BaseGeometry]:
    found = shapely.get_parts(cast("list[BaseGeometry]", [geometry]))
    while len(found) and (shapely.get_type_id(found) > 3).any():
        found = shapely.get_parts(found)
    keep = (shapely.get_type_id(found) == kind) & ~shapely.is_empty(found)
    return list(found[keep])
