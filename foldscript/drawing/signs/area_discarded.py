"""Paper that a cut takes away, and that is not needed: hatched, as areas are that go."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from ...paper.signs import Discarded, Sign
from ..scene.groups import Item
from ..scene.outlines import polyline
from ..scene.scene import Path, Point
from ..scene.view import View
from ..style.styles import Style
from . import families
from .glyph import LINES, PicturedGlyph, sheet

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

#: How far lines lie apart, and at least how many cross an area; how far they keep off its outline (points).
_APART, _LEAST, _OFF = 5.0, 3, 1.3


def hatched(signs: Sequence[Sign], view: View) -> list[Path]:
    """All paper of a figure that goes."""
    import shapely

    rings = [ring for sign in signs if isinstance(sign, Discarded) for ring in sign.areas]
    if not rings:
        return []
    outlines = (shapely.Polygon([view(p) for p in ring]) for ring in rings)
    return _lines(shapely.union_all([shapely.buffer(area, 0.05) for area in outlines]))


def _lines(area: BaseGeometry) -> list[Path]:
    """Lines that rise to the right all over an area."""
    import shapely

    each = (shapely.buffer(area, -off, join_style="mitre") for off in (_OFF, 0.3 * _OFF, 0.0))
    inner = next(some for some in each if not shapely.is_empty(some))
    x0, y0, x1, y1 = shapely.bounds(inner).tolist()
    far = (x1 - x0) + (y1 - y0)
    apart = min(_APART * math.sqrt(2.0), far / (_LEAST + 1))
    count = int(far / apart)
    begin = (far - (count - 1) * apart) / 2
    rules = [
        shapely.LineString([(x0 + begin + k * apart, y0), (x0 + begin + k * apart - far, y0 + far)])
        for k in range(count)
    ]
    out: list[Path] = []
    for rule in rules:
        for part in shapely.get_parts(shapely.intersection(rule, inner)):
            ends: list[Point] = [(x, y) for x, y in shapely.get_coordinates(part).tolist()]
            if len(ends) > 1:
                out.append(Path("line.discarded", polyline((ends[0], ends[-1]))))
    return out


def _picture(style: Style) -> list[Item]:
    """A corner that is cut off."""
    import shapely

    corners = ((-18.0, -9.0), (18.0, -9.0), (18.0, 9.0), (-18.0, 9.0))
    off = ((2.0, -9.0), (18.0, -9.0), (18.0, 9.0), (6.0, 9.0))
    return [
        *sheet(corners),
        *_lines(shapely.Polygon(off)),
        Path("line.cut", polyline((off[0], off[-1]))),
    ]


GLYPH = PicturedGlyph(
    key="area.discarded",
    name="Goes",
    meaning="Hatched paper is cut off and not needed; keep the rest.",
    heading=LINES,
    order=111,
    family=families.CREASE,
    picture=_picture,
)
