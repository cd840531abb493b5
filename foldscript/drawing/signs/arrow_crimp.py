"""Crimp: a zigzag, and beside its tail how the edge looks end on. It stands at the lines of the crimp."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import points_between, unit
from ..scene.outlines import mapped, placed_at
from ..scene.scene import Draw, Move, Path, Point
from .arrow_pleat import LEAST, zigzag
from .glyph import ArrowGlyph


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    (ux, uy), n = unit(tail, head)
    middle = ((tail[0] + head[0]) / 2, (tail[1] + head[1]) / 2)
    a = -max(n, LEAST) / 2 - 4.0
    end_on = (
        Move((a, -4.5)),
        Draw((a - 8.0, -1.6)),
        Draw((a - 3.0, 0.0)),
        Draw((a - 8.0, 1.6)),
        Draw((a, 4.5)),
    )
    around.arrows.extend(points_between(tail, head))
    edge = Path("arrow.shaft", mapped(end_on, placed_at(middle, (ux, uy))))
    return [*zigzag(tail, head), edge]


GLYPH = ArrowGlyph(
    key="arrow.crimp",
    name="Crimp: pleat both layers",
    meaning="Pleat both layers at once, one to either side; the small sign shows the edge end on.",
    order=250,
    draw=_draw,
    reach=11.0,
    on_line=True,
)
