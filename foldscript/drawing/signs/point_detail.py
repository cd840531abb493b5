"""A circle round the part that matters, with the handle of a reading glass."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import PLACES, FixedGlyph

GLYPH = FixedGlyph(
    key="point.detail",
    name="Look closely here",
    meaning="The next steps are about the part in the circle.",
    heading=PLACES,
    fingers="The next step is about a small part of the paper, round {where}.",
    roomy=True,
    shape=Shape(
        (
            (
                "sign",
                "M 10 0 C 10 5.52 5.52 10 0 10 C -5.52 10 -10 5.52 -10 0 C -10 -5.52 -5.52 -10 0 -10 "
                "C 5.52 -10 10 -5.52 10 0 Z M 7.1 7.1 L 13 13",
            ),
        ),
        upright=True,
    ),
)
