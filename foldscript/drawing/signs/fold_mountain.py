"""A mountain fold to be made now: a dash and two dots."""

from __future__ import annotations

from ...paper.signs import FoldLine, Sense
from .glyph import LineGlyph

GLYPH = LineGlyph(
    key="fold.mountain",
    name="Mountain: fold behind",
    meaning="A dash and two dots; other books draw one. Fold the paper away behind, to a ridge.",
    order=60,
    when=lambda sign, signs: (
        isinstance(sign, FoldLine) and sign.sense is Sense.MOUNTAIN and not sign.pinch
    ),
)
