"""How far is unfolded, where more than one fold is opened: the outline of the paper then, in small.

It stands beside the arrow of unfolding, clear of all other ink, off the paper if it can.
"""

from __future__ import annotations

from ...paper.signs import Opened
from ..placement.free_places import placed_beside
from ..scene.groups import Item
from ..scene.heads import open_head
from ..scene.outlines import polyline
from ..scene.scene import Path, Point
from ..style.styles import Style
from . import families
from .glyph import ARROWS, LastGlyph, Setting, centred

#: Longest side of the outline; the arrow before it: how long, how far off, the size of its head (points).
_SIZE, _SHAFT, _OFF, _HEAD = 19.0, 13.0, 3.0, 0.8


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
    found = (
        placed_beside(opened_sign(s.rings), [*map(setting.view, s.near)], setting.around)
        for s in signs
    )
    return [items for items in found if items]


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
