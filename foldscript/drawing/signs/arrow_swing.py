"""Swing over like a page: a short bar where the flap is hinged, then a solid head."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import way
from ..scene.outlines import polyline
from ..scene.scene import Path, Point
from ..scene.shafts import backward, heading
from .glyph import ArrowGlyph


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around)
    ux, uy = heading(backward(go.curve))
    x, y = go.curve[0]
    bar = polyline(((x - 3 * uy, y + 3 * ux), (x + 3 * uy, y - 3 * ux)))
    return [Path("arrow.shaft", bar), *go.solid_arrow]


GLYPH = ArrowGlyph(
    key="arrow.swing",
    name="Swing over like a page",
    meaning="Turn the flap over at the bar, as you turn a page.",
    order=280,
    draw=_draw,
)
