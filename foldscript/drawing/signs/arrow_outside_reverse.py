"""Outside reverse fold: wrapped round, a solid head in front, a half head beside it behind."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.routes import arc_between
from ..placement.ways import stroke, trimmed, way
from ..scene.heads import LENGTH, half_head
from ..scene.scene import Path, Point
from ..scene.shafts import heading, shortened
from .glyph import ArrowGlyph


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around)
    k, side = go.size, 1.0 if go.left else -1.0
    hx, hy = go.heading
    tip = (go.tip[0] + 6.5 * side * hy, go.tip[1] - 6.5 * side * hx)
    twin = arc_between(go.curve[0], tip, side * 0.42)
    return [
        *go.solid_arrow,
        stroke(shortened(trimmed(twin, 3.0, 0.0), 4.0 * k), "arrow.hidden"),
        half_head(tip, heading(twin, LENGTH * k), go.left, k),
    ]


GLYPH = ArrowGlyph(
    key="arrow.outside-reverse",
    name="Outside reverse: wrap",
    meaning="Open the two layers and wrap them round, one on either side.",
    order=300,
    draw=_draw,
    parting=True,
)
