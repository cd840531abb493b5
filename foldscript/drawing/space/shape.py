"""What a model that stands in space is like: its floor, its walls, its top, and where it is open.

In: a pose. Out: a `StandingShape`, for words. It is looked at from all six sides: what is seen from none is
inside. It is open to a side where one sees deep into it, all round past paper that lies nearer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ...pose.goals import Stand
from ...pose.pose import Edge, Pose, Vector
from ...pose.upright import held, size, upright
from .camera import Array, Camera
from .hidden import visible
from .seen import Seen, areas, seen

#: Surfaces whose normals differ by less (cosine), and whose planes by less (mm), are one.
_SAME, _NEAR = 0.99, 1.0
#: Up to this much of the way up or aside, a surface is upright or level.
_LEVEL = 0.95
_UPRIGHT = 0.2
#: Walls that face ways nearer than this (cosine) are one.
_ALIKE = 0.8
#: So near to the lowest or the highest point, as a share of the height, lie a floor and a top.
_AT_END = 0.12
#: Least part of its side's size that counts, and of a piece that has to be seen.
_COUNTS, _WALL, _SEEN = 0.06, 0.15, 0.1
#: What lies deeper than this share of the model is deep; least part of a side that does so; how much of the
#: way round it may be without nearer paper; and how near that has to lie (mm).
_DEEP, _HOLE, _GAP, _BESIDE = 0.4, 0.1, 0.15, 0.8


class Side(Enum):
    """A side of a model that stands before its reader."""

    TOP = "top"
    BOTTOM = "bottom"
    FRONT = "front"
    BACK = "back"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class StandingShape:
    """Lengths in mm.

    Attributes
    ----------
    sides : width, depth and height
    floor, top : sides of the flat surfaces that it stands on, and that close it above; None for none
    walls : heights of upright surfaces, highest first
    open : the sides to which it is open
    held : whether it is held in the hand, as a model with wings is, and does not stand by itself
    feet : how many points it was put down on by name; 0 for none
    """

    sides: Vector
    floor: tuple[float, float] | None
    top: tuple[float, float] | None
    walls: tuple[float, ...]
    open: tuple[Side, ...]
    held: bool = False
    feet: int = 0


@lru_cache(maxsize=32)
def shape_of(pose: Pose) -> StandingShape:
    """What it is like."""
    up, front = (np.array(v, dtype=float) for v in upright(pose))
    across = np.cross(up, front)
    ways = dict(zip(Side, (up, -up, front, -front, -across, across), strict=True))
    looks = {
        side: _look(pose, way, front if side in (Side.TOP, Side.BOTTOM) else up)
        for side, way in ways.items()
    }
    shown = np.zeros(len(pose.pieces))
    for before, visible_areas in looks.values():
        whole = np.maximum(shapely.area(before.shapes), 1e-9)
        shown = np.maximum(shown, shapely.area(visible_areas) / whole)
    sides = size(pose)
    surfaces = _surfaces(pose, [k for k in range(len(shown)) if shown[k] > _SEEN])
    heights = np.array(pose.space, dtype=float) @ up
    low, high = float(heights.min()), float(heights.max())
    level = [s for s in surfaces if abs(float(s.normal @ up)) > _LEVEL]
    flat_size = _COUNTS * sides[0] * sides[1]
    wall_size = _WALL * sides[2] * max(sides[0], sides[1])
    floor = _largest(level, low, _AT_END * (high - low), up, flat_size)
    top = _largest(level, high, _AT_END * (high - low), up, flat_size)
    upright_ones = [
        s for s in surfaces if abs(float(s.normal @ up)) < _UPRIGHT and s.area > wall_size
    ]
    walls = sorted((round(tall, 3) for tall in _walls(pose, upright_ones, up)), reverse=True)
    opened = tuple(side for side, look in looks.items() if _open(*look))
    feet = [len(goal.feet) for goal in pose.goals if isinstance(goal, Stand)]
    return StandingShape(
        sides,
        floor,
        None if top == floor else top,
        tuple(walls),
        opened,
        held(pose),
        feet[-1] if feet else 0,
    )


@dataclass(frozen=True, eq=False)
class _Surface:
    """Pieces in one plane: unit normal, a point of it, outline in its own axes, and its points."""

    normal: Array
    middle: Array
    outline: BaseGeometry
    points: Array

    @property
    def area(self) -> float:
        return float(shapely.area(self.outline))

    def tall(self, up: Array) -> float:
        """How far up it reaches from its lowest point."""
        return float(np.ptp(self.points @ up))

    @property
    def sides(self) -> tuple[float, float]:
        """Sides of the least rectangle round it, the longer one first."""
        ring = shapely.get_coordinates(shapely.minimum_rotated_rectangle(self.outline))
        one, two = (math.dist(ring[k], ring[k + 1]) for k in (0, 1))
        return max(one, two), min(one, two)


def _look(pose: Pose, toward: Array, up: Array) -> tuple[Seen, NDArray[np.object_]]:
    right = np.cross(up, toward)
    before = seen(pose, Camera(_vector(right), _vector(up), _vector(toward)), 1.0)
    return before, visible(before, 1.0)


def _vector(v: Array) -> Vector:
    x, y, z = (float(c) for c in v)
    return (x, y, z)


def _surfaces(pose: Pose, kept: list[int]) -> list[_Surface]:
    space = np.array(pose.space, dtype=float)
    groups: list[tuple[Array, Array, list[int]]] = []
    for k in kept:
        ring = space[list(pose.pieces[k].corners)]
        n = np.cross(ring - ring[0], np.roll(ring, -1, axis=0) - ring[0]).sum(axis=0)
        n = n / np.sqrt(n @ n)
        for normal, at, members in groups:
            if abs(float(normal @ n)) > _SAME and float(np.abs((ring - at) @ normal).max()) < _NEAR:
                members.append(k)
                break
        else:
            groups.append((n, ring.mean(axis=0), [k]))
    out: list[_Surface] = []
    for normal, at, members in groups:
        aside = np.eye(3)[int(np.argmin(np.abs(normal)))]
        one = np.cross(normal, aside)
        one /= np.sqrt(one @ one)
        axes = np.array([one, np.cross(normal, one)]).T
        rings = [space[list(pose.pieces[k].corners)] for k in members]
        outline = shapely.union_all(
            [shapely.Polygon((ring - at) @ axes) for ring in rings], grid_size=1e-3
        )
        out.append(_Surface(normal, at, outline, np.vstack(rings)))
    return out


def _walls(pose: Pose, surfaces: list[_Surface], up: Array) -> list[float]:
    """Heights of walls: surfaces that face the same way from the middle of the model are one."""
    space = np.array(pose.space, dtype=float)
    middle = (space.min(axis=0) + space.max(axis=0)) / 2
    ways: list[Array] = []
    heights: list[float] = []
    for surface in sorted(surfaces, key=lambda s: -round(s.area, 3)):
        out = float((surface.middle - middle) @ surface.normal)
        way = surface.normal * (1.0 if out >= 0 else -1.0)
        if all(float(way @ other) < _ALIKE for other in ways):
            ways.append(way)
            heights.append(surface.tall(up))
    return heights


def _largest(
    level: list[_Surface], at: float, near: float, up: Array, least: float
) -> tuple[float, float] | None:
    here = [s for s in level if abs(float(s.middle @ up) - at) <= near and s.area > least]
    best = max(here, key=lambda s: round(s.area, 3), default=None)
    return None if best is None else best.sides


def _open(before: Seen, visible_areas: NDArray[np.object_]) -> bool:
    """Whether one sees deep into the model, past paper all round."""
    near, far = float(before.points[:, 2].max()), float(before.points[:, 2].min())
    if near - far < 1.0:
        return False
    limit = near - _DEEP * (near - far)
    deep: list[BaseGeometry] = []
    close: list[BaseGeometry] = []
    for k, area in enumerate(visible_areas):
        if before.facing[k] and not shapely.is_empty(area):
            here = areas(shapely.intersection(area, _below(before, k, limit)))
            deep += here
            close.append(shapely.difference(area, shapely.union_all(here)))
    lines = [_stroke(before, e.start, e.end) for e in before.pose.edges]
    nearer = [line for line in (_nearer(before, e, limit) for e in before.pose.edges) if line]
    # each for itself: a wide rim round a great many parts at once takes minutes
    rim = shapely.union_all([shapely.buffer(part, _BESIDE) for part in (*close, *nearer)])
    void = shapely.difference(
        shapely.union_all(shapely.polygonize([shapely.union_all(lines)])),
        shapely.union_all(before.shapes, grid_size=1e-3),
    )
    hull = float(shapely.area(shapely.convex_hull(shapely.multipoints(before.points[:, :2]))))
    hole = shapely.buffer(shapely.union_all([*deep, *areas(void)], grid_size=1e-3), 0.05)
    for part in areas(hole):
        around = shapely.boundary(part)
        met = float(shapely.length(shapely.intersection(around, rim)))
        if float(shapely.area(part)) > _HOLE * hull and met > (1 - _GAP) * float(
            shapely.length(around)
        ):
            return True
    return False


def _stroke(before: Seen, start: int, end: int) -> shapely.LineString:
    return shapely.LineString(before.points[[start, end], :2])


def _nearer(before: Seen, edge: Edge, limit: float) -> shapely.LineString | None:
    """The part of a line that lies nearer than a limit."""
    a, b = before.points[edge.start], before.points[edge.end]
    if a[2] < b[2]:
        a, b = b, a
    if a[2] <= limit:
        return None
    if b[2] < limit:
        b = a + (b - a) * (a[2] - limit) / (a[2] - b[2])
    return shapely.LineString([a[:2], b[:2]])


def _below(before: Seen, piece: int, limit: float) -> BaseGeometry:
    """The half of the page on which a piece lies deeper than a limit."""
    a, b, c = (float(v) for v in before.planes[piece])
    steep = math.hypot(a, b)
    wide = 4 * float(np.abs(before.points[:, :2]).max()) + 1
    if steep < 1e-9:
        return shapely.box(-wide, -wide, wide, wide) if c < limit else shapely.Polygon()
    # a x + b y + c < limit: everything on the far side of a line, against (a, b)
    ux, uy = a / steep, b / steep
    reach = (limit - c) / steep
    far = reach - 4 * wide
    corners = [
        (reach * ux - wide * 2 * uy, reach * uy + wide * 2 * ux),
        (reach * ux + wide * 2 * uy, reach * uy - wide * 2 * ux),
        (far * ux + wide * 2 * uy, far * uy - wide * 2 * ux),
        (far * ux - wide * 2 * uy, far * uy + wide * 2 * ux),
    ]
    return shapely.Polygon(corners)
