"""A crease made earlier: thin, and short of the edges. It is drawn with the sheet."""

from __future__ import annotations

from ..scene.groups import Item
from ..scene.outlines import polyline
from ..scene.scene import Path
from ..style.styles import Style
from . import families
from .glyph import LINES, PicturedGlyph


def _picture(style: Style) -> list[Item]:
    """Between two edges."""
    return [
        Path("crease", polyline(((-19.0, 0.0), (19.0, 0.0)))),
        *(
            Path("edge.raw", polyline(((x, -6.0), (x, 6.0))))
            for x in (-19.0 - style.crease_inset, 19.0 + style.crease_inset)
        ),
    ]


GLYPH = PicturedGlyph(
    key="crease",
    name="Crease made earlier",
    meaning="Thin line that stops short of the edges: folded in an earlier step, flat now.",
    heading=LINES,
    order=90,
    family=families.CREASE,
    picture=_picture,
)
