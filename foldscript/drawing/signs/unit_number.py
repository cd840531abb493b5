"""The number of a unit on its paper, where several are put together: a digit in a disc, the same in any ink.

It is drawn with the sheet (`drawing/sheet/unit_numbers.py`).
"""

from __future__ import annotations

from ..scene.groups import Item
from ..scene.outlines import circle
from ..scene.scene import Path, Point, Text
from ..style.styles import Style
from . import families
from .glyph import PLACES, PicturedGlyph, sheet

#: Radius of the disc, as a part of the size of a letter.
RADIUS = 0.72
#: From the middle of a digit down to its foot, as a part of its size.
_FOOT = 0.35


def disc(number: int, at: Point, style: Style) -> list[Item]:
    """The number in its disc about a point."""
    (x, y), text = at, f"{number}"
    radius = RADIUS * style.label * (1.0 if len(text) < 2 else 1.25)
    size = 0.95 * style.label
    return [
        Path("sign.open", circle(at, radius)),
        Text("text.label", (x, y + _FOOT * size), text, size, "middle", bold=True),
    ]


GLYPH = PicturedGlyph(
    key="unit.number",
    name="Number of a unit",
    meaning="Which of the units this is; each is folded from a sheet of its own.",
    heading=PLACES,
    order=540,
    family=families.UNIT,
    picture=lambda style: [
        *sheet(((-12.0, -8.0), (12.0, -8.0), (12.0, 8.0), (-12.0, 8.0))),
        *disc(2, (0.0, 0.0), style),
    ],
)
