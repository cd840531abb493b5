"""How large a model's figures are drawn, so that its pages are well filled.

In: a model's figures as first drawn, and what stands beside them. Out: the grid whose frame they are
to be drawn in. A little smaller where that saves a page or fills the pages much better; larger, in
fewer columns, where they would leave much of the pages empty. Large print is never drawn smaller, and
larger wherever that takes few more pages. What a figure would become is judged from the box about its
ink, so that little is drawn in vain.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from ..drawing.scene.outlines import polyline
from ..drawing.scene.scene import Path
from .cells import Figure
from .filling import Filling
from .grid import Grid
from .trimming import ink

#: Parts of the usual frame, the largest first; the last is the least size there is: 38 mm for a
#: figure on A4.
SMALLER = (0.94, 0.88, 0.82)
#: How much larger figures in fewer columns may be, the largest first.
LARGER = (1.6, 1.45, 1.3, 1.2)
#: How much larger the frames of large print may be.
LARGE_PRINT = (1.9, 1.75, 1.6, 1.45, 1.3, 1.2, 1.1)
#: What pages have to gain, in pages, for figures to be drawn so much smaller; and what figures gain,
#: for every page, by being drawn larger: at all, and in large print.
_SHRINKING, _GROWING, _GROWING_LARGE = 1.2, 0.05, 0.35
#: Part of a page's height that a figure's frame may take.
_HIGHEST = 0.55
#: Most pages on which figures are drawn larger in fewer columns.
_FEW = 2
#: Most grids that are tried for real, and in large print, where fewer keep what they promise.
_TRIES, _TRIES_LARGE = 2, 4

#: Pages of figures on a grid; None where one of them is too high with its caption.
Fill = Callable[[Sequence[Figure], Grid], Filling | None]


def grids_to_try(
    figures: Sequence[Figure], g: Grid, now: Filling, fill: Fill, large_print: bool
) -> tuple[Grid, ...]:
    """Grids that promise better filled pages than `now`, of the usual grid `g`; the best first."""
    found: list[tuple[float, int, Grid]] = []
    for other in _grids(g, now, large_print):
        resized = _resized(figures, g, other)
        part = size_of(resized) / size_of(figures)
        pages = fill(resized, other)
        if pages is None:
            continue
        promised = badness(pages, part, large_print)
        if promised < badness(now, 1.0, large_print) - 1e-6:
            found.append((promised, len(found), other))
    tries = _TRIES_LARGE if large_print else _TRIES
    return tuple(other for _, _, other in sorted(found, key=lambda one: one[:2])[:tries])


def size_of(figures: Sequence[Figure]) -> float:
    """The middle size of figures, in points."""
    boxes = [ink(figure.scene) for figure in figures]
    return sum(max(x1 - x0, y1 - y0) for x0, y0, x1, y1 in boxes) / len(boxes)


def badness(pages: Filling, part: float, large_print: bool) -> float:
    """How poor some pages are, in pages: their number, their emptiness, and their figures' size.

    `part` is how much larger the figures are than usual.
    """
    count = len(pages.items)
    if part < 1.0:
        size = _SHRINKING * (1.0 - part)
    else:
        size = -(_GROWING_LARGE if large_print else _GROWING) * count * (part - 1.0)
    return count + pages.waste + size


def _grids(g: Grid, now: Filling, large_print: bool) -> Iterator[Grid]:
    if not large_print:
        yield from (_scaled(g, part) for part in SMALLER)
        if len(now.items) <= _FEW and g.columns > 1:
            yield from filter(None, (_in_fewer_columns(g, part) for part in LARGER))
        return
    for part in LARGE_PRINT:
        if part * g.frame[1] <= _HIGHEST * g.height:
            yield _higher(g, part)


def _scaled(g: Grid, part: float) -> Grid:
    return replace(g, frame=(part * g.frame[0], part * g.frame[1]))


def _higher(g: Grid, part: float) -> Grid:
    """A grid with higher frames, as wide as the column allows."""
    return replace(g, frame=(min(part * g.frame[0], g.column - g.number), part * g.frame[1]))


def _in_fewer_columns(g: Grid, part: float) -> Grid | None:
    """A grid with one column less and a frame so much larger; None where its columns are too narrow."""
    columns = g.columns - 1
    column = (g.width - (columns - 1) * g.gutter) / columns
    frame = (part * g.frame[0], part * g.frame[1])
    if frame[0] > column - g.number:
        return None
    return replace(g, columns=columns, column=column, frame=frame)


def _resized(figures: Sequence[Figure], usual: Grid, other: Grid) -> list[Figure]:
    """Stand-ins for figures drawn for another grid: a box where their ink would be."""
    out: list[Figure] = []
    (wide, high), most = other.frame, other.frame[1] / usual.frame[1]
    for figure in figures:
        scene = figure.scene
        x0, y0, x1, y1 = ink(scene)
        part = min(most, max(wide / scene.width, wide / max(x1 - x0, 1.0)))
        left = max(0.0, min(part * x0, wide - part * (x1 - x0)))
        top = max(0.0, min(part * y0, high - part * (y1 - y0)))
        right, bottom = min(wide, left + part * (x1 - x0)), min(high, top + part * (y1 - y0))
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        box = Path("edge", polyline(corners, closed=True))
        out.append(replace(figure, scene=replace(scene, width=wide, height=high, items=(box,))))
    return out
