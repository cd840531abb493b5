"""Fold and unfold: there with a solid head, and back beside it with a hollow one."""

from __future__ import annotations

import math

from ..placement.obstacles import Obstacles
from ..placement.ways import points_along, stroke, way
from ..scene.heads import LENGTH, open_head
from ..scene.outlines import length, parameter_at, part
from ..scene.scene import Path, Point
from ..scene.shafts import backward, beside, heading, shortened
from .glyph import ArrowGlyph

#: How far apart the two strokes run, and how far the way back ends from where others begin, too (points).
_GAP, _CLEAR_OF_TAILS = 3.6, 7.8


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    """It comes back on the outer side of the bulge."""
    go = way(tail, head, around, clear=True)
    curve, k, n = go.curve, go.size, length(go.curve)
    tails = sum(math.dist(p, tail) < 3.0 for p in around.starts)
    short = min(max(0.10 * n, _CLEAR_OF_TAILS * (tails > 1)), 0.4 * n)
    kept = part(curve, parameter_at(curve, short), parameter_at(curve, n - max(5.0, 0.14 * n)))
    back = beside(backward(kept), -_GAP if go.left else _GAP)
    around.arrows.extend(points_along(back))
    return [
        stroke(shortened(curve, 5.6 * k)),
        stroke(shortened(back, 6.4 * k)),
        go.solid_head,
        open_head(back[3], heading(back, LENGTH * k), 0.86 * k),
    ]


GLYPH = ArrowGlyph(
    key="arrow.fold-unfold",
    name="Fold and unfold",
    meaning="Fold to the solid head, crease, and come back to the open head.",
    order=220,
    draw=_draw,
)
