"""Lift up: hollow, and wider the nearer it comes to the eye."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import way
from ..scene.scene import Path, Point
from ..scene.shafts import growing
from .glyph import ArrowGlyph


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around)
    return [growing(go.curve, go.size)]


GLYPH = ArrowGlyph(
    key="arrow.lift",
    name="Lift up",
    meaning="The arrow grows towards you: raise the paper, and lay it down at the head.",
    order=320,
    draw=_draw,
)
