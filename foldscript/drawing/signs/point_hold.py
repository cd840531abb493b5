"""A fingertip: a dot within a ring."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.hold",
    name="Hold here",
    meaning="Hold the paper here, with a finger while you fold or with a pin for good.",
    fingers="Hold the paper at {where}.",
    shape=Shape(
        (
            (
                "sign.open",
                "M 4.6 0 C 4.6 2.54 2.54 4.6 0 4.6 C -2.54 4.6 -4.6 2.54 -4.6 0 "
                "C -4.6 -2.54 -2.54 -4.6 0 -4.6 C 2.54 -4.6 4.6 -2.54 4.6 0 Z",
            ),
            (
                "sign.solid",
                "M 2.1 0 C 2.1 1.16 1.16 2.1 0 2.1 C -1.16 2.1 -2.1 1.16 -2.1 0 "
                "C -2.1 -1.16 -1.16 -2.1 0 -2.1 C 1.16 -2.1 2.1 -1.16 2.1 0 Z",
            ),
        ),
        upright=True,
    ),
)
