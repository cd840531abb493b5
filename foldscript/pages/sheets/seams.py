"""Seams between the pages of a practice sheet: lines to cut or to lay the next page to, register marks.

In: where they run, in points of the page. Out: items.
"""

from __future__ import annotations

from collections.abc import Iterator

from ...drawing.scene.outlines import circle, polyline
from ...drawing.scene.scene import Path, Point
from ...drawing.signs.line_cut import SCISSORS
from ...geometry.lines import unit
from .. import measures
from ..document import Placed
from .true_size import placed


def seam(start: Point, end: Point, cut: bool) -> Iterator[Placed]:
    """A line to be cut, with scissors where it begins, or one to lay the next page to."""
    far = measures.PRACTICE.scissors
    yield placed(Path("page.rule" if cut else "line.guide", polyline((start, end))))
    if cut:
        ux, uy = unit((end[0] - start[0], end[1] - start[1]))
        at = (start[0] + far * ux, start[1] + far * uy)
        yield from (placed(path) for path in SCISSORS.at(at, (ux, uy)))


def register_mark(x: float, y: float) -> Iterator[Placed]:
    """A register mark: the same spot of the sheet on both pages."""
    m = measures.PRACTICE
    yield placed(Path("page.rule", circle((x, y), m.mark_ring)))
    yield placed(Path("page.rule", polyline(((x - m.mark_cross, y), (x + m.mark_cross, y)))))
    yield placed(Path("page.rule", polyline(((x, y - m.mark_cross), (x, y + m.mark_cross)))))
