"""A length: a line from bar to bar beside what it measures, with its value on paper of the size given."""

from __future__ import annotations

from ...geometry.lines import between
from ...languages.wording import Number
from ...paper.signs import Measure
from ..placement.labels import place_value
from ..placement.obstacles import Obstacles
from ..scene.groups import Item
from ..scene.outlines import polyline, samples
from ..scene.scene import Path, Point
from ..style.styles import Style
from .glyph import HEIGHT, WIDTH, MarkGlyph, Setting, centred
from .rows import side_of

#: Half of a bar at an end (points).
_BAR = 2.4
#: How far along the line its value may stand, the best first.
_PARTS = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)


def _draw(setting: Setting) -> list[list[Item]]:
    out: list[list[Item]] = []
    for sign in setting.signs:
        if isinstance(sign, Measure):
            value = f"{Number(sign.number).render(setting.speech)} {sign.unit}"
            ends = setting.view(sign.start), setting.view(sign.end)
            out.append(_line(ends, value, setting.around, setting.parting))
    return out


def _line(
    ends: tuple[Point, Point],
    value: str,
    around: Obstacles,
    wide: tuple[Point, ...] = (),
) -> list[Item]:
    """The line and its bars; the value is to be written beside it, or beyond what it measures."""
    (nx, ny), off = side_of([ends], around, wide)

    def beside(p: Point, by: float) -> Point:
        return (p[0] + by * nx, p[1] + by * ny)

    strokes = [(beside(ends[0], off), beside(ends[1], off))]
    around.lay_row(*strokes[0])
    strokes += [(beside(end, off - _BAR), beside(end, off + _BAR)) for end in ends]
    for a, b in strokes:
        around.ruled.extend(samples((a, a, b, b), 12))
    around.arrows.extend(around.ruled)
    outside = [(between(*strokes[0], part), (nx, ny)) for part in _PARTS]
    inside = [(between(*ends, part), (-nx, -ny)) for part in _PARTS]
    around.unwritten.append(((*outside, *inside), value))
    return [Path("mark.length", polyline(stroke)) for stroke in strokes]


def _picture(style: Style) -> list[Item]:
    """A strip along an edge, with its width."""
    import shapely

    corners = ((-12.0, -9.0), (5.0, -9.0), (5.0, 9.0), (-12.0, 9.0))
    around = Obstacles(shapely.Polygon(corners), (-WIDTH, -HEIGHT, WIDTH, HEIGHT))
    return centred(
        [
            Path("edge.raw", polyline(corners)),
            Path("fold.valley", polyline(((-12.0, 0.0), (5.0, 0.0)))),
            *_line(((5.0, 9.0), (5.0, 0.0)), "2 cm", around),
            *(i for one in around.unwritten for i in place_value(*one, around, style)),
        ]
    )


GLYPH = MarkGlyph(
    key="mark.measure",
    name="Length",
    meaning="The length between the bars, on paper of the size given.",
    order=512,
    draw=_draw,
    picture=_picture,
    needed=True,
)
