"""The whole model small, beside a figure that shows a part of it larger. It is drawn by `drawing/details`."""

from __future__ import annotations

from ..scene.groups import Item
from ..scene.outlines import polyline
from ..scene.scene import Path
from ..style.styles import Style
from . import families
from .glyph import PLACES, PicturedGlyph


def _picture(style: Style) -> list[Item]:
    window = ((-1.0, -9.0), (19.0, -9.0), (19.0, 9.0), (-1.0, 9.0))
    return [
        Path("edge.raw", polyline(((-19.0, 8.0), (-7.0, 8.0), (-13.0, -6.0)), closed=True)),
        Path("sign", polyline(((-16.2, -7.8), (-9.8, -7.8), (-9.8, -1.4), (-16.2, -1.4)), True)),
        Path("leader", polyline(window, closed=True)),
        Path("edge.raw", polyline(((0.9, 9.0), (9.0, -6.4), (17.1, 9.0)))),
        Path("fold.valley", polyline(((4.2, 2.6), (13.8, 2.6)))),
    ]


GLYPH = PicturedGlyph(
    key="close-up",
    name="Marked part, larger",
    meaning="The whole model is drawn small; the figure shows the part that is marked on it.",
    heading=PLACES,
    order=531,
    family=families.INSET,
    picture=_picture,
)
