"""A fat arrow that leaves the spot, wider at its head; its tail is at the origin."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph

GLYPH = FixedGlyph(
    key="point.pull",
    name="Pull here",
    meaning="Pull gently, the way the arrow points.",
    fingers="Pull gently at {where}.",
    aimed=True,
    leaves=True,
    shape=Shape(
        (
            (
                "sign.open",
                "M 2.4 -1.4 C 6 -1.4 8 -1.7 10 -2.2 L 10 -5 L 17 0 L 10 5 L 10 2.2 "
                "C 8 1.7 6 1.4 2.4 1.4 Z",
            ),
        ),
    ),
)
