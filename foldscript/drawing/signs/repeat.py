"""Repeat: an arrow to the place, crossed by one tick for each repetition, from a box with the steps.

Two signs of one family: where the place is on the back, the arrow's end is dotted and its head one-sided.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from ...paper.signs import RepeatSign
from ..placement.obstacles import Obstacles, held, shared
from ..scene.groups import Item
from ..scene.heads import HALF, half_head, solid_head
from ..scene.outlines import Box, item_box, polyline, shifted_box, toward, union_box
from ..scene.scene import Path, Point, Text
from ..style.styles import Style
from . import families
from .glyph import LastGlyph, Setting, sheet

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

#: Length of the arrow, and of the part that runs on behind the paper (points).
_SHAFT, _BEHIND = 20.0, 17.0
#: How far the head of an arrow on the paper may lie from its outline, at last right at its place; what each
#: bit of an edge counts that the head would cover, or the box, and what it costs to go one farther in.
_INSIDE, _COVERED, _BOXED, _DEEPER = (7.0, 10.0, 13.0, math.inf), 0.12, 0.4, 0.1
#: What a sign counts as long that stands on the paper, right at its place (points).
_ON_PAPER = 30.0
#: Directions that are tried.
_WAYS = 16
#: Of the way from a corner of the paper to the middle of what is folded there, where arrows to it end.
_BY_CORNER = 0.3
#: What each edge of a layer counts that lies between such an arrow and what it leads to.
_ASTRAY = 1.0
#: How far apart boxes of two signs stand side by side, and how far from its place an arrow may end then;
#: nearer than this across, and no farther than that down, one stands below the other (points), and what that
#: costs.
_APART, _ASIDE = 5.0, 30.0
_ACROSS, _DOWN, _BELOW = 50.0, 110.0, 3.0

#: How much room the letter of a point needs about it (points), and what a box costs that stands there.
_LETTER, _CROWDED = 12.0, 3.0


def _shaft(sign: RepeatSign) -> float:
    """Length of the sign's arrow, in points."""
    return _BEHIND + 12.0 if sign.behind else _SHAFT


def _box_size(sign: RepeatSign, style: Style) -> tuple[float, float]:
    """Width and height of the box with the steps."""
    return 0.56 * style.sign * len(_steps(sign)) + 6.0, style.sign + 4.4


def _steps(sign: RepeatSign) -> str:
    return f"{sign.first}" if sign.first == sign.last else f"{sign.first}–{sign.last}"


def repeat_sign(sign: RepeatSign, tip: Point, towards: Point, style: Style) -> list[Item]:
    """The sign with the tip of its arrow at a place."""
    ux, uy = towards
    n = _shaft(sign)
    start = (tip[0] - n * ux, tip[1] - n * uy)
    neck = (tip[0] - 5 * ux, tip[1] - 5 * uy)
    out: list[Item] = []
    if sign.behind:
        turn = (tip[0] - _BEHIND * ux, tip[1] - _BEHIND * uy)
        out.append(Path("sign", polyline((start, turn))))
        out.append(Path("arrow.hidden", polyline((turn, neck))))
        out.append(half_head(tip, towards, True, 1.1))
    else:
        out += [Path("sign", polyline((start, neck))), solid_head(tip, towards, 0.86)]
    for k in range(min(max(1, sign.times), 5)):
        x, y = start[0] + (3.2 + 2.3 * k) * ux, start[1] + (3.2 + 2.3 * k) * uy
        out.append(Path("sign", polyline(((x - 3 * uy, y + 3 * ux), (x + 3 * uy, y - 3 * ux)))))
    wide, high = _box_size(sign, style)
    reach = min(
        wide / 2 / abs(ux) if abs(ux) > 1e-6 else math.inf,
        high / 2 / abs(uy) if abs(uy) > 1e-6 else math.inf,
    )
    mx, my = start[0] - reach * ux, start[1] - reach * uy
    box = (
        (mx - wide / 2, my - high / 2),
        (mx + wide / 2, my - high / 2),
        (mx + wide / 2, my + high / 2),
        (mx - wide / 2, my + high / 2),
    )
    out.append(Path("sign.open", polyline(box, closed=True)))
    words = _steps(sign)
    out.append(Text("text.sign", (mx, my + 0.35 * style.sign), words, style.sign, "middle"))
    return out


