"""A pin that stands in the paper: its head off the spot, its needle's tip at the origin."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.pin",
    name="Pin here",
    meaning="Push a pin through the paper here.",
    fingers="A pin goes through at {where}.",
    paper=((-0.5, -10.0), (20.0, -10.0), (20.0, 10.0), (-0.5, 10.0)),
    shape=Shape(
        (
            ("sign", "M -11.5 0 L -0.6 0"),
            (
                "sign.solid",
                "M -11.2 0 C -11.2 1.6 -12.5 2.9 -14.1 2.9 C -15.7 2.9 -17 1.6 -17 0 "
                "C -17 -1.6 -15.7 -2.9 -14.1 -2.9 C -12.5 -2.9 -11.2 -1.6 -11.2 0 Z",
            ),
            ("sign", "M -9.6 -2.2 L -9.6 2.2"),
        ),
    ),
)
