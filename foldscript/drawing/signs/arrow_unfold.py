"""Unfold: a shaft with a hollow head."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import stroke, way
from ..scene.heads import open_head
from ..scene.scene import Path, Point
from ..scene.shafts import shortened
from .glyph import ArrowGlyph


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around)
    return [
        stroke(shortened(go.curve, 6.6 * go.size)),
        open_head(go.tip, go.heading, go.size),
    ]


GLYPH = ArrowGlyph(
    key="arrow.unfold",
    name="Unfold",
    meaning="Open head. Open what was folded, to the head.",
    order=230,
    draw=_draw,
)
