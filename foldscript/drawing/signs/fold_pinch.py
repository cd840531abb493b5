"""A pinch: a short fold line, in the dashes of its sense."""

from __future__ import annotations

from ...paper.signs import FoldLine
from ..scene.groups import Item
from ..scene.outlines import polyline
from ..scene.scene import Path
from ..style.styles import Style
from .glyph import LineGlyph


def _picture(style: Style) -> list[Item]:
    """On the edge of the paper."""
    return [
        Path("edge.raw", polyline(((-16.0, 7.0), (16.0, 7.0)))),
        Path("fold.valley", polyline(((0.0, 7.0), (0.0, -4.0)))),
    ]


GLYPH = LineGlyph(
    key="fold.pinch",
    name="Pinch: crease only here",
    meaning="Crease only where the short line is, and unfold.",
    order=70,
    when=lambda sign, signs: isinstance(sign, FoldLine) and sign.pinch,
    picture=_picture,
)
