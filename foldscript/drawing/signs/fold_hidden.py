"""The part of a fold line that runs behind layers: dots."""

from __future__ import annotations

from .glyph import LineGlyph

GLYPH = LineGlyph(
    key="fold.hidden",
    name="Hidden fold line",
    meaning="Dots. The fold is made here, behind the layers that you see.",
    order=80,
)
