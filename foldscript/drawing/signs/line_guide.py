"""A line that only locates a fold: fine dots."""

from __future__ import annotations

from ...paper.signs import GuideLine
from .glyph import LineGlyph

GLYPH = LineGlyph(
    key="line.guide",
    name="Line to go by, no fold",
    meaning="Thin long dashes. Nothing is folded here; the line shows where to go.",
    order=100,
    when=lambda sign, signs: isinstance(sign, GuideLine),
)
