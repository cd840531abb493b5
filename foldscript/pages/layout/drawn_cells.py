"""The figures of a model's pages, drawn.

In: the row of a model's figures, and a grid. Out: the numbered figures, and the finished model after them,
but where the last figure shows it already.
"""

from __future__ import annotations

from dataclasses import replace

from ...drawing.draw import draw, finished_figure
from ...drawing.kept import DrawingCache
from ...drawing.row import Row
from ...drawing.signs.key import shown
from ...drawing.style.styles import Style
from ...folding.ending import last_words
from ...languages.wording import Translate
from ..grid import Grid
from .row_places import Figure


def drawn_cells(
    row: Row, style: Style, g: Grid, translate: Translate, kept: DrawingCache | None = None
) -> list[Figure]:
    """The figures drawn in a grid's frames, their signs those that a reader finds in them.

    A row without a gutter is drawn as each figure is drawn for itself.
    """
    model, alone = row.model, row.gutter is None
    cells = [
        Figure(f.label, f.caption, f.scene, f.heading, f.turns_before, f.turns_after)
        for f in draw(model, style, g.frame, kept, g.gutter, alone)
    ]
    if not row.ends_finished:
        finished = finished_figure(model, style, g.frame, kept, None if alone else g.gutter)
        cells.append(Figure("", last_words(model).render(translate), finished))
    return [replace(cell, scene=replace(cell.scene, signs=shown(cell.scene))) for cell in cells]


def cell_scales(row: Row, g: Grid) -> tuple[float, ...]:
    """How large each of these figures is drawn, in points a sheet unit."""
    scales = row.scales(g.frame)
    return scales[:-1] if row.ends_finished else scales
