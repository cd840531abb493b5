"""How large a model's figures are drawn, so that its pages are well filled.

In: a model's figures as first drawn, and what stands beside them. Out: the grid whose frame they are
to be drawn in. A little smaller where that saves a page; larger, in fewer columns, where they would
leave most of the last page empty. Large print keeps its size. What a figure would become is judged
from the box about its ink, so that nothing is drawn in vain.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from ..drawing.outlines import polyline
from ..drawing.scene import Path
from .cells import Figure
from .filling import Filling
from .grid import Grid
from .trimming import ink

#: Parts of the usual frame that save a page, the largest first; the last is the least size there is:
#: 38 mm for a figure on A4.
SMALLER = (0.94, 0.88, 0.82)
#: How much larger figures in fewer columns may be, the largest first.
LARGER = (1.6, 1.45, 1.3, 1.2)
#: A last page filled less than this is rather empty.
_SPARSE = 0.55
#: Most pages on which figures are drawn larger.
_FEW = 2

#: Pages of figures on a grid.
Fill = Callable[[Sequence[Figure], Grid], Filling]


def grids_to_try(figures: Sequence[Figure], g: Grid, now: Filling, fill: Fill) -> tuple[Grid, ...]:
    """Grids that promise better filled pages than `now`, of the usual grid `g`; the best first."""
    found = [
        small for part in SMALLER if _saves(figures, small := _scaled(g, part), part, now, fill)
    ]
    if not found and g.columns > 1 and _is_sparse(now):
        for part in LARGER:
            large = _in_fewer_columns(g, part)
            if large is not None and is_better(fill(_resized(figures, part), large), now):
                found.append(large)
    return tuple(found)


def is_better(pages: Filling, now: Filling) -> bool:
    """Whether a way to fill pages takes fewer of them, or leaves less of the last one empty."""
    if len(pages.items) != len(now.items):
        return len(pages.items) < len(now.items)
    return _last_filled(pages) > max(_SPARSE, _last_filled(now))


def _saves(figures: Sequence[Figure], small: Grid, part: float, now: Filling, fill: Fill) -> bool:
    if len(now.items) < 2:
        return False
    return len(fill(_resized(figures, part), small).items) < len(now.items)


def _is_sparse(pages: Filling) -> bool:
    return 2 <= len(pages.items) <= _FEW and _last_filled(pages) < _SPARSE


def _last_filled(pages: Filling) -> float:
    """How much of the last page is filled."""
    return min(1.0, (pages.y - pages.grid.top) / pages.grid.height)


def _scaled(g: Grid, part: float) -> Grid:
    return replace(g, frame=(part * g.frame[0], part * g.frame[1]))


def _in_fewer_columns(g: Grid, part: float) -> Grid | None:
    """A grid with one column less and a frame so much larger; None where its columns are too narrow."""
    columns = g.columns - 1
    column = (g.width - (columns - 1) * g.gutter) / columns
    frame = (part * g.frame[0], part * g.frame[1])
    if frame[0] > column - g.number:
        return None
    return replace(g, columns=columns, column=column, frame=frame)


def _resized(figures: Sequence[Figure], part: float) -> list[Figure]:
    """Stand-ins for figures drawn so much larger: a box where their ink would be."""
    out: list[Figure] = []
    for figure in figures:
        scene = figure.scene
        x0, y0, x1, y1 = (part * v for v in ink(scene))
        box = Path("edge", polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True))
        size = {"width": part * scene.width, "height": part * scene.height}
        out.append(replace(figure, scene=replace(scene, items=(box,), **size)))
    return out
