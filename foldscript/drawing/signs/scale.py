"""Scale: a small sheet that grows to a larger one, and the ratio, as on plans: 2:1 is twice as large.

It stands where the scale changes. A ratio is never how often something is done, which a `2×` would be.
"""

from __future__ import annotations

from fractions import Fraction

from ..scene.groups import Item
from ..scene.heads import solid_head
from ..scene.outlines import polyline
from ..scene.scene import Path, Point, Segment, Text
from ..style.styles import Style
from . import families
from .glyph import BETWEEN, PicturedGlyph, centred

#: Sides of the two sheets, and the room between the larger one and the ratio (points).
_SMALL, _LARGE, _GAP = 4.0, 11.0, 2.5
#: Width of a character, as a part of the type size.
_CHARACTER = 0.6
#: Room about the sign (points).
_AIR = 0.5
#: The ratio in the key.
_SAMPLE = 2.0


def scale_size(factor: float, style: Style) -> tuple[float, float]:
    """Width and height that the sign takes."""
    wide = _LARGE + _GAP + _width(ratio(factor), style) + 2 * _AIR
    return wide, max(_LARGE, style.sign) + 2 * _AIR


def scale_sign(factor: float, at: Point, style: Style) -> list[Item]:
    """The sign; `at` is its top right corner."""
    words = ratio(factor)
    left = at[0] - scale_size(factor, style)[0] + _AIR
    low = at[1] + _AIR + _LARGE
    inner, tip = (left + _SMALL, low - _SMALL), (left + _LARGE - 1.4, low - _LARGE + 1.4)
    neck = (tip[0] - 2.2, tip[1] + 2.2)
    return [
        Path("sign", _square((left, low), _LARGE)),
        Path("sign", _square((left, low), _SMALL)),
        Path("arrow.shaft", polyline((inner, neck))),
        solid_head(tip, (0.5**0.5, -(0.5**0.5)), 0.55),
        Text(
            "text.sign",
            (left + _LARGE + _GAP, low - 0.3 * (_LARGE - style.sign) - 0.8),
            words,
            style.sign,
        ),
    ]


def ratio(factor: float) -> str:
    """How much larger than in the first figure: '2:1', '3:2'."""
    parts = Fraction(factor).limit_denominator(20)
    return f"{parts.numerator}:{parts.denominator}"


def _width(words: str, style: Style) -> float:
    return _CHARACTER * style.sign * len(words)


def _square(corner: Point, side: float) -> tuple[Segment, ...]:
    x, y = corner
    return polyline(((x, y), (x + side, y), (x + side, y - side), (x, y - side)), closed=True)


GLYPH = PicturedGlyph(
    key="scale",
    name="From here on larger",
    meaning="From here on the figures are drawn larger than the first one; 2:1 is twice as large.",
    heading=BETWEEN,
    order=700,
    family=families.SCALE,
    picture=lambda style: centred(scale_sign(_SAMPLE, (0.0, 0.0), style)),
)
