"""Two fingertips grip the spot, and an arrow leaves it, wider at its head; its tail is at the origin."""

from __future__ import annotations

from ..scene.shapes import Shape
from .glyph import FixedGlyph
from .grip import GRIP

GLYPH = FixedGlyph(
    key="point.pull",
    name="Pull here",
    meaning="Take the paper and pull gently, the way the arrow points.",
    fingers="Pull gently at {where}.",
    aimed=True,
    leaves=True,
    paper=((-19.0, -10.0), (0.5, -10.0), (0.5, 10.0), (-19.0, 10.0)),
    shape=Shape(
        (
            (
                "sign.open",
                "M 2.8 -1.2 C 6 -1.2 8 -1.6 10 -2.2 L 10 -5 L 17.5 0 L 10 5 L 10 2.2 "
                "C 8 1.6 6 1.2 2.8 1.2 Z",
            ),
            ("sign.solid", GRIP),
        ),
    ),
)
