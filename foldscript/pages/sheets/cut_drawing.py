"""A small drawing of how a page is cut: sheets tinted, their size in them, leftovers plain.

In: a cutting in millimetres and the space it may take. Out: a block in points.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...classes.cutting import Cutting, Rectangle
from ...classes.plan_rows import length
from ...drawing.scene.outlines import polyline
from ...drawing.scene.scene import Path, Text
from ..document import Block, Placed
from ..text import Measure

_SIZE = 7.0
#: Letters keep this much of a piece's width free.
_AIR = 5.0


def cut_drawing(cutting: Cutting, width: float, height: float, measure: Measure) -> Block:
    """The page to scale, in a box of at most this size."""
    paper = cutting.paper
    k = min(width / paper.width, height / paper.height)
    items: list[Placed] = []
    for role, pieces in (("paper.coloured", cutting.sheets), ("paper.plain", cutting.leftovers)):
        for piece in pieces:
            outline = _outline(piece, k)
            items.append(_at(Path(role, outline)))
            items.append(_at(Path("page.rule", outline)))
    items.append(_at(Path("edge.raw", _outline(Rectangle(0, 0, paper.width, paper.height), k))))
    for piece in (*cutting.sheets[:1], *cutting.leftovers):
        items.extend(_at(text) for text in _size(piece, k, measure))
    return Block(paper.width * k, paper.height * k, tuple(items))


def _outline(piece: Rectangle, k: float):
    left, top = piece.x * k, piece.y * k
    right, low = left + piece.width * k, top + piece.height * k
    return polyline(((left, top), (right, top), (right, low), (left, low)), closed=True)


def _size(piece: Rectangle, k: float, measure: Measure) -> Iterator[Text]:
    """Width and height of a piece in it: on one line, or on two, where there is room."""
    wide, high = length(piece.width), length(piece.height)
    middle = (piece.x + piece.width / 2) * k
    centre = (piece.y + piece.height / 2) * k
    room, deep = piece.width * k - _AIR, piece.height * k

    def line(words: str, y: float) -> Text:
        return Text("text.note", (middle, y), words, _SIZE, "middle")

    if measure(f"{wide} × {high}", _SIZE, False) <= room and deep >= 1.3 * _SIZE:
        yield line(f"{wide} × {high}", centre + 0.35 * _SIZE)
    elif max(measure(w, _SIZE, False) for w in (f"{wide} ×", high)) <= room and deep >= 2.4 * _SIZE:
        yield line(f"{wide} ×", centre - 0.2 * _SIZE)
        yield line(high, centre + 0.9 * _SIZE)


def _at(item: Path | Text) -> Placed:
    return Placed((0.0, 0.0), item)
