"""A pose as ink.

    Pose + Camera ──seen──▶ Seen ──hidden──▶ areas ──outlines──▶ lines ──▶ paths by role

In: a pose, a camera, the scale, the look of the model. Out: groups of paths about the middle of the picture,
of the same roles and weights as flat figures; surfaces that stand at an angle to the light have a tone.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ...pose.pose import Pose
from ..scene.groups import Sketch
from ..scene.outlines import polyline
from ..scene.scene import Path, Point
from ..scene.scene import Segment as Stroke
from ..scene.strokes import kept_short
from ..style.styles import Style
from .camera import Camera
from .hidden import visible
from .outlines import CREASE, FOLDED, RAW, lines
from .seen import Seen, seen, strings
from .seen import areas as areas_in
from .tones import smoothed, tone, toned

#: Areas are drawn so much larger (points) that no gap of white shows between two tones.
_GROWN = 0.08
#: Corners this near to a straight side are left out (points).
_STRAIGHT = 0.02
#: Shorter parts of a fold line are left out (points).
_SHORT = 3.0


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
    before = seen(pose, camera, scale, about)
    areas = visible(before, scale)
    ink = Sketch()
    fills = _fills(before, areas, role)
    ink.add("paper", fills, *_sides(fills))
    drawn = lines(before, areas)
    edges = shapely.MultiLineString([*drawn.get(FOLDED, ()), *drawn.get(RAW, ())])
    strokes = [s for line in drawn.get(CREASE, ()) for s in _segments(line)]
    creases = kept_short(strokes, edges, style.crease_inset)
    if creases:
        ink.add("crease", [Path("crease.standing", creases)], CREASE)
    for edge in (FOLDED, RAW):
        paths = [stroke for line in drawn.get(edge, ()) for stroke in _path(line)]
        if paths:
            ink.add("edge", [Path(edge, tuple(paths))])
    by_facet: dict[int, list[BaseGeometry]] = defaultdict(list)
    for piece, area in zip(pose.pieces, areas, strict=True):
        by_facet[piece.facet].append(shapely.buffer(area, _GROWN, join_style="mitre"))
    return PoseInk(
        ink,
        shapely.union_all(shapely.buffer(areas, _GROWN, join_style="mitre")),
        edges,
        {facet: shapely.union_all(some) for facet, some in by_facet.items()},
        tuple((float(x), float(y)) for x, y in before.points[:, :2]),
    )


def _fills(
    before: Seen, areas: NDArray[np.object_], role: Callable[[int, bool], str]
) -> list[Path]:
    """Visible areas, one path for each tone of each side."""
    by_role: dict[str, list[BaseGeometry]] = defaultdict(list)
    normals = smoothed(before.pose, before.normals)
    for k, area in enumerate(areas):
        side = int(before.facing[k])
        if not side or shapely.is_empty(area):
            continue
        number = tone(before.camera, normals[k] * side)
        side_role = role(before.pose.pieces[k].facet, side > 0)
        by_role[toned(side_role, number)].append(area)
    out: list[Path] = []
    for name, some in sorted(by_role.items()):
        whole = shapely.union_all(shapely.buffer(some, _GROWN, join_style="mitre"))
        whole = shapely.simplify(whole, _STRAIGHT)
        strokes: list[Stroke] = []
        for part in sorted(areas_in(whole), key=_place):
            rings = [shapely.get_exterior_ring(part), *shapely.get_rings(part)[1:]]
            for ring in rings:
                strokes.extend(polyline(_points(ring)[:-1], closed=True))
        if strokes:
            out.append(Path(name, tuple(strokes)))
    return out


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
