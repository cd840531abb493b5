"""Fold to the front: a curved shaft with a solid head; into a pocket where it ends under a layer."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import way
from ..scene.scene import Path, Point
from .arrow_tuck import tucked
from .glyph import ArrowGlyph


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    if under:
        return tucked(tail, head, around)
    return way(tail, head, around).solid_arrow


GLYPH = ArrowGlyph(
    key="arrow.valley",
    name="Fold to the front",
    meaning="Solid head. Bring the paper from the tail over the front to the head.",
    order=200,
    draw=_draw,
)
