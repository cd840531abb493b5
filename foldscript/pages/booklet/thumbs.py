"""Thumb marks: at the outer edge of a model's pages, lower for every model, to leaf to one by.

In: which of how many models a page shows, and its grid. Out: solid marks in the outer margin. They stay
within what home printers reach, bleed nowhere, and are as dark as letters, so that copies keep them.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...drawing.scene.outlines import polyline
from ...drawing.scene.scene import Path, Point, Segment
from .. import measures
from ..document import Placed
from ..grid import Grid
from ..parts import DECORATION
from ..sizes import PageSize


def thumb_marks(
    models: range, count: int, left: bool, page: PageSize, g: Grid, unprinted: float
) -> Iterator[Placed]:
    """The marks of these models, counted from 0, of so many, at the left edge of the page or the right.

    `unprinted` is what a printer leaves white, in points of this page; where the margin has no room
    beside it, and where there is one model, there are none.
    """
    m = measures.THUMB
    width = min(m.width, g.left - unprinted - m.air)
    if count < 2 or width < m.narrowest:
        return
    rows = min(count, m.most)
    step = min(g.height / rows, m.step)
    outer = unprinted if left else page.width - unprinted - width
    for model in models:
        at = (outer, g.top + step * (model % rows) + (1 - m.part) * step / 2)
        yield Placed(at, Path("page.thumb", _box(width, m.part * step)), part=DECORATION)


def _box(width: float, height: float) -> tuple[Segment, ...]:
    corners: tuple[Point, ...] = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return polyline(corners, closed=True)
