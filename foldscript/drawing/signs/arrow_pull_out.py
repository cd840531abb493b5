"""Pull out: a broad hollow arrow that leaves a pocket; dotted first where it comes from under other paper.

What comes out through a slit and lies where it lay, over the paper, has a thin one: dotted under the paper to
the slit, round its edge, and back.
"""

from __future__ import annotations

import math

from ..placement.obstacles import Obstacles
from ..placement.ways import points_along, points_between, stroke, unit
from ..scene.heads import LENGTH, fat_arrow, solid_head
from ..scene.outlines import Cubic, polyline
from ..scene.scene import Path, Point
from .glyph import ArrowGlyph

#: How far off a point that is drawn to two sides the arrows begin, so that it is seen.
_PARTED = 7.0
#: The part of its way on which it is seen under other paper, of one that comes from there.
_HIDDEN = 0.3
#: It lies on the outline where so much of it is so near to that, and then stands so far off (points).
_MUCH, _ON, _OFF = 0.3, 2.5, 6.5


#: How far the way under the paper to a slit and the way back over it lie off their middle; how long the way
#: back is at least (12 mm); how far before the slit it comes out from under the paper (points).
_LANE, _LONG, _TURN = 4.6, 34.0, 8.0


def _draw(tail: Point, head: Point, under: bool, around: Obstacles) -> list[Path]:
    if around.mouth is not None:
        return _through_slit(tail, head, around)
    hidden: list[Path] = []
    if under:
        (ux, uy), n = unit(tail, head)
        out = (tail[0] + _HIDDEN * n * ux, tail[1] + _HIDDEN * n * uy)
        dots = _off_edges(tail, out, around, onto=True)
        hidden = [Path("arrow.hidden", polyline(dots))]
        around.arrows.extend(points_between(*dots))
        tail = out
    tail, head = _off_edges(tail, head, around)
    if sum(math.dist(p, tail) < 1.0 for p in around.starts) > 1:
        (ux, uy), n = unit(tail, head)
        tail = (tail[0] + min(_PARTED, 0.4 * n) * ux, tail[1] + min(_PARTED, 0.4 * n) * uy)
    towards, n = unit(tail, head)
    around.arrows.extend(points_between(tail, head))
    return [*hidden, fat_arrow(head, towards, max(n, 16.0))]


def _through_slit(tail: Point, head: Point, around: Obstacles) -> list[Path]:
    """From a tip under the paper to where it comes out, and back."""
    (ux, uy), far = unit(tail, head)
    side = 1.0 if ux > 1e-6 or (abs(ux) <= 1e-6 and uy < 0) else -1.0  # above, or on the left
    over = max(far, _LONG)

    def at(along: float, off: float) -> Point:
        return (
            head[0] + along * ux + side * off * uy,
            head[1] + along * uy - side * off * ux,
        )

    start, out, back, tip = (
        at(-max(far, _TURN), _LANE),
        at(-_TURN, _LANE),
        at(-_TURN, -_LANE),
        at(-over, -_LANE),
    )
    round_edge: Cubic = (out, at(0.3 * _TURN, _LANE), at(0.3 * _TURN, -_LANE), back)
    around.arrows.extend([*points_between(start, out), *points_along(round_edge)])
    around.arrows.extend(points_between(back, tip))
    return [
        Path("arrow.hidden", polyline((start, out))),
        stroke(round_edge),
        Path("arrow.shaft", polyline((back, at(0.8 * LENGTH - over, -_LANE)))),
        solid_head(tip, (-ux, -uy)),
    ]


def _off_edges(
    tail: Point, head: Point, around: Obstacles, onto: bool = False
) -> tuple[Point, Point]:
    """The way beside the outline of the paper, off the paper or `onto` it, where it would cover that."""
    way = points_between(tail, head)
    if around.beside_outline(way, _ON).mean() < _MUCH:
        return tail, head
    (ux, uy), _ = unit(tail, head)
    sides = [[(x - side * _OFF * uy, y + side * _OFF * ux) for x, y in way] for side in (1.0, -1.0)]
    off, on = sorted(sides, key=lambda some: sum(around.covers(some)))
    return (on[0], on[-1]) if onto else (off[0], off[-1])


GLYPH = ArrowGlyph(
    key="arrow.pull-out",
    name="Pull out",
    meaning="Draw out paper from between the layers, as far as the head.",
    order=270,
    draw=_draw,
)
