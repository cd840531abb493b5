"""The edge of the paper, raw or folded. It is drawn with the sheet."""

from __future__ import annotations

from ..scene.outlines import polyline
from ..scene.scene import Path
from . import families
from .glyph import PAPER_AND_EDGES, PicturedGlyph

GLYPH = PicturedGlyph(
    key="edge",
    name="Edge of the paper",
    meaning="Heavy line: the paper ends or is folded here.",
    heading=PAPER_AND_EDGES,
    order=30,
    family=families.EDGE,
    picture=lambda style: [Path("edge.raw", polyline(((-19.0, 0.0), (19.0, 0.0))))],
)
