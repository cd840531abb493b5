"""Scale: a small frame that grows into a larger one, and the factor. It stands where the scale changes."""

from __future__ import annotations

from ..scene.groups import Item
from ..scene.outlines import polyline
from ..scene.scene import Path, Point, Segment, Text
from ..style.styles import Style
from . import families
from .glyph import BETWEEN, PicturedGlyph, centred


def scale_size(factor: float, style: Style) -> tuple[float, float]:
    """Width and height that the sign takes."""
    return 12.0 + 0.575 * style.sign * len(_factor(factor)), max(10.0, 1.25 * style.sign)


def scale_sign(factor: float | None, at: Point, style: Style) -> list[Item]:
    """The sign; `at` is its top right corner. Without a factor it stands for any, as in the key."""
    x, y = at
    words = "×" if factor is None else _factor(factor)
    left = x - 0.56 * style.sign * len(words) - 12.0
    return [
        Path("sign", _square((left, y + 9.0), 4.0)),
        Path("sign", _square((left, y + 9.0), 8.5)),
        Text("text.sign", (left + 10.5, y + 8.2), words, style.sign),
    ]


def _factor(factor: float) -> str:
    return f"×{factor:.3g}"


def _square(corner: Point, side: float) -> tuple[Segment, ...]:
    x, y = corner
    return polyline(((x, y), (x + side, y), (x + side, y - side), (x, y - side)), closed=True)


GLYPH = PicturedGlyph(
    key="scale",
    name="Scale: drawn this many times as large as the first figure",
    meaning="The number tells how many times as large as in the first figure.",
    heading=BETWEEN,
    order=700,
    family=families.SCALE,
    picture=lambda style: centred(scale_sign(None, (0.0, 0.0), style)),
)
