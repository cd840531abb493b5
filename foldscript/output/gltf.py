"""A model that stands in space as glTF 2.0, the open format of the Khronos Group for models in space.

In: a pose, colours, words. Out: one file, JSON with its numbers in it. Both sides of the paper are surfaces
of their own, each with its colour; edges and creases are lines. Source: glTF 2.0 Specification
(Khronos Group, 2021; ISO/IEC 12113): metres, right-handed, +Y up, the front towards +Z.
"""

from __future__ import annotations

import base64
import json
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ..drawing.space.apart import apart
from ..pose.crossing import triangles
from ..pose.pose import Line, Piece, Pose
from ..pose.upright import upright

#: Component types and targets, as the specification numbers them.
_FLOAT, _INDEX = 5126, 5125
_ARRAY, _ELEMENTS = 34962, 34963
_LINES, _TRIANGLES = 1, 4
#: Folded by less than this, a line is no edge (radians).
_FLAT = math.radians(12)
#: What a side is called.
_SIDES = {True: "front of the paper", False: "back of the paper"}
#: Millimetres in a metre.
_MM = 1000.0


@dataclass
class _Buffer:
    """Numbers of a file, and how they are found in it."""

    data: bytearray = field(default_factory=bytearray)
    views: list[dict[str, int]] = field(default_factory=list)
    accessors: list[dict[str, object]] = field(default_factory=list)

    def points(self, values: NDArray[np.float64]) -> int:
        """Vectors (n × 3) as floats; their number."""
        found = values.astype("<f4")
        return self._add(
            found.tobytes(),
            _ARRAY,
            {
                "componentType": _FLOAT,
                "count": len(found),
                "type": "VEC3",
                "min": [float(v) for v in found.min(axis=0)],
                "max": [float(v) for v in found.max(axis=0)],
            },
        )

    def indices(self, values: list[int]) -> int:
        """Which vectors; their number."""
        found = np.array(values, dtype="<u4")
        return self._add(
            found.tobytes(),
            _ELEMENTS,
            {"componentType": _INDEX, "count": len(found), "type": "SCALAR"},
        )

    def _add(self, data: bytes, target: int, accessor: dict[str, object]) -> int:
        self.views.append(
            {
                "buffer": 0,
                "byteOffset": len(self.data),
                "byteLength": len(data),
                "target": target,
            }
        )
        self.data += data
        self.accessors.append({"bufferView": len(self.views) - 1, **accessor})
        return len(self.accessors) - 1


def gltf(
    pose: Pose,
    paint: Callable[[int, bool], str],
    ink: str,
    title: str,
    owed: str,
    generator: str,
) -> bytes:
    """The file.

    Parameters
    ----------
    paint : '#rrggbb' of a facet's front (True) or back
    ink : of the lines
    owed : credit and licence, '' for none
    """
    space = _turned(pose)
    buffer = _Buffer()
    painted = [
        (front, colour)
        for front in (True, False)
        for colour in dict.fromkeys(paint(piece.facet, front) for piece in pose.pieces)
    ]
    sides = [
        _side(
            buffer,
            space,
            [p for p in pose.pieces if paint(p.facet, front) == colour],
            np.array(pose.sheet, dtype=float),
            front=front,
        )
        for front, colour in painted
    ]
    primitives: list[dict[str, object]] = [
        {
            "attributes": {"POSITION": points, "NORMAL": normals},
            "indices": corners,
            "material": k,
            "mode": _TRIANGLES,
        }
        for k, (points, normals, corners) in enumerate(sides)
    ]
    lines = [k for e in pose.edges if _drawn(e.kind, e.angle) for k in (e.start, e.end)]
    primitives.append(
        {
            "attributes": {"POSITION": buffer.points(space)},
            "indices": buffer.indices(lines),
            "material": len(painted),
            "mode": _LINES,
        }
    )
    materials = [*((_SIDES[front], colour) for front, colour in painted), ("edges", ink)]
    asset = {"version": "2.0", "generator": generator}
    if owed:
        asset["copyright"] = owed
    document = {
        "asset": asset,
        "scene": 0,
        "scenes": [{"name": title, "nodes": [0]}],
        "nodes": [{"name": title, "mesh": 0}],
        "meshes": [{"name": title, "primitives": primitives}],
        "materials": [
            {
                "name": name,
                "pbrMetallicRoughness": {
                    "baseColorFactor": _linear(colour),
                    "metallicFactor": 0.0,
                    "roughnessFactor": 0.9,
                },
            }
            for name, colour in materials
        ],
        "accessors": buffer.accessors,
        "bufferViews": buffer.views,
        "buffers": [
            {
                "byteLength": len(buffer.data),
                "uri": "data:application/octet-stream;base64,"
                + base64.b64encode(bytes(buffer.data)).decode(),
            }
        ],
    }
    return (json.dumps(document, ensure_ascii=False) + "\n").encode()


def _axes(pose: Pose) -> NDArray[np.float64]:
    up, front = upright(pose)
    return np.array([np.cross(up, front), up, front])


def _turned(pose: Pose) -> NDArray[np.float64]:
    """Points in metres, layers a hair apart: x to the right, y up from the floor, z to the front."""
    at = (np.array(pose.space, dtype=float) + apart(pose)) @ _axes(pose).T / _MM
    middle = (at.min(axis=0) + at.max(axis=0)) / 2
    middle[1] = at[:, 1].min()
    return at - middle


def _side(
    buffer: _Buffer,
    space: NDArray[np.float64],
    pieces: Sequence[Piece],
    sheet: NDArray[np.float64],
    *,
    front: bool,
) -> tuple[int, int, int]:
    """Numbers of the points, normals and corners of one side of some of the paper."""
    points: list[NDArray[np.float64]] = []
    normals: list[NDArray[np.float64]] = []
    corners: list[int] = []
    for piece in pieces:
        ring = list(piece.corners)
        at = space[ring]
        n = np.cross(at - at[0], np.roll(at, -1, axis=0) - at[0]).sum(axis=0)
        n = n / np.sqrt(n @ n) * (1.0 if front else -1.0)
        place = {k: len(points) + j for j, k in enumerate(ring)}
        points += list(at)
        normals += [n] * len(ring)
        for a, b, c in triangles(piece.corners, sheet):
            corners += [place[k] for k in ((a, b, c) if front else (a, c, b))]
    return (
        buffer.points(np.array(points)),
        buffer.points(np.array(normals)),
        buffer.indices(corners),
    )


def _drawn(kind: Line, angle: float) -> bool:
    return kind is Line.RIM or (kind is not Line.BEND and abs(angle) > _FLAT)


def _linear(colour: str) -> list[float]:
    """A colour '#rrggbb' as the format has it: linear light, and opaque. Source: IEC 61966-2-1 (sRGB)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return [round(c, 4) for c in linear] + [1.0]
