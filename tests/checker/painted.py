"""An independent check of pictures of paper in space: what lies together is painted in its order.

In: a states document with a pose; where its reader stands, and the area that is painted of every piece. Out:
a list of faults. What lies on what is taken from the flat layers, else from what the document says; the
areas are held against it piece by piece, at whatever scale they are painted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from .plates import Vector
from .poses import Standing, standing_of

#: Overlaps of less (square millimetres), and so near to their rim (mm), are not looked at.
_LEAST, _RIM = 1.0, 0.3
#: Share of what two pieces have in common that the lower may show.
_SHOWS = 0.02


@dataclass(frozen=True)
class Painted:
    """A picture: unit vectors of space to the right, up and to the reader; for every piece what is seen of
    it, x to the right and y down in millimetres."""

    right: Vector
    up: Vector
    toward: Vector
    areas: Sequence[BaseGeometry]


def painted_faults(document: Mapping[str, Any], pictures: Sequence[Painted]) -> list[str]:
    """Every pair of pieces that lie together of which the lower is seen over the upper."""
    standing = standing_of(document)
    pairs = list(_pairs(standing))
    return [fault for picture in pictures for fault in _faults(standing, picture, pairs)]


def pairs_together(document: Mapping[str, Any]) -> int:
    """How many pairs of pieces lie together."""
    return len(list(_pairs(standing_of(document))))


def _pairs(standing: Standing) -> Iterator[tuple[int, int, bool, Vector]]:
    """(one, other, whether the other lies on the one's front, corners in space of what they share)."""
    said = {(i, j): front for i, j, front in standing.touching}
    for i, j, part in standing.together():
        one, two = standing.pieces[i], standing.pieces[j]
        front = standing.flat_side(i, j)
        if front is None and (i, j) in said:
            front = said[i, j]
        elif front is None and (j, i) in said:
            front = said[j, i] != (float(one.normal @ two.normal) > 0)
        if front is None:
            continue
        for some in getattr(part, "geoms", [part]):
            flat = shapely.get_coordinates(some.exterior)
            yield i, j, front, one.middle + flat[:, :1] * one.u + flat[:, 1:] * one.v


def _faults(
    standing: Standing, picture: Painted, pairs: Sequence[tuple[int, int, bool, Vector]]
) -> Iterator[str]:
    axes = np.array([picture.right, -picture.up]).T
    for i, j, front, corners in pairs:
        facing = float(standing.pieces[i].normal @ picture.toward)
        common = Polygon(corners @ axes).buffer(-_RIM)
        if abs(facing) < 0.05 or common.area < _LEAST:
            continue
        lower, upper = (i, j) if front == (facing > 0) else (j, i)
        shown = shapely.intersection(picture.areas[lower], common).area
        if shown > _SHOWS * common.area:
            yield f"piece {lower} is painted over piece {upper}, which lies on it"
