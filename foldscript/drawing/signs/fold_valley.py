"""A valley fold to be made now: even dashes."""

from __future__ import annotations

from ...paper.signs import FoldLine, Sense
from .glyph import LineGlyph

GLYPH = LineGlyph(
    key="fold.valley",
    name="Valley: fold in front",
    meaning="Even dashes. Fold the paper over in front, so that the crease is a valley.",
    order=50,
    when=lambda sign, signs: (
        isinstance(sign, FoldLine) and sign.sense is Sense.VALLEY and not sign.pinch
    ),
)
