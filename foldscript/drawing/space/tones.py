"""Light and shade: which tone a surface has.

In: the direction that a surface faces. Out: the number of its tone, 0 the lightest. The light falls from
above, over the shoulder of a reader who stands aside; seen in a mirror it falls from the mirrored side. In
figures that are drawn aslant, paper that lies in the page is as light as in flat figures.
"""

from __future__ import annotations

import math

import numpy as np

from ...pose.pose import Line, Pose
from .camera import Array, Camera

#: Direction to the light: how far aside, up and to the reader.
_ASIDE, _UP, _TOWARD = 0.35, 0.62, 0.7
#: Tones of every side of the paper.
TONES = 4
#: How soon surfaces that turn from the light are dark.
_DEEP = 1.35
#: Bends over which paper is round rather than broken (radians), and how often it is evened out.
_SOFT, _ROUNDS = math.radians(40), 2


def smoothed(pose: Pose, normals: Array) -> Array:
    """Normals of pieces (n × 3), evened out over rounded paper, which a mesh only follows in flat steps."""
    soft = [
        edge
        for edge in pose.edges
        if edge.kind is Line.BEND and edge.right is not None and abs(edge.angle) < _SOFT
    ]
    if not soft:
        return normals
    space = np.array(pose.space, dtype=float)
    areas = np.array([_area(space[list(piece.corners)]) for piece in pose.pieces])
    left = np.array([edge.left for edge in soft])
    right = np.array([edge.right for edge in soft])
    out = normals
    for _ in range(_ROUNDS):
        weighted = out * areas[:, None]
        total = weighted.copy()
        np.add.at(total, left, weighted[right])
        np.add.at(total, right, weighted[left])
        size = np.sqrt((total * total).sum(axis=1))
        out = np.where(size[:, None] > 0, total / np.maximum(size, 1e-12)[:, None], out)
    return out


def _area(ring: Array) -> float:
    n = np.cross(ring - ring[0], np.roll(ring, -1, axis=0) - ring[0]).sum(axis=0)
    return float(np.sqrt(n @ n)) / 2


def tone(camera: Camera, towards_reader: Array) -> int:
    """Tone of a surface by the unit normal (in space) of the side that the reader sees."""
    light = np.array([_ASIDE * camera.side, _UP, _TOWARD])
    light = light / math.sqrt(float(light @ light))
    bright = max(0.0, float(camera.turn(towards_reader[None, :])[0] @ light))
    most = float(light[2]) if any(camera.slant) else 1.0
    return min(TONES - 1, int(round(max(0.0, most - bright) * _DEEP * (TONES - 1), 6)))


def toned(role: str, number: int) -> str:
    """The role of a side of the paper, 'paper.coloured.red', in a tone: 'shade.2.coloured.red'."""
    return f"shade.{number}.{role.removeprefix('paper.')}" if number else role
