"""Fold to the back: the shaft goes behind the paper, and half a head ends there."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import going_behind, way
from ..scene.scene import Path, Point
from ..scene.shafts import shortened
from .glyph import ArrowGlyph


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    """Behind from halfway on; where it is `under`, from the start, as a page is turned there."""
    go = way(tail, head, around, behind=True)
    shaft = shortened(go.curve, 4.0 * go.size)
    return [*going_behind(shaft, around, 0.0 if under else 0.5), go.half_head]


GLYPH = ArrowGlyph(
    key="arrow.mountain",
    name="Fold to the back",
    meaning="Half a head. Bring the paper from the tail behind; dots run under the paper.",
    order=210,
    draw=_draw,
    paper=((-1.0, -10.0), (20.0, -10.0), (20.0, 9.0), (-1.0, 9.0)),
)
