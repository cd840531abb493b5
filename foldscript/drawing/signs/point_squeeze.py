"""Two short heads that close on the spot from either side."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.squeeze",
    name="Squeeze",
    meaning="Press from both sides at once.",
    fingers="Squeeze the model together at {where}, so that it opens.",
    shape=Shape(
        (
            ("sign.solid", "M -2 0 L -7.4 -3 L -6.4 0 L -7.4 3 Z M 2 0 L 7.4 3 L 6.4 0 L 7.4 -3 Z"),
            ("sign", "M -6.6 0 L -12 0 M 6.6 0 L 12 0"),
        ),
    ),
)
