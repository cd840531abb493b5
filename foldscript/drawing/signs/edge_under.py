"""The edge of a layer behind, drawn a little aside. It is drawn with the sheet."""

from __future__ import annotations

from ..scene.groups import Item
from ..scene.outlines import polyline
from ..scene.scene import Path
from ..style.styles import Style
from . import families
from .glyph import PAPER_AND_EDGES, PicturedGlyph


def _picture(style: Style) -> list[Item]:
    """The corner of a flap over the corner of a layer behind it."""
    gap = style.layer_gap
    upper = ((-16.0, 9.0), (0.0, -7.0), (16.0, 9.0))
    lower = ((-16.0, 9.0), (0.0, -7.0 - 1.6 * gap), (16.0, 9.0))
    return [
        Path("paper.coloured", polyline(lower, closed=True)),
        Path("edge.under", polyline(lower)),
        Path("paper.plain", polyline(upper, closed=True)),
        Path("edge.raw", polyline(upper)),
    ]


GLYPH = PicturedGlyph(
    key="edge.under",
    name="Layer behind an edge",
    meaning="Fine line beside an edge: a layer behind, drawn a little aside so that you see it.",
    heading=PAPER_AND_EDGES,
    order=40,
    family=families.EDGE,
    picture=_picture,
)
