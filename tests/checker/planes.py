"""Plane pieces of paper in space: each in a plane of its own, and what two of them do to each other.

In: corners on the sheet and in space. Out: heights over a piece's plane, how deep two go through each other.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from shapely import LineString, Polygon, get_coordinates, intersection

from .plates import Vector, signed_area

#: Overlaps thinner than this (mm) are none.
THIN = 0.2


class Piece:
    """One piece: on the sheet, and in a plane of its own in space."""

    def __init__(self, ring: tuple[int, ...], sheet: Vector, space: Vector) -> None:
        self.ring = ring
        self.shape = Polygon(sheet)
        self.sheet, self.space = sheet, space
        self.middle = space.mean(axis=0)
        _, _, axes = np.linalg.svd(space - self.middle)
        u, v = axes[0], axes[1]
        if signed_area(np.c_[(space - self.middle) @ u, (space - self.middle) @ v]) < 0:
            v = -v
        self.u, self.v, self.normal = u, v, np.cross(u, v)  # the normal leaves the sheet's front
        self.low, self.high = space.min(axis=0), space.max(axis=0)

    @cached_property
    def laid(self) -> Polygon:
        """The piece in its own plane."""
        return Polygon(self.into(self.space))

    def into(self, spots: Vector) -> Vector:
        """Feet of points in the plane of the piece, in its own axes."""
        away = spots - self.middle
        return np.c_[away @ self.u, away @ self.v]

    def heights(self, spots: Vector) -> Vector:
        """Of points over the plane, on the side of the sheet's front."""
        return (spots - self.middle) @ self.normal


def overlap(a: Polygon, b: Polygon) -> Polygon | None:
    """The part that two polygons share, without a rim; None where it is too thin to speak of.

    On a grid: where two triangles meet along sides that are nearly in line, GEOS 3.14 without one gives all
    of the one as shared.
    """
    common = intersection(a, b, grid_size=1e-6).buffer(-THIN / 2)
    return None if common.is_empty else common


def at_one_place(some: list[Piece]) -> bool:
    """Whether pieces in one plane have a place in common: round about it they may be woven.

    All pieces at one place are said to lie on each other, pair by pair; where these orders go round, three of
    them do (a tournament that is strong has cycles of every length: Moon, On subtournaments of a tournament,
    1966).
    """
    first, *others = some
    common = first.laid
    for other in others:
        shared = overlap(common, Polygon(first.into(other.space)))
        if shared is None:
            return False
        common = shared
    return True


def through(one: Piece, two: Piece) -> float:
    """How deep two plane pieces go through each other, in millimetres.

    The least of how far they both run along the line where their planes meet, and of how far each reaches to
    either side of the other's plane.
    """
    a, b = two.heights(one.space), one.heights(two.space)
    depth = min(float(a.max()), float(-a.min()), float(b.max()), float(-b.min()))
    way = np.cross(one.normal, two.normal)
    size = float(np.linalg.norm(way))
    if depth <= 0 or size < 1e-9:
        return 0.0
    way = way / size
    planes = np.array([one.normal, two.normal, way])
    foot = np.linalg.solve(
        planes, [one.normal @ one.middle, two.normal @ two.middle, way @ one.middle]
    )
    reach = float(np.abs(np.vstack([one.space, two.space]) - foot).max()) * 2 + 1
    ends = np.array([foot - way * reach, foot + way * reach])
    spans = [_spans(piece, ends) for piece in (one, two)]
    common = max(
        (min(p[1], q[1]) - max(p[0], q[0]) for p in spans[0] for q in spans[1]), default=0.0
    )
    return max(0.0, min(depth, common))


def _spans(piece: Piece, ends: Vector) -> list[tuple[float, float]]:
    """Where a line in the plane of a piece runs within it, as distances from its start."""
    line = LineString(piece.into(ends))
    start = np.array(line.coords[0])
    cut = line.intersection(piece.laid)
    found: list[tuple[float, float]] = []
    for part in getattr(cut, "geoms", [cut]):
        if isinstance(part, LineString) and not part.is_empty:
            far = np.linalg.norm(get_coordinates(part) - start, axis=1)
            found.append((float(far.min()), float(far.max())))
    return found
