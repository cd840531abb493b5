"""A right angle: a small square in the corner."""

from __future__ import annotations

from ...paper.signs import RightAngle
from ..scene.groups import Item
from ..scene.outlines import polyline, toward
from ..scene.scene import Path
from ..scene.strokes import along
from ..style.styles import Style
from .glyph import MarkGlyph, Setting

_SIDE = 5.2


def _draw(setting: Setting) -> list[list[Path]]:
    out = [[_square(s, setting)] for s in setting.signs if isinstance(s, RightAngle)]
    setting.around.arrows.extend(p for paths in out for p in along(paths))
    return out


def _square(sign: RightAngle, setting: Setting) -> Path:
    view, k = setting.view, _SIDE
    x, y = apex = view(sign.apex)
    ux, uy = toward(apex, view(sign.first))
    vx, vy = toward(apex, view(sign.last))
    ends = (x + k * ux, y + k * uy), (x + k * vx, y + k * vy)
    inner = (x + k * (ux + vx), y + k * (uy + vy))
    return Path("mark.angle", polyline((ends[0], inner, ends[1])))


def _picture(style: Style) -> list[Item]:
    return [
        Path("edge.raw", polyline(((-8.0, -9.0), (-8.0, 8.0), (10.0, 8.0)))),
        Path("mark.angle", polyline(((-8.0, 2.8), (-2.8, 2.8), (-2.8, 8.0)))),
    ]


GLYPH = MarkGlyph(
    key="mark.right-angle",
    name="Right angle",
    meaning="An angle of 90 degrees.",
    order=520,
    draw=_draw,
    picture=_picture,
)
