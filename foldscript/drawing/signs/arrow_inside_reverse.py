"""Inside reverse fold: two strokes run into one, dotted where it enters between the layers."""

from __future__ import annotations

from ..placement.obstacles import Obstacles
from ..placement.ways import going_behind, way
from ..scene.outlines import length, part
from ..scene.scene import Curve, Move, Path, Point
from ..scene.shafts import backward, heading, shortened
from .glyph import ArrowGlyph


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    go = way(tail, head, around)
    ux, uy = heading(backward(go.curve))
    x, y = go.curve[0]
    prongs = [
        Path(
            "arrow.shaft",
            (
                Move((x + 4 * ux + side * 3.4 * uy, y + 4 * uy - side * 3.4 * ux)),
                Curve(
                    (x + 1 * ux + side * 3.2 * uy, y + 1 * uy - side * 3.2 * ux),
                    (x - 1 * ux, y - 1 * uy),
                    (x - 4 * ux, y - 4 * uy),
                ),
            ),
        )
        for side in (1.0, -1.0)
    ]
    shaft = shortened(go.curve, 5.6 * go.size)
    first = min(0.4, 4.0 / length(shaft))
    return [*prongs, *going_behind(part(shaft, first, 1.0), around, 0.0), go.solid_head]


GLYPH = ArrowGlyph(
    key="arrow.inside-reverse",
    name="Inside reverse: push in",
    meaning="Open the two layers a little and push the tip in between them.",
    order=290,
    draw=_draw,
    paper=((-1.0, -10.0), (20.0, -10.0), (20.0, 9.0), (-1.0, 9.0)),
)
