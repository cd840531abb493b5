"""A pose as ink.

    Pose + Camera ──seen──▶ Seen ──hidden──▶ areas ──outlines──▶ lines ──▶ paths by role

In: a pose, a camera, the scale, the look of the model. Out: groups of paths about the middle of the picture,
of the same roles and weights as flat figures; surfaces that stand at an angle to the light have a tone.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ...geometry.remembered import remembered
from ...pose.pose import Pose
from ..scene.groups import Sketch
from ..scene.outlines import polyline
from ..scene.scene import Path, Point
from ..scene.scene import Segment as Stroke
from ..scene.strokes import kept_short
from ..style.styles import Style
from .camera import Array, Camera
from .hidden import visible
from .outlines import CREASE, FOLDED, RAW, lines
from .seen import Seen, extent, seen, strings
from .seen import areas as areas_in
from .tones import smoothed, tone, toned

#: Areas are drawn so much larger (points) that no gap of white shows between two tones.
_GROWN = 0.08
#: Corners this near to a straight side are left out (points).
_STRAIGHT = 0.02
#: What is seen of a pose is found once where its longer side is about so long (points), or so many times
#: longer or shorter, again and again, and drawn larger or smaller: so figures of usual sizes share it.
_USUAL, _STEP = 120.0, 3.3
#: Shorter parts of a fold line are left out (points).
_SHORT = 3.0


Geometry = TypeVar("Geometry", bound=BaseGeometry)


@dataclass(frozen=True, eq=False)
class PoseInk:
    """A pose as drawn: its ink, and what other ink has to know of it (points about the middle).

    sketch : the paper; silhouette : what it covers; edges : its edges; areas : what is seen of each facet;
    places : where each point of the pose is seen
    """

    sketch: Sketch
    silhouette: BaseGeometry
    edges: BaseGeometry
    areas: dict[int, BaseGeometry]
    places: tuple[Point, ...]

    def on_paper(
        self, lines: Sequence[tuple[int, tuple[Point, Point]]]
    ) -> list[tuple[Point, Point]]:
        """What is seen of straight lines that lie on facets."""
        out: list[tuple[Point, Point]] = []
        for facet, line in lines:
            area = self.areas.get(facet)
            if area is None or line[0] == line[1]:
                continue
            found = strings(shapely.intersection(shapely.LineString(line), area))
            for part in found:
                ends = _points(part)
                if shapely.length(part) > _SHORT:
                    out.append((ends[0], ends[-1]))
        return out


@dataclass(frozen=True, eq=False)
class _Picture:
    """A pose as it is seen, in some size: all that grows with the size.

    fills : rings of areas by role; lines : by role; silhouette, areas, places : as of `PoseInk`
    """

    fills: dict[str, list[BaseGeometry]]
    lines: dict[str, list[shapely.LineString]]
    silhouette: BaseGeometry
    areas: dict[int, BaseGeometry]
    places: Array

    def times(self, factor: float) -> _Picture:
        """The same, so many times larger."""

        def larger(some: Iterable[Geometry]) -> list[Geometry]:
            kept = np.array([*some], dtype=object)
            return list(shapely.transform(kept, lambda at: at * factor))

        return _Picture(
            {role: larger(some) for role, some in self.fills.items()},
            {role: larger(some) for role, some in self.lines.items()},
            larger([self.silhouette])[0],
            dict(zip(self.areas, larger(self.areas.values()), strict=True)),
            self.places * factor,
        )


#: What a picture of a pose depends on besides it: camera, size, middle, and the roles of its sides.
_Key = tuple[Camera, float, Point | None, tuple[tuple[str, str], ...]]


@remembered
def _pictures(_: Pose) -> dict[_Key, _Picture]:
    """The pictures of a pose that have been drawn up to now."""
    return {}


def pose_ink(
    pose: Pose,
    camera: Camera,
    scale: float,
    role: Callable[[int, bool], str],
    style: Style,
    about: Point | None = None,
) -> PoseInk:
    """The paper of a pose; `scale` in points a millimetre, `role` of a facet's front or back, `about` as
    `seen` takes it.
    """
    long = max(*extent(pose, camera), 1e-6)
    usual = _USUAL / long * _STEP ** round(math.log(scale * long / _USUAL, _STEP))
    roles = tuple((role(p.facet, True), role(p.facet, False)) for p in pose.pieces)
    key, known = (camera, usual, about, roles), _pictures(pose)
    if key not in known:
        known[key] = _picture(pose, *key)
    drawn = known[key].times(scale / usual)
    ink = Sketch()
    fills = [
        Path(name, tuple(s for ring in some for s in polyline(_points(ring)[:-1], closed=True)))
        for name, some in drawn.fills.items()
    ]
    ink.add("paper", fills, *_sides(fills))
    edges = shapely.MultiLineString([*drawn.lines.get(FOLDED, ()), *drawn.lines.get(RAW, ())])
    strokes = [s for line in drawn.lines.get(CREASE, ()) for s in _segments(line)]
    creases = kept_short(strokes, edges, style.crease_inset)
    if creases:
        ink.add("crease", [Path("crease.standing", creases)], CREASE)
    for edge in (FOLDED, RAW):
        paths = [stroke for line in drawn.lines.get(edge, ()) for stroke in _path(line)]
        if paths:
            ink.add("edge", [Path(edge, tuple(paths))])
    places = tuple((x, y) for x, y in drawn.places.tolist())
    return PoseInk(ink, drawn.silhouette, edges, drawn.areas, places)


def _picture(
    pose: Pose,
    camera: Camera,
    scale: float,
    about: Point | None,
    roles: Sequence[tuple[str, str]],
) -> _Picture:
    """A pose as it is seen; `roles` of every piece's front and back."""
    before = seen(pose, camera, scale, about)
    areas = visible(before, scale)
    grown = shapely.buffer(areas, _GROWN, join_style="mitre")
    by_facet: dict[int, list[BaseGeometry]] = defaultdict(list)
    for piece, area in zip(pose.pieces, grown, strict=True):
        by_facet[piece.facet].append(area)
    return _Picture(
        _fills(before, areas, grown, roles),
        lines(before, areas),
        shapely.union_all(grown),
        {facet: shapely.union_all(some) for facet, some in by_facet.items()},
        before.points[:, :2],
    )


