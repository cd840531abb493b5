"""Rabbit ear: a shaft with a pinched ear on it, two flanks and a spine; a solid head where it is laid."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import stroke, way
from ..scene.outlines import at, length, mapped, parameter_at, placed_at, polyline
from ..scene.scene import Path, Point
from ..scene.shafts import shortened
from .glyph import ArrowGlyph

#: Where along the shaft the ear stands, how high it is and half as wide (points).
_WHERE, _HIGH, _HALF = 0.42, 8.6, 3.1


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around)
    curve = go.curve
    middle = parameter_at(curve, _WHERE * length(curve))
    foot, before, after = (at(curve, min(1.0, max(0.0, middle + k))) for k in (0.0, -0.02, 0.02))
    n = ((after[0] - before[0]) ** 2 + (after[1] - before[1]) ** 2) ** 0.5 or 1.0
    (x, y), side = ((after[0] - before[0]) / n, (after[1] - before[1]) / n), 1 if go.left else -1
    outward = (side * y, -side * x)
    size = min(1.0, max(0.75, go.size))
    ear = polyline(((0.0, -_HALF), (_HIGH, 0.0), (0.0, _HALF)), closed=True)
    spine = polyline(((0.0, 0.0), (_HIGH, 0.0)))
    to = placed_at(foot, outward, size)
    tip = (foot[0] + _HIGH * size * outward[0], foot[1] + _HIGH * size * outward[1])
    around.arrows.extend((foot, tip))
    return [
        stroke(shortened(curve, 5.6 * go.size)),
        Path("arrow.open", mapped(ear, to)),
        Path("arrow.shaft", mapped(spine, to)),
        go.solid_head,
    ]


GLYPH = ArrowGlyph(
    key="arrow.rabbit-ear",
    name="Rabbit ear",
    meaning="Pinch both sides together until the point stands up, and lay it down at the head.",
    order=322,
    draw=_draw,
)
