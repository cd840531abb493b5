"""A puff that widens towards the opening, with three breaths behind it."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.inflate",
    name="Inflate: blow in here",
    meaning="Blow gently into the opening, so that the model fills with air.",
    fingers="Blow into the opening at {where}, gently, until the model fills with air.",
    shape=Shape(
        (
            (
                "sign.open",
                "M -2 0 C -3 -1.6 -4.6 -1.2 -5.2 -2.6 C -6.4 -5.2 -10.2 -5 -11 -2.4 "
                "C -13.6 -2.6 -13.6 2.6 -11 2.4 C -10.2 5 -6.4 5.2 -5.2 2.6 C -4.6 1.2 -3 1.6 -2 0 Z",
            ),
            ("sign", "M -15 -3 L -18 -3.8 M -15.4 0 L -18.6 0 M -15 3 L -18 3.8"),
        ),
    ),
)
