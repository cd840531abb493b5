"""An angle of so many degrees: a plain arc with its number."""

from __future__ import annotations

import math

from ...languages.wording import Number
from ...paper.signs import Angle
from ..placement.labels import place_value
from ..placement.obstacles import Obstacles
from ..scene.groups import Item
from ..scene.outlines import arc, polyline
from ..scene.scene import Path, Point
from ..style.styles import Style
from .glyph import HEIGHT, WIDTH, MarkGlyph, Setting, centred

#: The radius of an arc, of one more about the same place, and the most of its shorter side.
_RADIUS, _STEP, _MOST = 17.0, 5.0, 0.7
#: How far along the arc its number may stand, the best first.
_PARTS = (0.5, 0.35, 0.65)


def _draw(setting: Setting) -> list[list[Item]]:
    out: list[list[Item]] = []
    places: list[Point] = []
    for sign in setting.signs:
        if not isinstance(sign, Angle):
            continue
        apex, first, last = (setting.view(p) for p in (sign.apex, sign.first, sign.last))
        nth = sum(math.dist(apex, p) < 1.0 for p in places)
        places.append(apex)
        value = f"{Number(f'{sign.degrees:g}').render(setting.speech)}°"
        radius = min(_RADIUS + _STEP * nth, _MOST * min(math.dist(apex, p) for p in (first, last)))
        out.append(_arc(apex, first, last, radius, value, setting.around))
    return out


def _arc(
    apex: Point,
    first: Point,
    last: Point,
    radius: float,
    value: str,
    around: Obstacles,
) -> list[Item]:
    """From the one side to the other; the number is to be written beyond its middle."""
    start, end = (math.atan2(p[1] - apex[1], p[0] - apex[0]) for p in (first, last))
    sweep = math.remainder(end - start, 2 * math.pi)
    for k in range(9):
        a = start + sweep * k / 8
        around.arrows.append((apex[0] + radius * math.cos(a), apex[1] + radius * math.sin(a)))
    ways = [(math.cos(start + sweep * t), math.sin(start + sweep * t)) for t in _PARTS]
    places = [((apex[0] + radius * x, apex[1] + radius * y), (x, y)) for x, y in ways]
    around.unwritten.append((places, value))
    return [Path("mark.angle", arc(apex, radius, start, sweep))]


def _picture(style: Style) -> list[Item]:
    """An edge, and a fold line at 30 degrees to it."""
    import shapely

    apex, edge, fold = (-17.0, 8.0), (17.0, 8.0), (13.0, 8.0 - 30 * math.tan(math.radians(30)))
    around = Obstacles(shapely.Polygon(), (-WIDTH, -HEIGHT, WIDTH, HEIGHT))
    around.strokes.append((apex, fold))
    return centred(
        [
            Path("edge.raw", polyline((apex, edge))),
            Path("fold.valley", polyline((apex, fold))),
            *_arc(apex, edge, fold, 15.0, "30°", around),
            *(i for one in around.unwritten for i in place_value(*one, around, style)),
        ]
    )


GLYPH = MarkGlyph(
    key="mark.angle",
    name="Angle in degrees",
    meaning="So many degrees from the one line to the other.",
    order=505,
    draw=_draw,
    picture=_picture,
    needed=True,
)