def _parts(drawn: Sequence[Item]) -> tuple[Sequence[Item], Sequence[Item]]:
    """Of a sign its arrow, and its box with the steps."""
    return drawn[:-2], drawn[-2:]


def _place(sign: RepeatSign, setting: Setting) -> tuple[Point, Point]:
    """Tip and direction of a sign: from outside the paper to its place, or below the paper."""
    import shapely

    view, style, around = setting.view, setting.style, setting.around
    x0, _, x1, y1 = (float(v) for v in around.silhouette.bounds)
    if sign.at is None:
        size = _box_size(sign, style)
        middle = (x0 + x1) / 2 + (size[0] + _shaft(sign)) / 2
        return (middle, min(y1 + 4.0 + size[1] / 2, around.box[3] - size[1] / 2)), (1.0, 0.0)
    spot = view(sign.at)
    if sign.times > 1:
        spot = _by_corner(spot, around.silhouette)
    turned = [2 * math.pi * k / _WAYS for k in range(_WAYS)]
    outs = [(math.cos(a), math.sin(a)) for a in turned]
    rays = shapely.linestrings([[spot, (spot[0] + 300 * x, spot[1] + 300 * y)] for x, y in outs])
    leaves: list[float] = []
    for ray in shapely.intersection(rays, around.silhouette.boundary):
        leaves.append(max((math.dist(spot, p) for p in _corners(ray)), default=0.0))
    insides = (_BEHIND,) if sign.behind else _INSIDE
    reaches = _each(insides, _WAYS)
    outs, leaves = [*outs] * len(insides), [*leaves] * len(insides)
    tips = [
        (spot[0] + max(1.5, n - inside) * x, spot[1] + max(1.5, n - inside) * y)
        for (x, y), n, inside in zip(outs, leaves, reaches, strict=True)
    ]
    leaves = [
        n if inside < math.inf else _ON_PAPER for n, inside in zip(leaves, reaches, strict=True)
    ]
    deeper = [_DEEPER * (k // _WAYS) for k in range(len(tips))]
    for tip, out in _beside(sign, spot, around, style):
        tips, outs = [*tips, tip], [*outs, out]
        leaves, deeper = [*leaves, math.dist(spot, tip)], [*deeper, 0.0]
    about = {out: _boxes(sign, out, style) for out in outs}
    boxes = [shifted_box(about[out][0], *tip) for tip, out in zip(tips, outs, strict=True)]
    steps = [shifted_box(about[out][1], *tip) for tip, out in zip(tips, outs, strict=True)]
    best: tuple[float, Point, Point] | None = None
    costs = _costs(boxes, around)
    ways = shapely.linestrings([[spot, tip] for tip in tips])
    astray = shapely.get_num_coordinates(shapely.intersection(ways, around.edges)).tolist()
    if sign.behind or sign.times > 1:
        astray = [0] * len(tips)
    costs = costs + _COVERED * held(_heads(tips, outs), around.edge_points, 0.0)
    costs = costs + _BOXED * held(steps, around.edge_points, 0.0)
    costs = costs + _CROWDED * held(steps, setting.lettered, _LETTER)
    costs = costs + deeper + [_BELOW * _is_below(box, around.repeats) for box in steps]
    for tip, (x, y), leave, against, edges in zip(tips, outs, leaves, costs, astray, strict=True):
        cost = 0.045 * leave + float(against) + _ASTRAY * edges + (0.3 if abs(y) > 0.1 else 0.0)
        if best is None or cost < best[0] - 1e-6:
            best = (cost, tip, (-x, -y))
    assert best is not None
    return best[1], best[2]


def _boxes(sign: RepeatSign, out: Point, style: Style) -> tuple[Box, Box]:
    """About a sign whose arrow comes from this way with its tip at (0, 0), and about the steps in its box."""
    drawn = repeat_sign(sign, (0.0, 0.0), (-out[0], -out[1]), style)
    box, steps = (union_box(item_box(i) for i in some) for some in (drawn, _parts(drawn)[1]))
    assert box is not None
    assert steps is not None
    return box, steps


def _beside(
    sign: RepeatSign, spot: Point, around: Obstacles, style: Style
) -> list[tuple[Point, Point]]:
    """Tips on the paper, and ways out, with which a sign's box stands level beside that of another."""
    import shapely

    out: list[tuple[Point, Point]] = []
    wide, high = _box_size(sign, style)
    for x0, y0, x1, y1 in around.repeats:
        y = (y0 + y1) / 2
        way = math.copysign(1.0, spot[1] - y)
        for x in (x0 - _APART - wide / 2, x1 + _APART + wide / 2):
            tip = (x, y + way * (high / 2 + _shaft(sign)))
            if math.dist(tip, spot) < _ASIDE and shapely.contains_xy(around.silhouette, *tip):
                out.append((tip, (0.0, -way)))
    return out


def _is_below(box: Box, others: Sequence[Box]) -> bool:
    """Whether a box stands below another one, or above it."""
    return any(
        abs(box[1] - other[1]) > 1.0
        and max(box[0] - other[2], other[0] - box[2]) < _ACROSS
        and max(box[1] - other[3], other[1] - box[3]) < _DOWN
        for other in others
    )


def _each(values: Sequence[float], times: int) -> list[float]:
    """Each of the values so many times in a row."""
    return [value for value in values for _ in range(times)]


def _heads(tips: Sequence[Point], outs: Sequence[Point]) -> list[Box]:
    """Boxes that fill arrows' heads, which point against these directions."""
    r = HALF + 0.3
    middles = [(x + 4 * dx, y + 4 * dy) for (x, y), (dx, dy) in zip(tips, outs, strict=True)]
    return [(x - r, y - r, x + r, y + r) for x, y in middles]


def _by_corner(spot: Point, silhouette: BaseGeometry) -> Point:
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


def _corners(geometry: BaseGeometry) -> list[Point]:
    import shapely

    return [(float(x), float(y)) for x, y in shapely.get_coordinates(geometry)]


def _costs(boxes: Sequence[Box], around: Obstacles) -> NDArray[numpy.float64]:
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
    busy = 2 * held(at, around.arrows, 2.0) + held(at, around.marks, 3.0)
    busy = busy + held(at, around.folds, 1.0)
    busy = busy + 14 * shared(at, around.taken, 1.0) + held(at, around.edge_points, 0.5) / 5
    return 0.5 * numpy.maximum(0.0, out) + 1.6 * cover / area + 0.4 * numpy.minimum(24.0, busy)


def _draw(setting: Setting, behind: bool) -> list[list[Item]]:
    """Each sign at the place that it leads to; the obstacles learn of it."""
    out: list[list[Item]] = []
    for sign in setting.signs:
        if isinstance(sign, RepeatSign) and sign.behind == behind:
            drawn = repeat_sign(sign, *_place(sign, setting), setting.style)
            arrow, steps = (union_box(item_box(i) for i in some) for some in _parts(drawn))
            if arrow is not None and steps is not None:
                setting.around.taken += [arrow, steps]
                setting.around.repeats.append(steps)
            out.append(drawn)
    return out


def _picture_behind(style: Style) -> list[Item]:
    tip = (0.6 + _BEHIND - 0.5, 0.0)
    return [
        *sheet(((0.6, -10.0), (21.4, -10.0), (21.4, 10.0), (0.6, 10.0))),
        *repeat_sign(RepeatSign(4, 4, 1, behind=True), tip, (1.0, 0.0), style),
    ]


GLYPHS = (
    LastGlyph(
        key="repeat",
        name="Repeat, once per tick",
        meaning="Do the steps in the box here too, once for each tick.",
        order=630,
        family=families.REPEAT,
        draw=lambda setting: _draw(setting, behind=False),
        picture=lambda style: repeat_sign(RepeatSign(2, 4, 1), (19.0, 0.0), (1.0, 0.0), style),
    ),
    LastGlyph(
        key="repeat.behind",
        name="Repeat on the back",
        meaning="The arrow runs on in dots behind the paper: do the steps in the box on the back.",
        order=640,
        family=families.REPEAT,
        draw=lambda setting: _draw(setting, behind=True),
        picture=_picture_behind,
    ),
)
