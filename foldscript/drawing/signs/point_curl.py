"""The tip as it rolls up, off the paper: a spiral with a head at its inner end."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.curl",
    name="Curl",
    meaning="Roll the paper round a finger or a pencil.",
    fingers="Curl the paper at {where}: draw it over a finger or a pencil until it stays round.",
    aimed=True,
    shape=Shape(
        (
            (
                "sign",
                "M -2.4 -0.6 C -8 -3.6 -21.4 -6.4 -22.6 3.6 C -23.4 11.2 -11.6 12.6 -11.2 5.8 "
                "C -11 2 -15.4 1.2 -17 4",
            ),
            ("sign.solid", "M -18.2 7.4 L -18.8 1.2 L -16.7 2.6 L -14 2.6 Z"),
        ),
    ),
)
