"""Layers: what moves at a fold line and what stays, as the stack is seen from the side, at the line's end.

One stroke is one layer. Those that move bend, up from the stack in front and down from it behind; those that
stay run on. It is drawn only where several layers lie at the line, once for lines that fold alike. It stands
clear of all other ink, off the paper if it can, and is left out where there is no such place.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import groupby, product

from ...paper.signs import FoldLine, Sense
from ..placement.obstacles import Obstacles, held, shared
from ..scene.groups import Item
from ..scene.outlines import Box, item_box, polyline, shifted, union_box
from ..scene.scene import Curve, Draw, Move, Path, Point, Text
from ..style.styles import Style
from . import families
from .glyph import LINES, LastGlyph, Setting, centred

#: How far apart the strokes lie, how long they are before and after the fold, how far they bend (points).
_APART, _BEFORE, _AFTER, _BEND = 2.1, 5.5, 6.5, 5.2
#: Strokes drawn for layers that move and for those that stay, at most; more that move are counted.
_MOVING, _STAYING, _ALL = 2, 2, 3
#: Ways from the line's end in which a place is looked for, in degrees off its direction; and how far off
#: (points).
_WAYS, _FAR = (0.0, 30.0, -30.0, 60.0, -60.0, 90.0, -90.0), (3.0, 5.0, 8.0)
#: What it costs to lie on the paper, to stand farther off by a point, and aside by a radian.
_ON_PAPER, _FARTHER, _ASIDE = 1.5, 0.15, 0.2


def layers_sign(layers: Sequence[bool], sense: Sense, style: Style) -> list[Item]:
    """The sign about its middle; nothing where the layers that move are not those on the outside."""
    runs = [(moves, len(list(some))) for moves, some in groupby(layers)]
    up = sense is Sense.VALLEY
    if not up:
        runs.reverse()
    if not runs or not runs[0][0] or len(runs) > 2:
        return []
    count, rest = runs[0][1], runs[1][1] if len(runs) == 2 else 0
    moving, staying = min(count, _MOVING if rest else _ALL), min(rest, _STAYING)
    way = 1.0 if up else -1.0
    out: list[Item] = []
    for k in range(moving + staying):
        y = way * k * _APART
        if k < moving:
            tip = (0.85 * _AFTER, y - way * _BEND)
            bend = Curve((0.35 * _AFTER, y), (0.7 * _AFTER, y - 0.3 * way * _BEND), tip)
            out.append(Path("sign", (Move((-_BEFORE, y)), Draw((0.0, y)), bend)))
        else:
            out.append(Path("sign", polyline(((-_BEFORE, y), (_AFTER, y)))))
    if rest and count > moving:
        size = style.small
        at = (_AFTER + 0.5, -way * 0.4 * _BEND + 0.35 * size)
        out.append(Text("text.sign", at, str(count), size))
    return centred(out)


def _draw(setting: Setting) -> list[list[Item]]:
    """One sign for all lines at which the same happens, at the end where there is most room."""
    alike: dict[tuple[tuple[bool, ...], Sense], list[FoldLine]] = {}
    for sign in setting.signs:
        if isinstance(sign, FoldLine) and len(sign.layers) > 1 and not sign.opens:
            alike.setdefault((sign.layers, sign.sense), []).append(sign)
    out: list[list[Item]] = []
    for (layers, sense), lines in alike.items():
        items = layers_sign(layers, sense, setting.style)
        at = _place(items, lines, setting) if items else None
        if at is not None:
            out.append([shifted(item, *at) for item in items])
            box = _box(out[-1])
            setting.around.taken.append(box)
            setting.around.arrows.extend(_points(box))
    return out


def _place(items: Sequence[Item], lines: Sequence[FoldLine], setting: Setting) -> Point | None:
    """The middle of the best free place at an end of a line; None where there is none."""
    x0, y0, x1, y1 = _box(items)
    tries: list[tuple[float, Point]] = []
    for (end, (ux, uy)), far, turn in product(_ends(lines, setting), _FAR, _WAYS):
        a = math.radians(turn)
        wx, wy = ux * math.cos(a) - uy * math.sin(a), ux * math.sin(a) + uy * math.cos(a)
        reach = far + min(
            (x1 - x0) / 2 / max(abs(wx), 1e-6),
            (y1 - y0) / 2 / max(abs(wy), 1e-6),
        )
        tries.append((_FARTHER * far + _ASIDE * abs(a), (end[0] + reach * wx, end[1] + reach * wy)))
    if not tries:
        return None
    boxes = [(x + x0, y + y0, x + x1, y + y1) for _, (x, y) in tries]
    free, on_paper = _free(boxes, setting.around)
    costs = [
        (round(cost + _ON_PAPER * on, 4), k)
        for k, ((cost, _), is_free, on) in enumerate(zip(tries, free, on_paper, strict=True))
        if is_free
    ]
    return tries[min(costs)[1]][1] if costs else None


def _ends(lines: Sequence[FoldLine], setting: Setting) -> list[tuple[Point, Point]]:
    """Both ends of every line on the page, each with the way on from there."""
    out: list[tuple[Point, Point]] = []
    for line in lines:
        points = [setting.view(p) for _, ends in line.parts for p in ends]
        first = max(points, key=lambda p: (round(math.dist(p, points[0]), 6), p))
        last = max(points, key=lambda p: (round(math.dist(p, first), 6), p))
        n = math.dist(first, last)
        if n > 1e-6:
            ux, uy = (last[0] - first[0]) / n, (last[1] - first[1]) / n
            out += [(last, (ux, uy)), (first, (-ux, -uy))]
    return out


def _free(boxes: Sequence[Box], around: Obstacles) -> tuple[list[bool], list[float]]:
    """Which boxes are clear of all ink and in the frame, and how much of each lies on the paper."""
    import numpy

    at = numpy.array(boxes)
    x0, y0, x1, y1 = around.box
    free = (at[:, 0] >= x0) & (at[:, 1] >= y0) & (at[:, 2] <= x1) & (at[:, 3] <= y1)
    free &= held(at, around.arrows, 2.0) == 0
    free &= held(at, around.marks, 3.6) == 0
    free &= held(at, around.folds, 1.2) == 0
    free &= held(at, around.edge_points, 1.2) == 0
    free &= shared(at, around.taken, 1.0) == 0
    on = around.on_paper(numpy.array([_points(box) for box in boxes])).mean(1)
    return free.tolist(), on.tolist()


def _box(items: Sequence[Item]) -> Box:
    box = union_box(item_box(item) for item in items)
    assert box is not None
    return box


def _points(box: Box) -> list[Point]:
    x0, y0, x1, y1 = box
    return [(x0 + (x1 - x0) * i / 3, y0 + (y1 - y0) * j / 3) for i in range(4) for j in range(4)]


def _picture(style: Style) -> list[Item]:
    sign = layers_sign((True, False), Sense.VALLEY, style)
    return [
        Path("fold.valley", polyline(((-21.0, 0.0), (-2.0, 0.0)))),
        *(shifted(item, 10.0, 0.0) for item in sign),
    ]


GLYPH = LastGlyph(
    key="layers",
    name="Layers seen from the side: those that bend move, the others stay",
    meaning="At the end of a fold line: layers that bend move, straight ones stay. A number counts them.",
    heading=LINES,
    order=145,
    family=families.LAYERS,
    draw=_draw,
    picture=_picture,
)
