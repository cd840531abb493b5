"""Equal lengths: a row of equal arcs beside a line, one from each bar to the next.

As a compass steps along it. Parts too short for arcs are parted by bars on a line; where there are many,
their number stands beside them.
"""

from __future__ import annotations

import math

from ...paper.signs import EqualLengths
from ..placement.labels import place_value
from ..placement.obstacles import Obstacles
from ..scene.groups import Item
from ..scene.outlines import polyline, samples, toward
from ..scene.scene import Curve, Move, Path, Point, Text
from ..scene.view import View
from ..style.styles import Style
from .glyph import HEIGHT, WIDTH, MarkGlyph, Setting, centred
from .rows import side_of

#: Shortest of equal parts that have arcs, and bars between them (points).
_SHORTEST_ARC, _SHORTEST_BAR = 6.0, 2.0
#: How high their arcs rise, and the most of their length; half the bars at the ends, and between parts.
_RISE, _STEEPEST, _END_BAR, _BAR = 3.4, 0.26, 2.6, 1.5
#: More of them than the eye counts at a glance.
_COUNTED = 4


def _draw(setting: Setting) -> list[list[Item]]:
    signs = [s for s in setting.signs if isinstance(s, EqualLengths)]
    view, around, style = setting.view, setting.around, setting.style
    signs.sort(key=_length)
    rows = [_row(s, view, around, setting.parting) for s in signs]
    return [
        [*row, *_number(s, at, view, around, style)]
        for s, (row, at) in zip(signs, rows, strict=True)
    ]


def _length(sign: EqualLengths) -> float:
    """From end to end, in sheet units, about: of two rows on one side, the shorter lies at the paper."""
    return round(math.dist(sign.segments[0][0], sign.segments[-1][1]), 6)


def _number(
    sign: EqualLengths, at: tuple[Point, float], view: View, around: Obstacles, style: Style
) -> list[Path | Text]:
    """How many parts a row has, where they are many: beside its middle, else its ends.

    `at` is the side of the line that it lies on, and how far off.
    """
    if len(sign.segments) <= _COUNTED:
        return []
    start, end = view(sign.segments[0][0]), view(sign.segments[-1][1])
    (nx, ny), off = at
    (ux, uy), n = toward(start, end), math.dist(start, end)
    rise = min(_RISE, _STEEPEST * n / len(sign.segments))
    x, y = (start[0] + end[0]) / 2 + (off + rise) * nx, (start[1] + end[1]) / 2 + (off + rise) * ny
    ends = [
        ((p[0] + off * nx, p[1] + off * ny), w) for p, w in ((end, (ux, uy)), (start, (-ux, -uy)))
    ]
    places = [((x, y), (nx, ny)), *ends]
    return place_value(places, str(len(sign.segments)), around, style)


def _row(
    sign: EqualLengths, view: View, around: Obstacles, wide: tuple[Point, ...] = ()
) -> tuple[list[Item], tuple[Point, float]]:
    """The arcs of one sign, the side of its line that they lie on, and how far off."""
    drawn = [(view(p), view(q)) for p, q in sign.segments]
    (nx, ny), off = side_of(drawn, around, wide)

    def beside(p: Point, by: float) -> Point:
        return (p[0] + by * nx, p[1] + by * ny)

    around.lay_row(beside(drawn[0][0], off), beside(drawn[-1][1], off))
    out: list[Item] = []
    part = min(math.dist(a, b) for a, b in drawn)
    rise = min(_RISE, _STEEPEST * part)
    for k, end in enumerate((drawn[0][0], *(b for _, b in drawn))):
        outer = k in (0, len(drawn))
        if not outer and part < _SHORTEST_BAR:
            continue
        long = _END_BAR if outer else _BAR
        bar = beside(end, off - long), beside(end, off + long)
        out.append(Path("mark.length", polyline(bar)))
        around.ruled.extend(samples((bar[0], *bar, bar[1]), 4))
    if part < _SHORTEST_ARC:
        ends = beside(drawn[0][0], off), beside(drawn[-1][1], off)
        out.append(Path("mark.length", polyline(ends)))
        around.ruled.extend(samples((ends[0], *ends, ends[1]), 24))
    else:
        for a, b in drawn:
            foot, head = beside(a, off), beside(b, off)
            first, last = (
                beside((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])), off + 4 / 3 * rise)
                for t in (0.25, 0.75)
            )
            out.append(Path("mark.length", (Move(foot), Curve(first, last, head))))
            around.ruled.extend(samples((foot, first, last, head), 8))
    around.arrows.extend(around.ruled)
    return out, ((nx, ny), off)


def _picture(style: Style) -> list[Item]:
    """Three parts of an edge."""
    import shapely

    parts = tuple(((k - 1.5, 0.0), (k - 0.5, 0.0)) for k in range(3))
    view = View(12.5, (0.0, 0.0))
    corners = ((-1.5, -1.0), (1.5, -1.0), (1.5, 0.0), (-1.5, 0.0))
    paper = shapely.Polygon([view(p) for p in corners])
    around = Obstacles(paper, (-WIDTH, -HEIGHT, WIDTH, HEIGHT))
    edge = Path("edge.raw", polyline((view(parts[0][0]), view(parts[-1][1]))))
    return centred([edge, *_row(EqualLengths(parts), view, around)[0]])


GLYPH = MarkGlyph(
    key="mark.equal-lengths",
    name="Equal lengths",
    meaning="Each arc spans the same length.",
    order=510,
    draw=_draw,
    picture=_picture,
    needed=True,
)
