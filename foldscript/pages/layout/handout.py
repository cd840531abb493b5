"""The handout: one model's head, numbered figures, key and notes on as many pages as they need.

In: a folded model and its drawn figures. Out: a Document. Figures read left to right, then down;
a figure is never parted from its number and caption; the key lists the signs used, no others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ...drawing.draw import DrawingCache, DrawnFigure, draw, finished_figure, portrait
from ...drawing.scene.scene import Scene
from ...drawing.signs.key import KeyEntry, legend, shown
from ...drawing.style.styles import Style
from ...folding.ending import LAST_FIGURE, ending
from ...folding.steps import Model
from ...languages.wording import Translate
from ...source.diagnostics import Diagnostic, FoldscriptError
from .. import measures
from ..document import Document, enlarged
from ..grid import Grid, figure_frame, finished_frame, grid
from ..sizes import PageSize
from ..trimming import trimmed_to_ink
from ..typesetting import TextWidth, Typesetter
from .cells import Figure, LongCaption, cell_rows
from .figure_size import Sized, best_size, cost_of, grids_to_try, size_of, stand_ins
from .foot import finished_document
from .head import head, notes_fit
from .key import key_rows, notes
from .makeup import PageMakeup
from .pagination import ModelBlocks, paginate


def handout(
    model: Model,
    figures: Sequence[DrawnFigure],
    style: Style,
    page: PageSize,
    text_width: TextWidth,
    translate: Translate = lambda text: text,
    kept: DrawingCache | None = None,
) -> Document:
    """Lay a model out for printing.

    `figures` are best drawn in `grid.figure_frame(page, style.enlarged)`; larger ones are reduced to
    fit. They are drawn anew, smaller or larger, where that fills the pages better (`figure_size`).
    `text_width` gives the width of a text in points. `translate` gives the page's own words in another
    language. `kept` are drawings of an earlier version. Raises FoldscriptError when a caption does
    not fit a page, with the place of its step in the script.
    """
    frame = figure_frame(page, style.enlarged)
    cells = cells_of(model, figures, style, frame, translate, kept)
    small = page.times(1 / style.enlarged)
    picture = trimmed_to_ink(portrait(model, style, finished_frame(small), kept))
    g = grid(small)
    typesetter = Typesetter(text_width, g.leading)
    large_print = style.enlarged > 1.0

    def fill(cells: Sequence[Figure], g: Grid) -> PageMakeup:
        used = frozenset(key for cell in cells for key in cell.scene.signs)
        entries = legend(used, style, translate, (model.front_colour, model.back_colour))
        return made_up(model, cells, picture, entries, g, small, typesetter, translate)

    def sized(others: Sequence[Figure], g: Grid) -> Sized[PageMakeup] | None:
        scale = size_of(others) / size_of(cells)
        try:
            pages = fill(others, g)
        except LongCaption:
            return None
        return Sized(pages, cost_of(pages, scale, large_print))

    def estimate(other: Grid) -> float | None:
        found = sized(stand_ins(cells, g, other), other)
        return found.cost if found else None

    def drawn(other: Grid) -> Sized[PageMakeup] | None:
        redrawn = draw(model, style, other.frame, kept)
        return sized(cells_of(model, redrawn, style, other.frame, translate, kept), other)

    try:
        pages = fill(cells, g)
    except LongCaption as error:
        raise FoldscriptError(*_in_script(model, figures, error)) from error
    usual = Sized(pages, cost_of(pages, 1.0, large_print))
    sizes = measures.SIZES
    tries = sizes.tries_large_print if large_print else sizes.tries
    best = best_size(usual, grids_to_try(g, pages, large_print), estimate, drawn, tries)
    return enlarged(finished_document(model, best, typesetter, translate), page, style.enlarged)


def _in_script(
    model: Model, figures: Sequence[DrawnFigure], error: LongCaption
) -> Iterator[Diagnostic]:
    """What is wrong, at the place of its step in the script."""
    number = next((figure.step for figure in figures if figure.label == error.label), None)
    span = next((step.span for step in model.steps if step.number == number), None)
    yield from (replace(fault, span=span) for fault in error.diagnostics)


def cells_of(
    model: Model,
    figures: Sequence[DrawnFigure],
    style: Style,
    frame: tuple[float, float],
    translate: Translate,
    kept: DrawingCache | None = None,
) -> list[Figure]:
    """The numbered figures, and the finished model after them, drawn in a frame like theirs.

    The scenes' signs are those that a reader finds in them.
    """
    finished = finished_figure(model, style, frame, kept)
    last = Figure("", translate(LAST_FIGURE[ending(model)]), finished)
    cells = [*(Figure(f.label, f.caption, f.scene, f.heading) for f in figures), last]
    return [replace(cell, scene=replace(cell.scene, signs=shown(cell.scene))) for cell in cells]


def made_up(
    model: Model,
    figures: Sequence[Figure],
    picture: Scene | None,
    entries: Sequence[KeyEntry],
    g: Grid,
    page: PageSize,
    typesetter: Typesetter,
    translate: Translate,
) -> PageMakeup:
    """The pages from figures, the head's picture and the key's entries already drawn."""
    pages = PageMakeup(g, page)
    headings = translate("Signs used"), translate("More signs")
    paginate(
        pages,
        model_blocks(model, figures, picture, g, typesetter, translate),
        lambda columns, close: key_rows(
            entries, headings[0], columns, g, typesetter, close, headings[1]
        ),
    )
    return pages


def model_blocks(
    model: Model,
    figures: Sequence[Figure],
    picture: Scene | None,
    g: Grid,
    typesetter: Typesetter,
    translate: Translate,
) -> ModelBlocks:
    """A model's head, notes and rows, not yet on pages. Raises FoldscriptError where one is too long.

    Notes are read before the first fold, for they tell what paper to take and what to heed: short
    ones stand in the head, long ones below it. Both are set closer where else no figure would stand
    on their page.
    """
    within = model.notes if notes_fit(model.notes, picture, g, typesetter) else ()
    below = () if within else model.notes
    rows = cell_rows(figures, g, typesetter)

    def blocks(close: bool) -> ModelBlocks:
        return ModelBlocks(
            head(model, picture, g, typesetter, translate, within, close),
            notes(below, translate("Notes"), g, typesetter, close),
            rows,
            close,
        )

    usual = blocks(close=False)
    if usual.begins(g):
        return usual
    closer = blocks(close=True)
    return closer if closer.begins(g) else usual
