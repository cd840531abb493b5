"""An eye that looks towards the spot."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.look",
    name="Next view: from here",
    meaning="The next figure is drawn as seen from here.",
    fingers="The next step is told as seen from {where}.",
    shape=Shape(
        (
            (
                "sign.open",
                "M -4 0 C -6 -4.4 -12 -4.8 -15.4 -3 C -13.6 -1.2 -13.6 1.2 -15.4 3 "
                "C -12 4.8 -6 4.4 -4 0 Z",
            ),
            (
                "sign.solid",
                "M -5.8 0 C -6 -1.8 -7 -2.8 -8 -2.9 C -8.6 -1.2 -8.6 1.2 -8 2.9 "
                "C -7 2.8 -6 1.8 -5.8 0 Z",
            ),
        ),
    ),
)
