"""Equal lengths: a row of equal arcs beside an edge, one from each bar to the next.

As a compass steps along it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ...paper.signs import EqualLengths
from ..placement.obstacles import Obstacles
from ..scene.groups import Item
from ..scene.outlines import polyline, samples, toward
from ..scene.scene import Curve, Move, Path, Point
from ..scene.view import View
from ..style.styles import Style
from .glyph import HEIGHT, WIDTH, MarkGlyph, Setting, centred

#: Shortest of equal parts that are marked (points).
_SHORTEST_PART = 6.0
#: How high their arcs rise, and the most of their length; half the bars at the ends, and between parts.
_RISE, _STEEPEST, _END_BAR, _BAR = 3.4, 0.26, 2.6, 1.5
#: More of them than this are marked on the paper itself only where each is as long as this (points).
_MOST_ON_PAPER, _LONG_PART = 4, 8.0
#: Edges of the paper so near the ends of a row amid it do not hinder: corners are crossed there (points).
_AT_ENDS = 8.0
#: How far off the edge they lie: outside the paper, beyond two arrows there, and on the paper.
_OFF, _OFF_WIDE, _OFF_ON_PAPER = 6.2, 9.0, 4.6


def _draw(setting: Setting) -> list[list[Path]]:
    signs = [s for s in setting.signs if isinstance(s, EqualLengths)]
    return [
        paths for s in signs if (paths := _row(s, setting.view, setting.around, setting.parting))
    ]


def _row(
    sign: EqualLengths, view: View, around: Obstacles, wide: Sequence[Point] = ()
) -> list[Path]:
    """The arcs of one sign.

    Left out where the parts are too short on the page to be told apart, or cannot lie beside the edge
    without crossing other lines. `wide` are places where two arrows leave side by side, and need room.
    """
    out: list[Path] = []
    drawn = [(view(p), view(q)) for p, q in sign.segments]
    if not drawn or min(math.dist(a, b) for a, b in drawn) < _SHORTEST_PART:
        return []
    side = _side(drawn, around, wide)
    if side is None:
        return []
    (nx, ny), off = side

    def beside(p: Point, by: float) -> Point:
        return (p[0] + by * nx, p[1] + by * ny)

    rise = min(_RISE, _STEEPEST * min(math.dist(a, b) for a, b in drawn))
    for k, end in enumerate((drawn[0][0], *(b for _, b in drawn))):
        long = _END_BAR if k in (0, len(drawn)) else _BAR
        bar = beside(end, off - long), beside(end, off + long)
        out.append(Path("mark.length", polyline(bar)))
        around.ruled.extend(samples((bar[0], *bar, bar[1]), 4))
    for a, b in drawn:
        foot, head = beside(a, off), beside(b, off)
        first, last = (
            beside((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])), off + 4 / 3 * rise)
            for t in (0.25, 0.75)
        )
        out.append(Path("mark.length", (Move(foot), Curve(first, last, head))))
        around.ruled.extend(samples((foot, first, last, head), 8))
    around.arrows.extend(around.ruled)
    return out


def _side(
    drawn: list[tuple[Point, Point]], around: Obstacles, wide: Sequence[Point]
) -> tuple[Point, float] | None:
    """Where the marks lie: the normal of their side, and how far off; None where there is no place.

    Outside the paper where there is an outside, else on the side that no fold line crosses.
    """
    (start, _), (_, end) = drawn[0], drawn[-1]
    ux, uy = toward(start, end)
    mids = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in drawn]
    sides = ((-uy, ux), (uy, -ux))
    covered = [sum(around.covers([(x + 4 * nx, y + 4 * ny) for x, y in mids])) for nx, ny in sides]
    best = sides[0] if covered[0] <= covered[1] else sides[1]
    outside = min(covered) == 0
    if outside:
        near = any(math.dist(p, q) < 3.0 for p in wide for q in (start, end))
        found = [(best, _OFF_WIDE if near else _OFF)]
    elif len(drawn) > _MOST_ON_PAPER and math.dist(*drawn[0]) < _LONG_PART:
        return None
    else:
        found = [(side, _OFF_ON_PAPER) for side in sorted(sides, key=lambda n: n != best)]
    for (nx, ny), off in found:
        row = [(x + off * nx, y + off * ny) for x, y in (start, end)]
        free = outside or not _crossed(row[0], row[1], around)
        amid = min(covered) == len(mids)
        if free and _edges_across(row[0], row[1], around, _AT_ENDS if amid else 2.0) <= 1:
            return (nx, ny), off
    return None


def _crossed(start: Point, end: Point, around: Obstacles) -> bool:
    """Whether a fold line crosses the way between two points."""
    import shapely

    if not around.strokes:
        return False
    way = shapely.LineString([start, end])
    return bool(shapely.intersects(way, shapely.linestrings(around.strokes)).any())


def _edges_across(start: Point, end: Point, around: Obstacles, at_ends: float) -> int:
    """How many edges of the paper lie across the way between two points, but for so much at its ends."""
    import shapely

    if around.edges is None:
        return 0
    (x, y), (ux, uy) = start, toward(start, end)
    r = min(at_ends, math.dist(start, end) / 3)
    inner = [(x + r * ux, y + r * uy), (end[0] - r * ux, end[1] - r * uy)]
    meet = shapely.intersection(shapely.LineString(inner), around.edges)
    return int(shapely.get_num_geometries(meet)) if not meet.is_empty else 0


def _picture(style: Style) -> list[Item]:
    """Three parts of an edge."""
    import shapely

    parts = tuple(((k - 1.5, 0.0), (k - 0.5, 0.0)) for k in range(3))
    view = View(12.5, (0.0, 0.0))
    corners = ((-1.5, -1.0), (1.5, -1.0), (1.5, 0.0), (-1.5, 0.0))
    paper = shapely.Polygon([view(p) for p in corners])
    around = Obstacles(paper, (-WIDTH, -HEIGHT, WIDTH, HEIGHT))
    edge = Path("edge.raw", polyline((view(parts[0][0]), view(parts[-1][1]))))
    return centred([edge, *_row(EqualLengths(parts), view, around)])


GLYPH = MarkGlyph(
    key="mark.equal-lengths",
    name="Equal lengths",
    meaning="Each arc spans the same length.",
    order=510,
    draw=_draw,
    picture=_picture,
)
