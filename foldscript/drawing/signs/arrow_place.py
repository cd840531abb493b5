"""Place a unit: a bar at the tail, for a piece that lies loose; a solid head.

Behind all others it is dotted, with half a head, like whatever goes behind; what goes in between layers has
a slit (`arrow_tuck.py`).
"""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import going_behind, stroke, unit, way
from ..scene.scene import Draw, Move, Path, Point
from ..scene.shafts import shortened
from .glyph import ArrowGlyph

#: Half the length of the bar (points).
_BAR = 3.2


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around, behind=under)
    (ux, uy), _ = unit(go.curve[0], go.curve[1])
    x, y = go.curve[0]
    half = _BAR * min(1.0, max(0.7, go.size))
    bar = (Move((x - uy * half, y + ux * half)), Draw((x + uy * half, y - ux * half)))
    shaft = shortened(go.curve, (4.0 if under else 5.6) * go.size)
    run = going_behind(shaft, around) if under else [stroke(shaft)]
    return [*run, Path("arrow", bar), go.half_head if under else go.solid_head]


GLYPH = ArrowGlyph(
    key="arrow.place",
    name="Place a unit",
    meaning="Put the loose piece at the bar where the head points; half a head: behind all.",
    order=330,
    fingers="Put the unit whose point is at {where} on the others, so that this point comes to {goal}.",
    draw=_draw,
    paper=((-22.5, -2.0), (-13.5, -2.0), (-13.5, 7.0), (-22.5, 7.0)),
    below=((6.0, -8.0), (22.5, -8.0), (22.5, 9.0), (6.0, 9.0)),
)
