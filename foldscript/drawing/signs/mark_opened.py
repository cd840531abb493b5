"""How far is unfolded, where more than one fold is opened: the outline of the paper then, in small.

It stands beside the arrow of unfolding, clear of all other ink, off the paper if it can.
"""

from __future__ import annotations

import math

from ...paper.signs import Opened
from ..placement.free_places import box_of, fill, hindered
from ..scene.groups import Item
from ..scene.heads import open_head
from ..scene.outlines import polyline, shifted
from ..scene.scene import Path, Point
from ..style.styles import Style
from . import families
from .glyph import ARROWS, LastGlyph, Setting, centred

#: Longest side of the outline; the arrow before it: how long, how far off, the size of its head (points).
_SIZE, _SHAFT, _OFF, _HEAD = 19.0, 13.0, 3.0, 0.8
#: In how many ways and how far off (points) a place is looked for; what a point farther costs.
_WAYS, _FAR, _FARTHER = 24, (4.0, 9.0, 15.0, 22.0, 30.0, 40.0, 52.0, 66.0), 0.04


def opened_sign(rings: tuple[tuple[Point, ...], ...]) -> list[Item]:
    """The sign about its middle; `rings` in any unit, y up."""
    points = [p for ring in rings for p in ring]
    left, low = (min(p[k] for p in points) for k in (0, 1))
    wide, high = max(p[0] for p in points) - left, max(p[1] for p in points) - low
    scale = _SIZE / max(wide, high)

    def at(p: Point) -> Point:
        return (p[0] - left) * scale, (low + high / 2 - p[1]) * scale

    tip = -_OFF
    return centred(
        [
            Path("arrow", polyline(((tip - _SHAFT, 0.0), (tip - 6.6 * _HEAD, 0.0)))),
            open_head((tip, 0.0), (1.0, 0.0), _HEAD),
            *(Path("sign.open", polyline([at(p) for p in ring], closed=True)) for ring in rings),
        ]
    )


def _draw(setting: Setting) -> list[list[Item]]:
    """Each beside the head of its arrow."""
    signs = [sign for sign in setting.signs if isinstance(sign, Opened)]
    return [items for sign in signs if (items := _placed(sign, setting))]


def _placed(sign: Opened, setting: Setting) -> list[Item]:
    """The sign at its best free place; nothing where there is none."""
    items = opened_sign(sign.rings)
    _, _, x1, y1 = box_of(items)
    tries: list[tuple[float, Point]] = []
    for x, y in map(setting.view, sign.near):
        for far in _FAR:
            for n in range(_WAYS):
                turn = 2 * math.pi * n / _WAYS
                ux, uy = math.cos(turn), math.sin(turn)
                reach = far + min(x1 / max(abs(ux), 1e-6), y1 / max(abs(uy), 1e-6))
                tries.append((_FARTHER * far, (x + reach * ux, y + reach * uy)))
    boxes = [box_of([shifted(item, *at) for item in items]) for _, at in tries]
    against = hindered(boxes, setting.around)
    least, at = min(
        (round(cost + more, 4), at) for (cost, at), more in zip(tries, against, strict=True)
    )
    if least == math.inf:
        return []
    out = [shifted(item, *at) for item in items]
    fill(box_of(out), setting.around)
    return out


def _picture(style: Style) -> list[Item]:
    return opened_sign((((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)),))


GLYPH = LastGlyph(
    key="mark.opened",
    name="Unfold so far",
    meaning="Open fold after fold, until the paper has this outline. Without it one fold is opened.",
    heading=ARROWS,
    order=231,
    family=families.OPENED,
    draw=_draw,
    picture=_picture,
)
