"""A short fat arrow aimed at the spot; the tip is at the origin."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.push",
    name="Push here",
    meaning="Push the paper in at the tip of the arrow.",
    fingers="Push with a finger at {where}.",
    aimed=True,
    shape=Shape(
        (
            (
                "sign.open",
                "M -1.5 0 L -8 -5 L -8 -2.2 C -10.5 -2.2 -12.5 -2.5 -14.5 -3.2 L -14.5 3.2 "
                "C -12.5 2.5 -10.5 2.2 -8 2.2 L -8 5 Z",
            ),
        ),
    ),
)
