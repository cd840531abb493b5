"""A model as a chapter of a booklet.

In: a folded model and its drawn figures. Out: a `Chapter`, and its blocks. A chapter has no key of
its own; the finished model closes it, large and in the middle where that costs no page.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...drawing.draw import DrawnFigure, portrait
from ...drawing.scene.scene import Scene
from ...drawing.style.styles import Style
from ...folding.steps import Model
from ..cells import Figure, closing_row
from ..grid import Grid, figure_frame, finished_frame, grid
from ..handout import cells_of, lay_out_model
from ..head import Translate
from ..placing import Laid, page_count
from ..sizes import PageSize
from ..text import Measure
from ..trimming import trimmed_to_ink
from .cover import picture_frame

#: How far figures may be drawn smaller than their frame where that saves a page.
_SMALLER = (0.94, 0.88, 0.82, 0.77)


@dataclass(frozen=True)
class Chapter:
    """One model: figures in reading order, the picture of its head, one for covers and contents."""

    model: Model
    figures: tuple[Figure, ...]
    head: Scene
    picture: Scene


def chapter(
    model: Model,
    figures: Sequence[DrawnFigure],
    style: Style,
    page: PageSize,
    part: float = 1.0,
    translate: Translate = lambda text: text,
) -> Chapter:
    """A model ready for a booklet.

    `figures` are drawn in that part of `grid.figure_frame(page, style.enlarged)`.
    """
    small = page.times(1 / style.enlarged)
    wide, high = figure_frame(page, style.enlarged)
    return Chapter(
        model,
        tuple(cells_of(model, figures, style, (part * wide, part * high), translate)),
        trimmed_to_ink(portrait(model, style, finished_frame(small))),
        trimmed_to_ink(portrait(model, style, picture_frame(small))),
    )


def lay_out_chapter(
    one: Chapter, g: Grid, page: PageSize, measure: Measure, translate: Translate
) -> Laid:
    """Head, rows and notes. Raises FoldscriptError where one is too long for a page."""
    laid = lay_out_model(one.model, one.figures, one.head, g, measure, translate)
    cells = list(laid.rows[-1].cells) if laid.rows else []
    if len(cells) != 1 or laid.rows[-1].wide or cells[0][0].label:
        return laid
    finished = cells[0][0]
    figure = replace(finished, scene=one.picture)
    grand = replace(laid, rows=(*laid.rows[:-1], closing_row(figure, g, measure)))
    return grand if page_count(grand, g, page) <= page_count(laid, g, page) else laid


def saving_parts(
    one: Chapter,
    style: Style,
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> tuple[float, ...]:
    """Parts of their frame that figures could be drawn in so as to save a page, the largest first.

    None in large print, which is there for large figures. An estimate: signs and letters keep their
    size, so the drawn figures may turn out higher. Raises FoldscriptError where a caption or the
    head does not fit a page.
    """
    if style.enlarged > 1.0:
        return ()
    small = page.times(1 / style.enlarged)
    g = grid(small)
    now = pages_taken(one, style, page, measure, translate)
    saving: list[float] = []
    for part in _SMALLER:
        narrower = replace(g, frame=(part * g.frame[0], part * g.frame[1]))
        laid = lay_out_model(one.model, one.figures, one.head, narrower, measure, translate)
        if page_count(laid, g, small) < now:
            saving.append(part)
    return tuple(saving)


def pages_taken(
    one: Chapter,
    style: Style,
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> int:
    """How many pages a chapter takes."""
    small = page.times(1 / style.enlarged)
    g = grid(small)
    return page_count(lay_out_chapter(one, g, small, measure, translate), g, small)
