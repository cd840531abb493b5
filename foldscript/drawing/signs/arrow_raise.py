"""Raise: two fingertips take the paper, and a hollow arrow grows towards the eye; nothing is laid down.

It is broad, and never short: where the line is near, it swings out. Where the paper is under other paper no
fingertips are seen: a dotted shaft leads to the arrow.
"""

from __future__ import annotations

import math

from ..placement.obstacles import Obstacles
from ..placement.routes import arc_between, as_twin
from ..placement.ways import going_behind, unit, way
from ..scene.outlines import length, part
from ..scene.scene import Path, Point
from ..scene.shafts import growing
from ..scene.shapes import Shape
from .glyph import ArrowGlyph
from .grip import GRIP

_GRIP = Shape((("sign.solid", GRIP),))
#: The parameter from which on the shaft is seen that comes from under other paper.
_COMES_OUT = 0.45
#: Head, and shaft at the eye, as parts of the usual; from what length on they are full (points).
_LEAST, _MOST, _FULL = 0.85, 1.35, 40.0
#: The arrow is to be so long (points: 12 mm, and what it keeps off both ends; 10 mm beside others), for which
#: it rises by as much of the way to the line as it must.
_LONG, _BESIDE, _RISES = 37.3, 31.6, (0.2, 0.28, 0.38, 0.55, 0.8)
#: Of so many flaps whose tips meet each is taken so far from there (points; 3 mm between two that
#: are side by side), or at this part of its way, and the arrows swing out little, all the same way round.
_MANY, _PARTED, _SHARE, _SWING = 3, 9.0, 0.4, 0.2


def _rises(tail: Point, head: Point, around: Obstacles) -> list[float]:
    """How far it may rise to be long enough, to either side or as others beside it; nothing where it is long
    anyhow.
    """
    alone = len(around.starts) < 2
    enough = _LONG if alone else _BESIDE
    if math.dist(tail, head) >= enough:
        return []
    rises = _RISES if alone else _RISES[:3]
    rise = next((r for r in rises if length(arc_between(tail, head, r)) >= enough), rises[-1])
    return as_twin(tail, head, around, [rise, -rise])


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    rises = _rises(tail, head, around)
    if sum(math.dist(p, tail) < 1.0 for p in around.starts) >= _MANY:
        (ux, uy), n = unit(tail, head)
        off = min(_PARTED, _SHARE * n)
        tail, rises = (tail[0] + off * ux, tail[1] + off * uy), [_SWING]
    go = way(tail, head, around, given=rises)
    size = min(_MOST, max(_LEAST, length(go.curve) / _FULL * _MOST))
    if under:
        hidden = going_behind(part(go.curve, 0.0, _COMES_OUT), around, 0.0)
        return [*hidden, growing(part(go.curve, _COMES_OUT, 1.0), size)]
    towards, _ = unit(go.curve[0], go.curve[1])
    return [growing(go.curve, size), *_GRIP.at(go.curve[0], towards, min(1.0, size))]


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
