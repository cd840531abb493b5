"""Rotate: two arrows that circle the way the paper turns, with the amount between them."""

from __future__ import annotations

import math

from ...paper.signs import Rotate, TurnOver
from ..scene.groups import Item
from ..scene.heads import solid_head
from ..scene.outlines import arc
from ..scene.scene import Path, Point, Text
from ..style.styles import Style
from .glyph import TurnGlyph

_RADIUS = 11.0


def _draw(sign: TurnOver | Rotate, at: Point, style: Style) -> list[Item]:
    assert isinstance(sign, Rotate)
    way = -1.0 if sign.degrees > 0 else 1.0  # positive degrees turn counter-clockwise
    out: list[Item] = []
    sweep = math.radians(118)
    head = math.radians(34)
    for start in (math.radians(-150), math.radians(30)):
        begin = start if way > 0 else math.pi - start
        out.append(Path("sign", arc(at, _RADIUS, begin, way * sweep)))
        tip = begin + way * (sweep + head * 0.72)
        back = begin + way * (sweep - head * 0.35)
        p = (at[0] + _RADIUS * math.cos(tip), at[1] + _RADIUS * math.sin(tip))
        q = (at[0] + _RADIUS * math.cos(back), at[1] + _RADIUS * math.sin(back))
        d = math.dist(p, q)
        out.append(solid_head(p, ((p[0] - q[0]) / d, (p[1] - q[1]) / d), 0.86))
    amount = f"{abs(sign.degrees):.4g}°"
    size = style.small if len(amount) > 3 else style.sign
    out.append(Text("text.sign", (at[0] + 0.6, at[1] + 0.35 * size), amount, size, "middle"))
    return out


GLYPH = TurnGlyph(
    key="rotate",
    name="Rotate by this much",
    meaning="The same side stays in front; turn the model as the arrows run.",
    order=620,
    when=lambda sign, signs: isinstance(sign, Rotate),
    draw=_draw,
    size=(2 * _RADIUS + 8, 2 * _RADIUS + 8),
    picture=lambda style: _draw(Rotate(90.0), (0.0, 0.0), style),
)
