"""Two arrows that circle anticlockwise, the way the paper between pleats turns."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.twist-anticlockwise",
    name="Twist anticlockwise",
    meaning="Turn the paper amid the pleats as the arrows run, while the pleats close.",
    fingers="Turn the paper at {where} anticlockwise while the pleats close, until all lies flat.",
    shape=Shape(
        (
            (
                "sign",
                "M 7.4 -4.2 C 5.9 -6.7 3.4 -8.3 0.6 -8.5 C -2.2 -8.7 -5 -7.5 -6.7 -5.2 "
                "M -7.4 4.2 C -5.9 6.7 -3.4 8.3 -0.6 8.5 C 2.2 8.7 5 7.5 6.7 5.2",
            ),
            (
                "sign.solid",
                "M -8.2 -7.4 L -4.4 -3.9 L -8.5 -0.6 Z M 8.2 7.4 L 4.4 3.9 L 8.5 0.6 Z",
            ),
        ),
        upright=True,
    ),
)
