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
    rings = [list(piece.corners) for piece in pose.pieces]
    normals = _normals(pose)
    shapes = np.empty(len(rings), dtype=object)
    facing = np.zeros(len(rings), dtype=np.int64)
    planes = np.zeros((len(rings), 3))
    for k, ring in enumerate(rings):
        drawn = at[ring]
        area = _area(drawn)
        whole = float(np.sqrt((_normal_sum(drawn) ** 2).sum())) / 2
        if abs(area) <= _EDGE_ON * whole:
            shapes[k] = shapely.Polygon()
            continue
        shape = shapely.Polygon(drawn[:, :2])
        shapes[k] = shape if shapely.is_valid(shape) else shapely.buffer(shape, 0)
        facing[k] = 1 if area < 0 else -1  # the page's y runs down
        planes[k] = _plane(drawn)
    return Seen(pose, camera, at, shapes, facing, planes, normals)


@remembered
def _normals(pose: Pose) -> Array:
    """Unit normals of a pose's pieces in space."""
    space = np.array(pose.space, dtype=float)
    return np.array([_normal(space[list(piece.corners)]) for piece in pose.pieces])


def extent(pose: Pose, camera: Camera) -> tuple[float, float]:
    """Width and height on the page, in millimetres."""
    at = camera.page(np.array(pose.space, dtype=float))
    wide, high, _ = at.max(axis=0) - at.min(axis=0)
    return float(wide), float(high)


def _area(ring: Array) -> float:
    x, y = ring[:, 0], ring[:, 1]
    u, v = np.concatenate((ring[1:], ring[:1]))[:, :2].T
    return float((x * v - u * y).sum()) / 2


def _normal_sum(ring: Array) -> Array:
    x, y, z = ring.T
    u, v, w = np.concatenate((ring[1:], ring[:1])).T
    return np.column_stack((y * w - z * v, z * u - x * w, x * v - y * u)).sum(axis=0)


def _normal(ring: Array) -> Array:
    """Unit normal (M. Newell's sum), of a ring about its middle."""
    n = _normal_sum(ring - ring.mean(axis=0))
    size = float(np.sqrt((n * n).sum()))
    return n / size if size > 0 else n


def _plane(ring: Array) -> Array:
    """Depth over the page, through the middle of a ring and across its normal."""
    middle = ring.mean(axis=0)
    n = _normal(ring)
    a, b = -n[0] / n[2], -n[1] / n[2]
    return np.array([a, b, middle[2] - a * middle[0] - b * middle[1]])


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
