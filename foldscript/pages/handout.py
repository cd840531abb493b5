"""The handout: one model's head, numbered figures, key and notes on as many pages as they need.

In: a folded model and its drawn figures. Out: a Document. Figures read left to right, then down;
a figure is never parted from its number and caption; the key lists the signs used, no others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..drawing.draw import DrawnFigure, Kept, draw, finished_figure, portrait
from ..drawing.scene.scene import Scene
from ..drawing.signs.key import KeyEntry, legend, shown
from ..drawing.style.styles import Style
from ..folding.steps import Model
from ..source.diagnostics import Diagnostic, FoldscriptError
from .cells import Figure, LongCaption, cell_rows
from .document import Document, enlarged
from .filling import Filling, finished_document
from .finished import finished_caption
from .fitting import badness, grids_to_try, size_of
from .grid import Grid, figure_frame, finished_frame, grid
from .head import Translate, head, notes_fit
from .key import key_rows, notes
from .placing import Laid, place
from .sizes import PageSize
from .text import Measure
from .trimming import trimmed_to_ink


def handout(
    model: Model,
    figures: Sequence[DrawnFigure],
    style: Style,
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
    kept: Kept | None = None,
) -> Document:
    """Lay a model out for printing.

    `figures` are best drawn in `grid.figure_frame(page, style.enlarged)`; larger ones are reduced to
    fit. They are drawn anew, smaller or larger, where that fills the pages better (`fitting`).
    `measure` gives the width of a text in points. `translate` gives the page's own words in another
    language. `kept` are drawings of an earlier version. Raises FoldscriptError when a caption does
    not fit a page, with the place of its step in the script.
    """
    frame = figure_frame(page, style.enlarged)
    cells = cells_of(model, figures, style, frame, translate, kept)
    small = page.times(1 / style.enlarged)
    picture = trimmed_to_ink(portrait(model, style, finished_frame(small), kept))
    g = grid(small)

    def fill(cells: Sequence[Figure], g: Grid) -> Filling:
        used = frozenset(key for cell in cells for key in cell.scene.signs)
        entries = legend(used, style, translate, (model.front_colour, model.back_colour))
        return _filled(model, cells, picture, entries, g, small, measure, translate)

    def try_to_fill(cells: Sequence[Figure], g: Grid) -> Filling | None:
        try:
            return fill(cells, g)
        except LongCaption:
            return None

    try:
        best = usual = fill(cells, g)
    except LongCaption as error:
        raise FoldscriptError(*_in_script(model, figures, error)) from error
    large = style.enlarged > 1.0
    for other in grids_to_try(cells, g, usual, try_to_fill, large):
        redrawn = draw(model, style, other.frame, kept)
        again = cells_of(model, redrawn, style, other.frame, translate, kept)
        part = size_of(again) / size_of(cells)
        pages = try_to_fill(again, other)
        if pages and badness(pages, part, large) < badness(usual, 1.0, large):
            best = pages
            break
    return enlarged(finished_document(model, best, measure, translate), page, style.enlarged)


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
    kept: Kept | None = None,
) -> list[Figure]:
    """The numbered figures, and the finished model after them, drawn in a frame like theirs.

    The scenes' signs are those that a reader finds in them.
    """
    finished = finished_figure(model, style, frame, kept)
    last = Figure("", finished_caption(model, translate), finished)
    cells = [*(Figure(f.label, f.caption, f.scene) for f in figures), last]
    return [replace(cell, scene=replace(cell.scene, signs=shown(cell.scene))) for cell in cells]


def assemble(
    model: Model,
    figures: Sequence[Figure],
    picture: Scene | None,
    entries: Sequence[KeyEntry],
    page: PageSize,
    measure: Measure,
    translate: Translate = lambda text: text,
) -> Document:
    """The handout from figures, the head's picture and the key's entries already drawn."""
    pages = _filled(model, figures, picture, entries, grid(page), page, measure, translate)
    return finished_document(model, pages, measure, translate)


def _filled(
    model: Model,
    figures: Sequence[Figure],
    picture: Scene | None,
    entries: Sequence[KeyEntry],
    g: Grid,
    page: PageSize,
    measure: Measure,
    translate: Translate,
) -> Filling:
    pages = Filling(g, page)
    place(
        pages,
        lay_out_model(model, figures, picture, g, measure, translate),
        lambda columns, close: key_rows(
            entries, translate("Signs used"), columns, g, measure, close, translate("More signs")
        ),
    )
    return pages


def lay_out_model(
    model: Model,
    figures: Sequence[Figure],
    picture: Scene | None,
    g: Grid,
    measure: Measure,
    translate: Translate,
) -> Laid:
    """A model's head, notes and rows, not yet on pages. Raises FoldscriptError where one is too long.

    Notes are read before the first fold, for they tell what paper to take and what to heed: short
    ones stand in the head, long ones below it. Both are set closer where else no figure would stand
    on their page.
    """
    within = model.notes if notes_fit(model.notes, picture, g, measure) else ()
    below = () if within else model.notes
    rows = cell_rows(figures, g, measure)

    def laid(close: bool) -> Laid:
        return Laid(
            head(model, picture, g, measure, translate, within, close),
            notes(below, translate("Notes"), g, measure, close),
            rows,
            close,
        )

    usual = laid(close=False)
    if usual.begins(g):
        return usual
    closer = laid(close=True)
    return closer if closer.begins(g) else usual
