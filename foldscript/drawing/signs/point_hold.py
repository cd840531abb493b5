"""A fingertip beside the spot: a dot within a ring, and a tick that leads to what is held."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.hold",
    name="Hold here",
    meaning="Hold the paper here with a finger while you fold.",
    fingers="Hold the paper at {where}.",
    shape=Shape(
        (
            (
                "sign.open",
                "M -3.4 0 C -3.4 2.54 -5.46 4.6 -8 4.6 C -10.54 4.6 -12.6 2.54 -12.6 0 "
                "C -12.6 -2.54 -10.54 -4.6 -8 -4.6 C -5.46 -4.6 -3.4 -2.54 -3.4 0 Z",
            ),
            (
                "sign.solid",
                "M -5.9 0 C -5.9 1.16 -6.84 2.1 -8 2.1 C -9.16 2.1 -10.1 1.16 -10.1 0 "
                "C -10.1 -1.16 -9.16 -2.1 -8 -2.1 C -6.84 -2.1 -5.9 -1.16 -5.9 0 Z",
            ),
            ("sign", "M -3.4 0 L -1 0"),
        ),
    ),
    paper=((-0.5, -10.0), (20.0, -10.0), (20.0, 10.0), (-0.5, 10.0)),
)
