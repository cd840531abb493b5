"""The handout: one model's head, numbered figures, key and notes on as many pages as they need.

In: a folded model and its drawn figures. Out: a Document. Figures read left to right, then down;
a figure is never parted from its number and caption; the key lists the signs used, no others.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from ..drawing.draw import DrawnFigure, finished_figure, portrait
from ..drawing.legend import Entry, legend
from ..drawing.scene import Scene
from ..drawing.styles import Style
from ..folding.steps import Model
from .cells import CellRow, Figure, cell_rows, with_aside
from .document import Document
from .filling import Filling, Part, finished_document, height_of
from .grid import Grid, finished_frame, grid, is_small
from .head import Translate, head
from .key import key_rows, notes, stacked
from .paginate import Cost, Room, paginate
from .sizes import PageSize
from .text import Measure
from .trimming import trimmed_to_ink

#: Most figures on a page of the usual size, and on a small one (A5, half letter).
_MOST, _MOST_SMALL = 9, 6
#: What a key beside the last row costs when it is higher than the row, against one below it.
_OUTSIZE = 0.05


def handout(
    model: Model,
    figures: Sequence[DrawnFigure],
    style: Style,
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """Lay a model out for printing.

    `figures` are best drawn in `grid.figure_frame(page)`; larger ones are reduced to fit. `measure`
    gives the width of a text in points. `translate` gives the page's own words in another language.
    Raises FoldscriptError when a caption does not fit a page.
    """
    finished = finished_figure(model, style, grid(page).frame)
    last = Figure("", translate("The finished model."), finished)
    cells = [*(Figure(f.label, f.caption, f.scene) for f in figures), last]
    picture = trimmed_to_ink(portrait(model, style, finished_frame(page)))
    used = frozenset(key for cell in cells for key in cell.scene.signs)
    return assemble(model, cells, picture, legend(used, style), page, measure, translate)


def assemble(
    model: Model,
    figures: Sequence[Figure],
    picture: Scene | None,
    entries: Sequence[Entry],
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """The handout from figures, the head's picture and the key's entries already drawn."""
    g = grid(page)
    top = head(model, picture, g, measure, translate)
    rows = cell_rows(figures, g, measure)
    plan = _plan(
        rows,
        Room(
            first=g.height - top.height - g.row_gap,
            later=g.height,
            gap=g.row_gap,
            most=max(1, (_MOST_SMALL if is_small(page) else _MOST) // g.columns),
        ),
        lambda columns: key_rows(entries, translate("Signs used"), columns, g, measure),
        notes(model.notes, translate("Notes"), g, measure),
        g,
    )
    pages = Filling(g, page)
    widest = g.row_gap_most
    for number, share in enumerate(plan.shares):
        pages.turn()
        if number == 0:
            pages.put(top, g.row_gap)
        after = (plan.after_first if number == 0 else ()) + (
            plan.after_last if number == len(plan.shares) - 1 else ()
        )
        group = plan.rows[share.start : share.stop]
        widest = min(widest, pages.even_gap(group, after))
        for row in group:
            pages.row(row, widest)
        for part in after:
            pages.put(part.block, part.below)
    return finished_document(model, pages, measure, translate)


@dataclass(frozen=True)
class _Plan:
    """Rows, which of them stand on which page, and what follows them on the first and last page."""

    rows: tuple[CellRow, ...]
    shares: tuple[range, ...]
    after_first: tuple[Part, ...] = ()
    after_last: tuple[Part, ...] = ()


def _plan(
    rows: tuple[CellRow, ...],
    room: Room,
    key: Callable[[int], tuple[Part, ...]],
    tail: tuple[Part, ...],
    g: Grid,
) -> _Plan:
    """The way with the fewest, most evenly filled pages.

    The key stands in the columns that the last row leaves free, else below the last row, or, where
    that saves a page or fills the pages better, below the rows of the first page.
    """
    heights = [row.row for row in rows]
    below = replace(room, tail=_height_with_gap(tail, g))
    plans: list[tuple[Cost, _Plan]] = []
    free = g.columns - len(rows[-1].cells) if rows and not rows[-1].wide else 0
    if free and (blocks := key(free)):
        aside = stacked([part.block for part in blocks], blocks[0].below)
        wider = (*rows[:-1], with_aside(rows[-1], aside))
        shares = paginate([row.row for row in wider], below)
        cost = (shares.cost[0], shares.cost[1] + _OUTSIZE * (wider[-1].height > rows[-1].height))
        plans.append((cost, _Plan(wider, shares.pages, after_last=tail)))
    parts = key(g.columns)
    end = paginate(heights, replace(room, tail=_height_with_gap((*parts, *tail), g)))
    plans.append((end.cost, _Plan(rows, end.pages, after_last=(*parts, *tail))))
    if parts and rows:
        first = replace(below, first=room.first - _height_with_gap(parts, g))
        early = paginate(heights, first)
        if early.pages[0]:
            plans.append((early.cost, _Plan(rows, early.pages, after_first=parts, after_last=tail)))
    return min(plans, key=lambda plan: plan[0])[1]


def _height_with_gap(parts: Sequence[Part], g: Grid) -> float:
    return height_of(parts) + g.row_gap if parts else 0.0
