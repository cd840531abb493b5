"""Three streams of air that end at the spot."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.blow",
    name="Blow",
    meaning="Blow in here, so that it opens.",
    fingers="Blow at {where}.",
    shape=Shape(
        (
            (
                "sign",
                "M -3 0 L -16 0 M -3.6 -1.8 C -7 -3.6 -11 -4.2 -15 -4.2 M -3.6 1.8 "
                "C -7 3.6 -11 4.2 -15 4.2",
            ),
            ("sign.solid", "M -1 0 L -5 -1.9 L -4.2 0 L -5 1.9 Z"),
        ),
    ),
)
