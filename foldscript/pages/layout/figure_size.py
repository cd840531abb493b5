"""How large a model's figures are drawn, so that its pages are well filled.

In: the pages with figures of the usual size, and other sizes to try. Out: the pages of the best size. What
a size would come to is estimated first, so that little is drawn in vain; the few that promise most are
drawn. For handouts: a little smaller where that saves a page or fills the pages much better; larger, in
fewer columns, where they would leave much of the pages empty. Large print is never drawn smaller, and
larger wherever that takes few more pages. All amounts: `measures.FigureSizes`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from ...drawing.scene.outlines import polyline
from ...drawing.scene.scene import Path
from .. import measures
from ..grid import Grid
from ..trimming import ink
from .cells import Figure
from .makeup import PageMakeup

Pages = TypeVar("Pages")
Size = TypeVar("Size")


@dataclass(frozen=True, slots=True)
class Sized(Generic[Pages]):
    """Pages whose figures are drawn in some size, and what they cost: the less, the better."""

    pages: Pages
    cost: float


def best_size(
    usual: Sized[Pages],
    sizes: Iterable[Size],
    estimate: Callable[[Size], float | None],
    drawn: Callable[[Size], Sized[Pages] | None],
    tries: int | None = None,
) -> Pages:
    """The pages of the first size that costs less than the usual one once it is drawn.

    Sizes are drawn in the order of what `estimate` says that they cost, equal ones in the order given;
    those that promise nothing, never; at most so many `tries` (None for any number). None from
    `estimate` or `drawn` tells that a size cannot be had.
    """
    hopeful: list[tuple[float, int, Size]] = []
    for number, size in enumerate(sizes):
        cost = estimate(size)
        if cost is not None and cost < usual.cost - measures.ROUNDING:
            hopeful.append((cost, number, size))
    for _, _, size in sorted(hopeful, key=lambda one: one[:2])[:tries]:
        found = drawn(size)
        if found is not None and found.cost < usual.cost:
            return found.pages
    return usual.pages


def size_of(figures: Sequence[Figure]) -> float:
    """The middle size of figures, in points."""
    boxes = [ink(figure.scene) for figure in figures]
    return sum(max(x1 - x0, y1 - y0) for x0, y0, x1, y1 in boxes) / len(boxes)


def cost_of(pages: PageMakeup, scale: float, large_print: bool) -> float:
    """How poor some pages are, in pages: their number, their emptiness, and their figures' size.

    `scale` is how much larger the figures are than usual.
    """
    m = measures.SIZES
    count = len(pages.items)
    if scale < 1.0:
        size = m.shrinking * (1.0 - scale)
    else:
        size = -(m.growing_large_print if large_print else m.growing) * count * (scale - 1.0)
    return count + pages.waste + size


def grids_to_try(g: Grid, now: PageMakeup, large_print: bool) -> Iterator[Grid]:
    """Grids with frames of other sizes than the usual one `g`, which makes the pages `now`."""
    m = measures.SIZES
    if not large_print:
        yield from (scaled(g, scale) for scale in m.smaller)
        if len(now.items) <= m.few_pages and g.columns > 1:
            yield from filter(None, (_in_fewer_columns(g, scale) for scale in m.larger))
        return
    for scale in m.large_print:
        if scale * g.frame[1] <= m.highest * g.height:
            yield _higher(g, scale)


def scaled(g: Grid, scale: float) -> Grid:
    """The grid with a frame so much larger."""
    return replace(g, frame=(scale * g.frame[0], scale * g.frame[1]))


def _higher(g: Grid, scale: float) -> Grid:
    """A grid with higher frames, as wide as the column allows."""
    return replace(g, frame=(min(scale * g.frame[0], g.column - g.number), scale * g.frame[1]))


def _in_fewer_columns(g: Grid, scale: float) -> Grid | None:
    """A grid with one column less and a frame so much larger; None where its columns are too narrow."""
    columns = g.columns - 1
    column = (g.width - (columns - 1) * g.gutter) / columns
    frame = (scale * g.frame[0], scale * g.frame[1])
    if frame[0] > column - g.number:
        return None
    return replace(g, columns=columns, column=column, frame=frame)


def stand_ins(figures: Sequence[Figure], usual: Grid, other: Grid) -> list[Figure]:
    """Stand-ins for figures drawn for another grid: a box where their ink would be."""
    out: list[Figure] = []
    (wide, high), most = other.frame, other.frame[1] / usual.frame[1]
    for figure in figures:
        scene = figure.scene
        x0, y0, x1, y1 = ink(scene)
        scale = min(most, max(wide / scene.width, wide / max(x1 - x0, 1.0)))
        left = max(0.0, min(scale * x0, wide - scale * (x1 - x0)))
        top = max(0.0, min(scale * y0, high - scale * (y1 - y0)))
        right, bottom = min(wide, left + scale * (x1 - x0)), min(high, top + scale * (y1 - y0))
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        box = Path("edge", polyline(corners, closed=True))
        out.append(replace(figure, scene=replace(scene, width=wide, height=high, items=(box,))))
    return out
