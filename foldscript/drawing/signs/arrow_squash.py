"""Squash: a broad hollow arrow that presses on a bar."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import points_between, unit
from ..scene.heads import fat_arrow
from ..scene.outlines import mapped, placed_at, polyline
from ..scene.scene import Path, Point
from .glyph import ArrowGlyph


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    (ux, uy), n = unit(tail, head)
    tip = (head[0] - 2.0 * ux, head[1] - 2.0 * uy)
    bar = polyline(((-0.4, -5.0), (-0.4, 5.0)))
    around.arrows.extend(points_between(tail, head))
    return [
        fat_arrow(tip, (ux, uy), min(max(n - 2.0, 14.0), 24.0)),
        Path("arrow.shaft", mapped(bar, placed_at(head, (ux, uy)))),
    ]


GLYPH = ArrowGlyph(
    key="arrow.squash",
    name="Squash: open and flatten",
    meaning="Open the flap and press it flat, so that the fold comes to lie on the bar.",
    order=310,
    draw=_draw,
)