def _fills(
    before: Seen,
    areas: NDArray[np.object_],
    grown: NDArray[np.object_],
    roles: Sequence[tuple[str, str]],
) -> dict[str, list[BaseGeometry]]:
    """Rings of visible areas by the tone of each side; `grown` are the areas, a little larger."""
    by_role: dict[str, list[BaseGeometry]] = defaultdict(list)
    normals = smoothed(before.pose, before.normals)
    for k, nothing in enumerate(shapely.is_empty(areas).tolist()):
        side = int(before.facing[k])
        if side and not nothing:
            number = tone(before.camera, normals[k] * side)
            by_role[toned(roles[k][0 if side > 0 else 1], number)].append(grown[k])
    out: dict[str, list[BaseGeometry]] = {}
    for name, some in sorted(by_role.items()):
        whole = shapely.simplify(shapely.union_all(some), _STRAIGHT)
        rings = [ring for part in sorted(areas_in(whole), key=_place) for ring in _rings(part)]
        if rings:
            out[name] = rings
    return out


def _rings(area: BaseGeometry) -> list[BaseGeometry]:
    """The outer ring, then those of holes."""
    return list(shapely.get_rings(area))


def _sides(fills: Sequence[Path]) -> list[str]:
    """Keys of the sides of the paper that are seen."""
    kinds = ("coloured", "plain")
    return sorted(
        {f"paper.{kind}" for path in fills for kind in kinds if kind in path.role.split(".")}
    )


def _place(area: BaseGeometry) -> tuple[float, ...]:
    return tuple(round(float(v), 3) for v in shapely.bounds(area))


def _points(line: BaseGeometry) -> list[Point]:
    return [(round(float(x), 4), round(float(y), 4)) for x, y in shapely.get_coordinates(line)]


def _path(line: BaseGeometry) -> tuple[Stroke, ...]:
    points = _points(line)
    closed = len(points) > 3 and points[0] == points[-1]
    return polyline(points[:-1] if closed else points, closed)


def _segments(line: BaseGeometry) -> list[tuple[Point, Point]]:
    points = _points(line)
    return list(pairwise(points))
