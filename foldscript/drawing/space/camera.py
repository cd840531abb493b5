"""Where the reader stands: parallel projection from space to the page.

In: three directions of space, or how far the third axis is drawn aslant. Out: a `Camera`, which takes points
of space to the page (y down) with their depth.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ...pose.pose import Vector

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Camera:
    """A parallel projection.

    Attributes
    ----------
    right, up, toward : unit vectors of space, at right angles: right and up on the page, and to the reader
    slant : how far a point that lies 1 nearer to the reader is drawn to the right and up: (0, 0) for a
        picture straight along `toward`; else what lies in the page keeps its place and size
    side : -1, 0 or 1, as the reader stands to the left of the model's front, before it, or to the right
    """

    right: Vector
    up: Vector
    toward: Vector
    slant: tuple[float, float] = (0.0, 0.0)
    side: int = 0

    def page(self, points: Array) -> Array:
        """Places on the page for points of space (n × 3): x right, y down, depth (more is nearer)."""
        nearer = points @ np.array(self.toward)
        along, across = self.slant
        x = points @ np.array(self.right) + along * nearer
        y = points @ np.array(self.up) + across * nearer
        return np.c_[x, -y, nearer]

    def turn(self, normals: Array) -> Array:
        """Directions of space (n × 3) as the reader has them: right, up, toward."""
        return normals @ np.array([self.right, self.up, self.toward]).T


def looking(up: Vector, front: Vector, azimuth: float, elevation: float) -> Camera:
    """The camera of a reader who stands `azimuth` degrees to the right of the front, and looks down
    `elevation` degrees.

    `up` is drawn upright; `front` is the direction in which the model faces, made square to it.
    """
    u = _unit(np.array(up, dtype=float))
    f = np.array(front, dtype=float)
    f = _unit(f - u * (f @ u))
    s = np.cross(u, f)  # the model's side that is on the reader's right
    a, e = math.radians(azimuth), math.radians(elevation)
    toward = math.cos(e) * (math.cos(a) * f + math.sin(a) * s) + math.sin(e) * u
    right = _unit(np.cross(u, toward))
    return Camera(
        _vector(right), _vector(np.cross(toward, right)), _vector(toward), side=_sign(azimuth)
    )


def aslant(along: float, across: float) -> Camera:
    """The flat figure's own view, with what rises from the page drawn so far to the right and up."""
    return Camera((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (along, across), _sign(along))


def _sign(value: float) -> int:
    return (value > 0) - (value < 0)


def _unit(v: Array) -> Array:
    return v / np.sqrt((v * v).sum())


def _vector(v: Array) -> Vector:
    x, y, z = (round(float(c), 12) + 0.0 for c in v)
    return (x, y, z)
