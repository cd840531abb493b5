"""Turn over: one loop in an arrow, level where the paper is turned like a page, else upright.

Two signs of one family: they differ in their shapes, and in nothing that is done.
"""

from __future__ import annotations

from ...paper.signs import TurnOver
from ..scene.shapes import Shape
from .glyph import TurnGlyph

_LEVEL = Shape(
    (
        (
            "sign",
            "M -15 5 C -9 5 7 4.6 7 -2.4 C 7 -8.6 -6.4 -8.6 -6.4 -2.4 C -6.4 2.6 0.6 4.6 9.6 5",
        ),
        ("arrow.head", "M 15.4 5.2 L 8.4 2.4 L 9.8 5 L 8.2 7.7 Z"),
    ),
    upright=True,
)
_UPRIGHT = Shape(
    (
        (
            "sign",
            "M 5 -15 C 5 -9 4.6 7 -2.4 7 C -8.6 7 -8.6 -6.4 -2.4 -6.4 C 2.6 -6.4 4.6 0.6 5 9.6",
        ),
        ("arrow.head", "M 5.2 15.4 L 2.4 8.4 L 5 9.8 L 7.7 8.2 Z"),
    ),
    upright=True,
)
#: The upright sign is taller than a sample.
_SAMPLE_SIZE = 0.78

GLYPHS = (
    TurnGlyph(
        key="turn-over",
        name="Turn over, side to side",
        meaning="Between two figures: left and right change places; you look at the other side.",
        order=600,
        when=lambda sign, signs: isinstance(sign, TurnOver) and sign.side_to_side,
        draw=lambda sign, at, style: _LEVEL.at(at),
        size=(32.0, 18.0),
        picture=lambda style: _LEVEL.at((0.0, 0.0)),
    ),
    TurnGlyph(
        key="turn-over.top-to-bottom",
        name="Turn over, top to bottom",
        meaning="Between two figures: top and bottom change places; you look at the other side.",
        order=610,
        when=lambda sign, signs: isinstance(sign, TurnOver) and not sign.side_to_side,
        draw=lambda sign, at, style: _UPRIGHT.at(at),
        size=(18.0, 32.0),
        picture=lambda style: _UPRIGHT.at((0.0, 0.0), size=_SAMPLE_SIZE),
    ),
)
