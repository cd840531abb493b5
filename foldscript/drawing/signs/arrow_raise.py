"""Raise: two fingertips take the paper, and a hollow arrow grows towards the eye; nothing is laid down.

Where the paper is under other paper no fingertips are seen: a dotted shaft leads to the arrow.
"""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import going_behind, unit, way
from ..scene.outlines import part
from ..scene.scene import Path, Point
from ..scene.shafts import growing
from ..scene.shapes import Shape
from .glyph import ArrowGlyph
from .grip import GRIP

_GRIP = Shape((("sign.solid", GRIP),))
#: The parameter from which on the shaft is seen that comes from under other paper.
_COMES_OUT = 0.45


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around)
    if under:
        hidden = going_behind(part(go.curve, 0.0, _COMES_OUT), around, 0.0)
        return [*hidden, growing(part(go.curve, _COMES_OUT, 1.0), go.size)]
    towards, _ = unit(go.curve[0], go.curve[1])
    size = min(1.0, max(0.7, go.size))
    return [growing(go.curve, go.size), *_GRIP.at(go.curve[0], towards, size)]


GLYPH = ArrowGlyph(
    key="arrow.raise",
    name="Take it and raise it",
    meaning="Take the paper between two fingers and raise it to where the arrow points: it stays up.",
    order=325,
    fingers=(
        "Lift the paper at {where}, and bring it to {goal} while the model stands open. "
        "It is no longer flat."
    ),
    draw=_draw,
)
