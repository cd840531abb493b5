"""Which opening: the layers seen from the side, front on top, and a heavy arrow in between two of them.

It stands beside the place where the paper goes in, clear of all other ink, off the paper if it can. Paper
that goes to the left comes from the right in it, all other from the left.
"""

from __future__ import annotations

from ...paper.signs import Opening
from ..placement.free_places import placed_beside
from ..scene.groups import Item
from ..scene.heads import solid_head
from ..scene.outlines import polyline
from ..scene.scene import Curve, Move, Path
from ..style.styles import Style
from . import families
from .glyph import HANDS, LastGlyph, Setting, centred

#: How far apart layers are, and those between which paper goes in (points).
_APART, _PARTED = 3.45, 8.0
#: How long layers are, where the arrow begins and ends beside them, how far folds bulge (points).
_LONG, _FROM, _TO, _BULGE = 18.0, -9.0, 12.0, 0.7
#: The arrow's head, beside the usual one; how far before its tip its shaft ends (points).
_HEAD, _NECK = 0.75, 4.0
#: More layers than this, above or below, cannot be told at a glance: those farther off are left out.
_MOST = 3


def opening_sign(sign: Opening, style: Style) -> list[Item]:
    """The sign about its middle."""
    first, last = max(0, sign.above - _MOST), min(sign.above + sign.below, sign.above + _MOST)
    height = {
        n: (n - sign.above) * _APART + (_PARTED if n >= sign.above else _APART)
        for n in range(first, last)
    }
    way = -1.0 if sign.way[0] < -1e-6 else 1.0
    out = [Path("sign.staying", polyline(((0.0, y), (way * _LONG, y)))) for y in height.values()]
    for one, other, behind in sign.folds:
        if one in height and other in height:
            x, out_way = (0.0, -way) if behind else (way * _LONG, way)
            y0, y1 = height[one], height[other]
            far = x + out_way * _BULGE * (y1 - y0)
            out.append(Path("sign.staying", (Move((x, y0)), Curve((far, y0), (far, y1), (x, y1)))))
    y = _PARTED / 2
    shaft = ((way * _FROM, y), (way * (_TO - _NECK), y))
    out.append(Path("sign.moving", polyline(shaft)))
    out.append(solid_head((way * _TO, y), (way, 0.0), _HEAD))
    return centred(out)


def _draw(setting: Setting) -> list[list[Item]]:
    found = (
        placed_beside(opening_sign(sign, setting.style), [setting.view(sign.at)], setting.around)
        for sign in setting.signs
        if isinstance(sign, Opening)
    )
    return [items for items in found if items]


GLYPH = LastGlyph(
    key="mark.opening",
    name="Into this opening",
    meaning="Layers seen from the side, front on top: slide it in where the arrow goes.",
    heading=HANDS,
    order=262,
    family=families.OPENING,
    draw=_draw,
    picture=lambda style: opening_sign(
        Opening((0.0, 0.0), (1.0, 0.0), 1, 2, ((0, 1, False), (1, 2, True))), style
    ),
)
