"""A part of the figure drawn larger in a circle beside it. It is drawn by `drawing/details`."""

from __future__ import annotations

from ..scene.groups import Item
from ..scene.outlines import circle, polyline
from ..scene.scene import Path
from ..style.styles import Style
from . import families
from .glyph import PLACES, PicturedGlyph


def _picture(style: Style) -> list[Item]:
    return [
        Path("edge.raw", polyline(((-20.0, 10.0), (-6.0, 10.0), (-13.0, 0.0)), closed=True)),
        Path("leader", circle((-13.0, 2.0), 4.0)),
        Path("leader", polyline(((-9.1, 1.2), (1.8, -0.8)))),
        Path("sign", circle((11.5, -1.0), 9.8)),
        Path("edge.raw", polyline(((5.0, 5.4), (11.5, -4.4), (18.0, 5.4)))),
        Path("fold.valley", polyline(((7.8, 1.2), (15.2, 1.2)))),
    ]


GLYPH = PicturedGlyph(
    key="inset",
    name="Part drawn larger",
    meaning="The part in the small circle, drawn larger beside it.",
    heading=PLACES,
    order=530,
    family=families.INSET,
    picture=_picture,
)
