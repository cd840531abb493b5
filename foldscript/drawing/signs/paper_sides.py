"""The two sides of the paper, told apart by a tint. They are drawn with the sheet."""

from __future__ import annotations

from ...paper.state import State
from . import families
from .glyph import PAPER_AND_EDGES, PicturedGlyph, sheet

_CORNERS = ((-14.0, -6.5), (14.0, -6.5), (14.0, 6.5), (-14.0, 6.5))


def paper_role(front: bool, front_coloured: bool, front_colour: str, back_colour: str) -> str:
    """Role of an area: 'paper.coloured' or 'paper.plain', and the colour's name where one is given."""
    coloured = front == front_coloured
    name = (front_colour if coloured else back_colour).strip().lower()
    base = "paper.coloured" if coloured else "paper.plain"
    return f"{base}.{name}" if name and "." not in name else base


def role_on(state: State, colours: tuple[str, str], facet: int, front: bool) -> str:
    """Role of a side of a facet: in the colours of its own sheet, else in those of the model."""
    sheet = state.sheet.all[state.sheets[facet] if state.sheet.others else 0]
    own = (one or other for one, other in zip(sheet.colours, colours, strict=True))
    return paper_role(front, sheet.front_coloured, *own)


GLYPHS = (
    PicturedGlyph(
        key="paper.coloured",
        name="Coloured side",
        meaning="The tinted side of the sheet faces you here.",
        heading=PAPER_AND_EDGES,
        order=10,
        family=families.PAPER,
        picture=lambda style: sheet(_CORNERS),
    ),
    PicturedGlyph(
        key="paper.plain",
        name="Plain side",
        meaning="The white side of the sheet faces you here.",
        heading=PAPER_AND_EDGES,
        order=20,
        family=families.PAPER,
        picture=lambda style: sheet(_CORNERS, "paper.plain"),
    ),
)
