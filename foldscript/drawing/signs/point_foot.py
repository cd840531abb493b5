"""A model is put down: a dot in a ring at each foot, and beside the figure a table with such dots on it.

The dots are on the paper wherever its feet are now, be it at the top of a model that lies on its back; the
table says where they come to be. Of a flat figure, after which the paper stands, there is the table alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from ...paper.signs import PointSign
from ..placement.free_places import box_of, placed_cheapest
from ..placement.obstacles import Obstacles
from ..scene.groups import Group, Item
from ..scene.outlines import Box, circle, polyline
from ..scene.scene import Close, Draw, Move, Path, Point
from ..scene.shapes import Shape
from ..scene.view import View
from ..style.styles import Style
from . import families
from .glyph import FixedGlyph, Setting, centred

#: The table: half its width, how high its legs and how far they are apart; the dots on it (points).
_HALF, _LEGS, _BETWEEN, _FEET, _DOT = 14.0, 5.0, 10.0, 8.0, 1.7
#: The arrow down to it: where it begins and ends, half the width and the height of its head (points).
_FROM, _TO, _HEAD, _HIGH = -15.0, -2.0, 2.6, 5.5
#: In how many places along the frame, and up from its foot, a free one is looked for; what it costs to stand
#: farther from the middle below by a point.
_COLUMNS, _ROWS, _FARTHER = 15, 15, 0.03


@dataclass(frozen=True, kw_only=True, eq=False)
class _Foot(FixedGlyph):
    """A dot in a ring, where the foot is in sight of the figure; and the table, once for all feet."""

    def draw(self, sign: PointSign, setting: Setting) -> list[Group]:
        """No dot where the figure is flat yet: no place of it is a foot."""
        dot = [] if sign.foot is None else super().draw(sign, setting)
        if sign is not next(s for s in setting.signs if self.stands_for(s, ())):
            return dot
        items = _set_up(setting.around)
        return [*dot, Group(families.TABLE.kind, tuple(items))] if items else dot

    def reach(self, sign: PointSign, view: View, scale: float) -> Box | None:
        """As its ring."""
        return None if sign.foot is None else super().reach(sign, view, scale)

    def sample(self, style: Style) -> list[Item]:
        """The table."""
        return _table()


def _table() -> list[Item]:
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


def _set_up(around: Obstacles) -> list[Item]:
    """The table below the model, or wherever there is room; nothing where there is none."""
    items = _table()
    left, top, right, bottom = around.box
    x0, y0, x1, y1 = box_of(items)
    tries: list[tuple[float, Point]] = []
    for i, j in product(range(_COLUMNS), range(_ROWS)):
        x = left - x0 + (right - x1 - left + x0) * i / (_COLUMNS - 1)
        y = top - y0 + (bottom - y1 - top + y0) * j / (_ROWS - 1)
        tries.append((_FARTHER * (abs(x) + bottom - y1 - y), (x, y)))
    return placed_cheapest(items, tries, around)


GLYPH = _Foot(
    key="point.foot",
    name="Stand it up",
    meaning="Turn the model in your hands and set it on the table, with the dotted places down.",
    order=455,
    family=families.RING,
    shape=Shape(
        (
            (
                "sign.open",
                "M 3.4 0 C 3.4 1.88 1.88 3.4 0 3.4 C -1.88 3.4 -3.4 1.88 -3.4 0 "
                "C -3.4 -1.88 -1.88 -3.4 0 -3.4 C 1.88 -3.4 3.4 -1.88 3.4 0 Z",
            ),
            (
                "sign.solid",
                "M 1.7 0 C 1.7 0.94 0.94 1.7 0 1.7 C -0.94 1.7 -1.7 0.94 -1.7 0 "
                "C -1.7 -0.94 -0.94 -1.7 0 -1.7 C 0.94 -1.7 1.7 -0.94 1.7 0 Z",
            ),
        ),
        upright=True,
    ),
)
