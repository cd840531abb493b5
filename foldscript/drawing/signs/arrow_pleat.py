"""Pleat: a shaft that goes there, back and there again. It stands at the lines of the pleat."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import points_between, unit
from ..scene.heads import solid_head
from ..scene.outlines import mapped, placed_at
from ..scene.scene import Draw, Move, Path, Point
from .glyph import ArrowGlyph

#: Shortest zigzag, and size of its head.
LEAST, _HEAD = 26.0, 0.8


def zigzag(tail: Point, head: Point) -> list[Path]:
    """There, back and there again."""
    (ux, uy), n = unit(tail, head)
    span = max(n, LEAST)
    middle = ((tail[0] + head[0]) / 2, (tail[1] + head[1]) / 2)
    to = placed_at(middle, (ux, uy))
    a, b = -span / 2, span / 2
    shaft = (
        Move((a, 3.4)),
        Draw((span * 0.16, 3.4)),
        Draw((-span * 0.16, -1.0)),
        Draw((b - 5.0 * _HEAD, -1.0)),
    )
    tip = mapped((Move((b, -1.0)),), to)[0]
    assert isinstance(tip, Move)
    return [Path("arrow.shaft", mapped(shaft, to)), solid_head(tip.to, (ux, uy), _HEAD)]


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    around.arrows.extend(points_between(tail, head))
    return zigzag(tail, head)


GLYPH = ArrowGlyph(
    key="arrow.pleat",
    name="Pleat: there and back",
    meaning="Fold there and back, to make a step in the paper.",
    order=240,
    draw=_draw,
    on_line=True,
)
