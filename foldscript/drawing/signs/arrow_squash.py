"""Squash: a hollow arrow from the tip that moves, which presses on a bar where that tip is laid down."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import way
from ..scene.outlines import mapped, placed_at, polyline
from ..scene.scene import Path, Point
from ..scene.shafts import growing, shortened
from .glyph import ArrowGlyph

#: Half the length of the bar, and how far the head keeps off it (points).
_BAR, _OFF = 4.6, 1.3


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around)
    bar = polyline(((0.0, -_BAR * go.size), (0.0, _BAR * go.size)))
    return [
        growing(shortened(go.curve, _OFF), go.size),
        Path("arrow.shaft", mapped(bar, placed_at(go.tip, go.heading))),
    ]


GLYPH = ArrowGlyph(
    key="arrow.squash",
    name="Squash: open, flatten",
    meaning="Open the flap and press it flat, so that the fold comes to lie on the bar.",
    order=310,
    draw=_draw,
)
