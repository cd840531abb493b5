"""A model is put down: a table with the dots on it that mark its feet (`point_foot`), and an arrow down.

Of a flat figure, after which the paper stands, there is the table alone.
"""

from __future__ import annotations

import math
from itertools import product

from ...paper.signs import PointSign
from ..placement.free_places import box_of, fill, hindered
from ..scene.groups import Item
from ..scene.outlines import circle, polyline, shifted
from ..scene.scene import Close, Draw, Move, Path, Point
from ..style.styles import Style
from . import families
from .glyph import HANDS, LastGlyph, Setting, centred

#: The table: half its width, how high its legs and how far they are apart; the dots on it (points).
_HALF, _LEGS, _BETWEEN, _FEET, _DOT = 14.0, 5.0, 10.0, 8.0, 1.7
#: The arrow down to it: where it begins and ends, half the width and the height of its head (points).
_FROM, _TO, _HEAD, _HIGH = -15.0, -2.0, 2.6, 5.5
#: In how many places along the frame, and up from its foot, a free one is looked for; what it costs to stand
#: farther from the middle below by a point.
_COLUMNS, _ROWS, _FARTHER = 15, 15, 0.03


def table() -> list[Item]:
    """The table about its middle."""
    shaft = Path("sign", polyline(((0.0, _FROM), (0.0, _TO - _HIGH))))
    head = (Move((-_HEAD, _TO - _HIGH)), Draw((_HEAD, _TO - _HIGH)), Draw((0.0, _TO)), Close())
    return centred(
        [
            shaft,
            Path("sign.solid", head),
            Path("sign", polyline(((-_HALF, 0.0), (_HALF, 0.0)))),
            *(Path("sign", polyline(((x, 0.0), (x, _LEGS)))) for x in (-_BETWEEN, _BETWEEN)),
            *(Path("sign.solid", circle((x, -_DOT - 0.4), _DOT)) for x in (-_FEET, _FEET)),
        ]
    )


def _draw(setting: Setting) -> list[list[Item]]:
    """Once for all feet: below the model, or wherever there is room."""
    if not any(isinstance(sign, PointSign) and sign.kind == "foot" for sign in setting.signs):
        return []
    items, around = table(), setting.around
    left, top, right, bottom = around.box
    x0, y0, x1, y1 = box_of(items)
    tries: list[tuple[float, Point]] = []
    for i, j in product(range(_COLUMNS), range(_ROWS)):
        x = left - x0 + (right - x1 - left + x0) * i / (_COLUMNS - 1)
        y = top - y0 + (bottom - y1 - top + y0) * j / (_ROWS - 1)
        tries.append((_FARTHER * (abs(x) + bottom - y1 - y), (x, y)))
    boxes = [box_of([shifted(item, *at) for item in items]) for _, at in tries]
    against = hindered(boxes, around)
    least, at = min(
        (round(cost + more, 4), at) for (cost, at), more in zip(tries, against, strict=True)
    )
    if least == math.inf:
        return []
    out = [shifted(item, *at) for item in items]
    fill(box_of(out), around)
    return [out]


def _picture(style: Style) -> list[Item]:
    return table()


GLYPH = LastGlyph(
    key="mark.table",
    name="Stand it up",
    meaning="Turn the model in your hands and set it on the table, with the dotted places down.",
    heading=HANDS,
    order=455,
    family=families.TABLE,
    draw=_draw,
    picture=_picture,
)
