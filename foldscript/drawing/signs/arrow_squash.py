"""Squash: a broad hollow arrow that presses on a bar, which leaves room for a ring at its middle."""

from __future__ import annotations

import math

from ..placement.obstacles import Obstacles
from ..placement.ways import points_between, unit
from ..scene.heads import fat_arrow
from ..scene.outlines import mapped, placed_at, polyline
from ..scene.scene import Path, Point
from .glyph import ArrowGlyph

#: How far arrow and bar keep off the middle of a ring (points).
_BY_RING = 4.2


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    (ux, uy), n = unit(tail, head)
    ring = any(math.dist(m, head) < 2 for m in around.marks)
    off, inner, outer = (_BY_RING, _BY_RING, 8.4) if ring else (2.0, 0.0, 5.0)
    tip = (head[0] - off * ux, head[1] - off * uy)
    around.arrows.extend(points_between(tail, head))
    halves = (((-0.4, -outer), (-0.4, -inner)), ((-0.4, inner), (-0.4, outer)))
    bars = halves if ring else (((-0.4, -outer), (-0.4, outer)),)
    to = placed_at(head, (ux, uy))
    return [
        fat_arrow(tip, (ux, uy), min(max(n - off, 14.0), 24.0)),
        *(Path("arrow.shaft", mapped(polyline(bar), to)) for bar in bars),
    ]


GLYPH = ArrowGlyph(
    key="arrow.squash",
    name="Squash: open and flatten",
    meaning="Open the flap and press it flat, so that the fold comes to lie on the bar.",
    order=310,
    draw=_draw,
)
