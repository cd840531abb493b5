"""A small drawing of how a page is cut: sheets tinted, their size in them, leftovers plain.

In: a cutting in millimetres and the space it may take. Out: a block in points.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...classes.cutting import Cutting, Rectangle
from ...classes.plan_rows import length
from ...drawing.scene.outlines import polyline
from ...drawing.scene.scene import Path, Segment, Text
from .. import measures
from ..document import Block, Placed
from ..typesetting import Typesetter
from .true_size import placed


def cut_drawing(cutting: Cutting, width: float, height: float, typesetter: Typesetter) -> Block:
    """The page to scale, in a box of at most this size."""
    paper = cutting.paper
    k = min(width / paper.width, height / paper.height)
    items: list[Placed] = []
    for role, pieces in (("paper.coloured", cutting.sheets), ("paper.plain", cutting.leftovers)):
        for piece in pieces:
            outline = _outline(piece, k)
            items.append(placed(Path(role, outline)))
            items.append(placed(Path("page.rule", outline)))
    items.append(placed(Path("edge.raw", _outline(Rectangle(0, 0, paper.width, paper.height), k))))
    for piece in (*cutting.sheets[:1], *cutting.leftovers):
        items.extend(placed(text) for text in _size(piece, k, typesetter))
    return Block(paper.width * k, paper.height * k, tuple(items))


def _outline(piece: Rectangle, k: float) -> tuple[Segment, ...]:
    left, top = piece.x * k, piece.y * k
    right, low = left + piece.width * k, top + piece.height * k
    return polyline(((left, top), (right, top), (right, low), (left, low)), closed=True)


def _size(piece: Rectangle, k: float, typesetter: Typesetter) -> Iterator[Text]:
    """Width and height of a piece in it: on one line, or on two, where there is room."""
    m = measures.CLASS_PLAN
    size, down = m.cut_label, measures.TYPE.centred
    wide, high = length(piece.width), length(piece.height)
    middle = (piece.x + piece.width / 2) * k
    centre = (piece.y + piece.height / 2) * k
    room, deep = piece.width * k - m.cut_label_air, piece.height * k

    def line(words: str, y: float) -> Text:
        return Text("text.note", (middle, y), words, size, "middle")

    def fits(*lines: str) -> bool:
        return max(typesetter.width(words, size, False) for words in lines) <= room

    if fits(f"{wide} × {high}") and deep >= m.cut_one_line * size:
        yield line(f"{wide} × {high}", centre + down * size)
    elif (
        max(typesetter.width(w, size, False) for w in (f"{wide} ×", high)) <= room
        and deep >= m.cut_two_lines * size
    ):
        yield line(f"{wide} ×", centre - m.cut_first_line * size)
        yield line(high, centre + m.cut_second_line * size)
