"""Two fingertips on the paper, and the way they turn it: anticlockwise."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.twist-anticlockwise",
    name="Twist anticlockwise",
    meaning="Put two fingertips on the paper and turn it as the arrows run, while the pleats close.",
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
                "M 10 -3.6 C 10 -2.27 8.93 -1.2 7.6 -1.2 C 6.27 -1.2 5.2 -2.27 5.2 -3.6 "
                "C 5.2 -4.93 6.27 -6 7.6 -6 C 8.93 -6 10 -4.93 10 -3.6 Z "
                "M -5.2 3.6 C -5.2 4.93 -6.27 6 -7.6 6 C -8.93 6 -10 4.93 -10 3.6 "
                "C -10 2.27 -8.93 1.2 -7.6 1.2 C -6.27 1.2 -5.2 2.27 -5.2 3.6 Z",
            ),
            (
                "sign.solid",
                "M -8.2 -7.4 L -4.4 -3.9 L -8.5 -0.6 Z M 8.2 7.4 L 4.4 3.9 L 8.5 0.6 Z",
            ),
        ),
        upright=True,
    ),
)
