"""A fingertip that comes to the spot; its tip is at the origin."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.push",
    name="Push here",
    meaning="Push the paper in with a fingertip here.",
    fingers="Push with a finger at {where}.",
    aimed=True,
    paper=((0.0, -11.0), (20.0, -11.0), (20.0, 11.0), (0.0, 11.0)),
    shape=Shape(
        (
            (
                "sign.open",
                "M -15 -3.9 L -6 -3.9 C -2.9 -3.9 -1 -2.2 -1 0 C -1 2.2 -2.9 3.9 -6 3.9 L -15 3.9",
            ),
            ("mark", "M -7.6 -2 C -4.6 -2.2 -3 -1.3 -3 0 C -3 1.3 -4.6 2.2 -7.6 2"),
        ),
    ),
)
