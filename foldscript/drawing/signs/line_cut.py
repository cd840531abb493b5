"""A line to be cut: a line stronger than any edge, and scissors where it begins."""

from __future__ import annotations

from ...geometry.lines import Segment, unit
from ...paper.signs import CutLine
from ..scene.groups import Item
from ..scene.outlines import polyline
from ..scene.scene import Path
from ..scene.shapes import Shape
from ..style.styles import Style
from .glyph import LineGlyph

#: Seen from above, their blades open along the line; the pivot is near the origin.
SCISSORS = Shape(
    (
        ("sign", "M 5 -2.2 L -5.2 2 M 5 2.2 L -5.2 -2"),
        (
            "sign.open",
            "M -5.2 2 C -4.4 3.8 -6 5.4 -7.8 4.9 C -9.8 4.2 -9.6 1.6 -7.6 1.2 C -6.6 1 -5.6 1.2 -5.2 2 Z "
            "M -5.2 -2 C -5.6 -1.2 -6.6 -1 -7.6 -1.2 C -9.6 -1.6 -9.8 -4.2 -7.8 -4.9 "
            "C -6 -5.4 -4.4 -3.8 -5.2 -2 Z",
        ),
    )
)

#: How far before the line their pivot lies, and where they are clear of a ring at its start (points).
_BEFORE, _CLEAR = 4.5, 8.6


def scissors(line: Segment, *, clear: bool = False) -> tuple[Path, ...]:
    """Scissors at the start of a line on the page, about to cut; `clear` of a ring round the start."""
    (ax, ay), (bx, by) = line
    ux, uy = unit((bx - ax, by - ay))
    before = _CLEAR if clear else _BEFORE
    return SCISSORS.at((ax - before * ux, ay - before * uy), (ux, uy))


def _picture(style: Style) -> list[Item]:
    return [
        Path("line.cut", polyline(((-10.0, 0.0), (19.0, 0.0)))),
        *SCISSORS.at((-11.5, 0.0)),
    ]


GLYPH = LineGlyph(
    key="line.cut",
    name="Cut along this line",
    meaning="Cut along the heavy line with scissors.",
    order=110,
    when=lambda sign, signs: isinstance(sign, CutLine),
    picture=_picture,
)
