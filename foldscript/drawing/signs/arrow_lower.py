"""Bend away: two fingertips take the paper, and a shaft leads behind it, where half a head ends.

Where the paper is under other paper no fingertips are seen, and the shaft runs behind from the start.
"""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import going_behind, unit, way
from ..scene.scene import Path, Point
from ..scene.shafts import shortened
from ..scene.shapes import Shape
from .glyph import ArrowGlyph
from .grip import GRIP

_GRIP = Shape((("sign.solid", GRIP),))
#: From where on the shaft runs behind the paper, and the part of it that is dotted in any case: nothing comes
#: towards the reader off the paper either.
_BEHIND, _DOTTED = 0.3, 0.55


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around, behind=True)
    towards, _ = unit(go.curve[0], go.curve[1])
    size = min(1.0, max(0.7, go.size))
    shaft = shortened(go.curve, 4.0 * go.size)
    if under:
        return [*going_behind(shaft, around, 0.0, _DOTTED), go.half_head]
    return [
        *going_behind(shaft, around, _BEHIND, _DOTTED),
        go.half_head,
        *_GRIP.at(go.curve[0], towards, size),
    ]


GLYPH = ArrowGlyph(
    key="arrow.lower",
    name="Take and bend it away",
    meaning="Take the paper between two fingers and bend it away from you, behind the rest: it stays so.",
    order=326,
    fingers=(
        "Take the paper at {where}, and bend it away from you, towards {goal}, while the model stands open. "
        "It is no longer flat."
    ),
    draw=_draw,
    paper=((-1.0, -10.0), (20.0, -10.0), (20.0, 9.0), (-1.0, 9.0)),
)
