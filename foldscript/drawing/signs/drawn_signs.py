"""Signs over the paper, each at a place where it hinders least.

In: the signs of a figure, what is visible, and what lies around. Out: groups of ink. Marks come
before the arrows that have to mind them; those that only help (equal angles and lengths, right
angles) are left out where there is no room for them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from ...paper.signs import (
    Act,
    Arrow,
    EqualAngles,
    EqualLengths,
    PointSign,
    RepeatSign,
    RightAngle,
    Sign,
    Spot,
)
from ..placement import routes
from ..placement.clashes import along
from ..placement.obstacles import Obstacles, held, near, shared
from ..scene.groups import Group, Sketch
from ..scene.outlines import Box, item_box, toward, union_box
from ..scene.scene import Path, Point
from ..scene.view import View
from ..sheet.visible import Visible
from ..style.styles import Style
from . import arrows, marks, spreading, turns

_WAYS = 16
#: Of the way from a corner of the paper to the middle of what is folded there, where arrows to it end.
_BY_CORNER = 0.3
#: How near a head covers a mark (points).
_COVERED = 2.5
#: What each edge of a layer counts that lies between such an arrow and what it leads to.
_ASTRAY = 1.0


def draw_signs(
    signs: Sequence[Sign],
    visible: Visible,
    view: View,
    style: Style,
    around: Obstacles,
    ink: Sketch,
) -> None:
    """Everything that is drawn over the paper but its letters."""
    around.marks.extend(
        view(s.at) for s in signs if isinstance(s, PointSign) and marks.is_landmark(s)
    )
    before = len(around.arrows), len(around.ruled)
    helping = _helping(signs, view, around, ink)
    marked = len(around.arrows), len(around.ruled)
    for s in signs:
        if isinstance(s, PointSign) and spreading.is_opening(s):
            key = spreading.opening_key(s, signs)
            rims, pulls = spreading.opening(s, key == spreading.FLAT, visible, around)
            ink.add("mouth", rims, key)
            ink.add("arrow", pulls, key)
        elif isinstance(s, PointSign):
            paths = marks.point_sign(s, view, around)
            if marks.is_landmark(s):
                ink.add("ring", paths, f"point.{s.kind.value}")
                continue
            ink.add("point", paths, f"point.{s.kind.value}")
            box = union_box(item_box(i) for i in paths)
            if box is not None and s.kind is not Spot.DETAIL:
                around.taken.append(box)
    start = len(ink.groups)
    _arrows([s for s in signs if isinstance(s, Arrow)], view, around, ink)
    kept = _drop_covered(helping, ink, start)
    if len(kept) < len(helping):  # room that is free again
        around.arrows[before[0] : marked[0]] = [p for g, _ in kept for p in _along(g)]
        around.ruled[before[1] : marked[1]] = [
            p for g, key in kept if key == "mark.equal-lengths" for p in _along(g)
        ]
    for s in signs:
        if isinstance(s, RepeatSign):
            tip, towards = _repeat_place(s, view, visible, style, around)
            drawn = turns.repeat_sign(s, tip, towards, style)
            box = union_box(item_box(i) for i in drawn)
            if box is not None:
                around.taken.append(box)
            ink.add("repeat", drawn, "repeat.behind" if turns.is_behind(s) else "repeat")


def _arrows(signs: Sequence[Arrow], view: View, around: Obstacles, ink: Sketch) -> None:
    """Every arrow of a figure, in an order and from places that keep them apart."""
    ways = routes.apart([(view(s.tail), view(s.head)) for s in signs], around)
    around.landings.extend(head for _, head in ways)
    around.starts.extend(tail for tail, _ in ways)
    for k in routes.with_twins_first(ways):
        act = signs[k].act
        paths = arrows.arrow(act, *ways[k], signs[k].under, around)
        ink.add("arrow", paths, f"arrow.{act.value}")


def _helping(
    signs: Sequence[Sign], view: View, around: Obstacles, ink: Sketch
) -> list[tuple[Group, str]]:
    """Marks of what is equal, as groups in the ink, each with the key of its sign."""
    out: list[tuple[Group, str]] = []

    def add(paths: list[Path], key: str) -> None:
        if paths:
            ink.add("mark", paths, key)
            out.append((ink.groups[-1], key))

    wide = [view(s.tail) for s in signs if isinstance(s, Arrow) and s.act is Act.OUTSIDE_REVERSE]
    angles = [s for s in signs if isinstance(s, EqualAngles)]
    for paths in marks.equal_angles(angles, view, around):
        add(paths, "mark.equal-angles")
    for s in signs:
        if isinstance(s, EqualLengths):
            add(marks.equal_lengths(s, view, around, wide), "mark.equal-lengths")
        elif isinstance(s, RightAngle):
            add(marks.right_angle(s, view), "mark.right-angle")
    return out


def _drop_covered(
    helping: list[tuple[Group, str]], ink: Sketch, start: int
) -> list[tuple[Group, str]]:
    """Takes marks away again that an arrow's head covers; a pair of equals goes as a whole.

    Those that stay.
    """
    heads = [
        p
        for group in ink.groups[start:]
        if group.kind == "arrow"
        for item in group.items
        if isinstance(item, Path) and item.role in ("arrow.head", "arrow.open")
        for p in _points(item)
    ]
    kept = [one for one in helping if not near(_along(one[0]), heads, _COVERED).any()]
    for group, key in helping:
        if (group, key) not in kept:
            ink.groups.remove(group)
        if not any(k == key for _, k in kept):
            ink.signs.discard(key)
    return kept


def _along(group: Group) -> list[Point]:
    return along(item for item in group.items if isinstance(item, Path))


def _points(path: Path) -> list[Point]:
    return [s.to for s in path.segments if hasattr(s, "to")]  # type: ignore[union-attr]


def _repeat_place(
    sign: RepeatSign, view: View, visible: Visible, style: Style, around: Obstacles
) -> tuple[Point, Point]:
    """Tip and direction of a repeat sign: from outside the paper to its place, or below the paper."""
    import shapely

    x0, _, x1, y1 = (float(v) for v in visible.silhouette.bounds)
    if sign.at is None:
        size = turns.repeat_size(sign, style)
        middle = (x0 + x1) / 2 + (size[0] + turns.repeat_shaft(sign)) / 2
        return (middle, min(y1 + 4.0 + size[1] / 2, around.box[3] - size[1] / 2)), (1.0, 0.0)
    spot = view(sign.at)
    if sign.times > 1:
        spot = _by_corner(spot, visible.silhouette)
    turned = [2 * math.pi * k / _WAYS for k in range(_WAYS)]
    outs = [(math.cos(a), math.sin(a)) for a in turned]
    rays = shapely.linestrings([[spot, (spot[0] + 300 * x, spot[1] + 300 * y)] for x, y in outs])
    leaves: list[float] = []
    for ray in shapely.intersection(rays, visible.silhouette.boundary):
        leaves.append(max((math.dist(spot, p) for p in _corners(ray)), default=0.0))
    inside = turns.BEHIND if turns.is_behind(sign) else 7.0
    tips = [
        (spot[0] + tip_at * x, spot[1] + tip_at * y)
        for (x, y), tip_at in zip(outs, (max(1.5, n - inside) for n in leaves), strict=True)
    ]
    boxes: list[Box] = []
    for tip, (x, y) in zip(tips, outs, strict=True):
        box = union_box(item_box(i) for i in turns.repeat_sign(sign, tip, (-x, -y), style))
        assert box is not None
        boxes.append(box)
    best: tuple[float, Point, Point] | None = None
    costs = _costs(boxes, around)
    ways = shapely.linestrings([[spot, tip] for tip in tips])
    astray = shapely.get_num_coordinates(shapely.intersection(ways, visible.rim)).tolist()
    if turns.is_behind(sign) or sign.times > 1:
        astray = [0] * len(tips)
    for tip, (x, y), leave, against, edges in zip(tips, outs, leaves, costs, astray, strict=True):
        cost = 0.045 * leave + float(against) + _ASTRAY * edges + (0.3 if abs(y) > 0.1 else 0.0)
        if best is None or cost < best[0] - 1e-6:
            best = (cost, tip, (-x, -y))
    assert best is not None
    return best[1], best[2]


def _by_corner(spot: Point, silhouette: Any) -> Point:
    """A place in the middle of a corner of the paper, nearer to that corner; others as they are.

    Arrows to what is done at several corners then end at one, and not at a side.
    """
    import shapely

    ring = _corners(shapely.simplify(shapely.convex_hull(silhouette), 2.0))[:-1]
    k = min(range(len(ring)), key=lambda k: math.dist(ring[k], spot))
    corner, far = ring[k], math.dist(ring[k], spot)
    if far < 1.0:
        return spot
    sides = [toward(corner, ring[k - 1]), toward(corner, ring[(k + 1) % len(ring)])]
    way = toward(corner, spot)
    along = [way[0] * x + way[1] * y for x, y in sides]
    if abs(along[0] - along[1]) > 0.05 or not 0.6 < along[0] < 0.8:  # not amid a right angle
        return spot
    return (corner[0] + _BY_CORNER * far * way[0], corner[1] + _BY_CORNER * far * way[1])


def _corners(geometry: Any) -> list[Point]:
    import shapely

    return [(float(x), float(y)) for x, y in shapely.get_coordinates(geometry)]


def _costs(boxes: Sequence[Box], around: Obstacles) -> Any:
    """What speaks against each box: signs in it, paper under it, the edge of the frame."""
    import numpy
    import shapely

    at = numpy.array(boxes)
    x0, y0, x1, y1 = around.box
    out = numpy.maximum(
        numpy.maximum(x0 - at[:, 0], at[:, 2] - x1), numpy.maximum(y0 - at[:, 1], at[:, 3] - y1)
    )
    cover = shapely.area(shapely.intersection(shapely.box(*at.T), around.silhouette))
    area = numpy.maximum(1.0, (at[:, 2] - at[:, 0]) * (at[:, 3] - at[:, 1]))
    busy = held(at, around.arrows, 2.0) + held(at, around.marks, 3.0)
    busy = busy + 4 * shared(at, around.taken, 1.0) + held(at, around.edge_points, 0.5) / 5
    return 0.5 * numpy.maximum(0.0, out) + 1.6 * cover / area + 0.4 * numpy.minimum(12.0, busy)
