"""A square code (ISO/IEC 18004) that a telephone reads a link from, and the link in letters below it.

In: a link, and the space for it. Out: a block: dark squares on a light ground with the four squares of white
that the standard asks for about them, whatever the style of the page.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from ...drawing.scene.outlines import polyline
from ...drawing.scene.scene import Path, Segment
from .. import measures
from ..document import Block, Placed
from ..grid import Grid
from ..parts import Part, PartKind
from ..typesetting import Typesetter, text_block


def link_code(link: str, says: str, g: Grid, typesetter: Typesetter) -> Block:
    """The code as wide as its squares ask for, the link beneath it; `says` is what it is read as.

    Its squares are no smaller than `measures.COVER.code_square`.
    """
    import segno  # takes a while; few booklets have a code

    m = measures.COVER
    code = segno.make(link, error="m", micro=False)
    rows = [bytes(row) for row in code.matrix_iter(scale=1, border=m.code_border)]
    square = max(m.code_square, m.code_width / len(rows))
    wide = square * len(rows)
    dark = tuple(segment for y, row in enumerate(rows) for segment in _dark(row, y, square))
    part = Part(PartKind.FIGURE, instead=says)
    ground = polyline(((0.0, 0.0), (wide, 0.0), (wide, wide), (0.0, wide)), closed=True)
    words = text_block(link, g.width - wide, g.small, typesetter, "text.fact")
    down = (wide - words.height) / 2
    return Block(
        g.width,
        wide,
        (
            Placed((0.0, 0.0), Path("page.code.ground", ground), part=part),
            Placed((0.0, 0.0), Path("page.code", dark), part=part),
            *words.at(wide, down),
        ),
    )


def _dark(row: bytes, y: int, square: float) -> Iterator[Segment]:
    """The dark squares of a row, neighbours in one box."""
    x = 0
    for dark, run in groupby(row):
        end = x + len(list(run))
        if dark:
            left, right, top, low = x * square, end * square, y * square, (y + 1) * square
            yield from polyline(((left, top), (right, top), (right, low), (left, low)), closed=True)
        x = end
