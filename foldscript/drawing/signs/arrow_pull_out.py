"""Pull out: a broad hollow arrow that leaves a pocket."""

from __future__ import annotations

import math

from ..placement.obstacles import Obstacles
from ..placement.ways import points_between, unit
from ..scene.heads import fat_arrow
from ..scene.scene import Path, Point
from .glyph import ArrowGlyph

#: How far off a point that is drawn to two sides the arrows begin, so that it is seen.
_PARTED = 7.0


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    if sum(math.dist(p, tail) < 1.0 for p in around.starts) > 1:
        (ux, uy), n = unit(tail, head)
        tail = (tail[0] + min(_PARTED, 0.4 * n) * ux, tail[1] + min(_PARTED, 0.4 * n) * uy)
    towards, n = unit(tail, head)
    around.arrows.extend(points_between(tail, head))
    return [fat_arrow(head, towards, max(n, 16.0))]


GLYPH = ArrowGlyph(
    key="arrow.pull-out",
    name="Pull out",
    meaning="Draw out paper from between the layers, as far as the head.",
    order=270,
    draw=_draw,
)
