"""A ring round a point that a fold goes by."""

from __future__ import annotations

from ..scene.shapes import Shape
from . import families
from .glyph import PLACES, FixedGlyph

GLYPH = FixedGlyph(
    key="point.landmark",
    name="A point to go by",
    meaning="Look here: these points meet, or the fold runs through them.",
    heading=PLACES,
    family=families.RING,
    shape=Shape(
        (
            (
                "mark.ring",
                "M 2.7 0 C 2.7 1.49 1.49 2.7 0 2.7 C -1.49 2.7 -2.7 1.49 -2.7 0 "
                "C -2.7 -1.49 -1.49 -2.7 0 -2.7 C 1.49 -2.7 2.7 -1.49 2.7 0 Z",
            ),
        ),
        upright=True,
    ),
)
