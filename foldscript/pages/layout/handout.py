"""The handout: one model's head, numbered figures, key and notes on as many pages as they need.

In: a folded model and its drawn figures. Out: a Document. Figures read left to right, then down;
a figure is never parted from its number and caption; the key lists the signs used, no others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache, partial

from ...drawing.draw import DrawingCache, DrawnFigure, portrait
from ...drawing.scene.scene import Scene
from ...drawing.signs.key import legend
from ...drawing.style.styles import Style
from ...folding.steps import Model
from ...languages.wording import Translate
from ...source.diagnostics import Diagnostic, FoldscriptError
from ..document import Document, enlarged
from ..grid import Grid, finished_frame, grid
from ..sizes import PageSize
from ..trimming import trimmed_to_ink
from ..typesetting import TextWidth, Typesetter
from .cells import Figure, LongCaption, cell_rows
from .figure_size import Search, cells_of
from .foot import finished_document
from .head import head, notes_fit
from .key import key_parts, notes
from .makeup import PageMakeup, SpacedBlock
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
    g = grid(page, style.enlarged)
    cells = cells_of(model, figures, style, g.frame, translate, kept)
    small = page.times(1 / style.enlarged)
    picture = trimmed_to_ink(portrait(model, style, finished_frame(page, style.enlarged), kept))
    typesetter = Typesetter(text_width, g.leading)
    search = Search(model, style, g, typesetter, translate, kept)

    @cache
    def key(used: frozenset[str], width: float) -> tuple[SpacedBlock, ...]:
        entries = legend(used, style, translate, (model.front_colour, model.back_colour))
        return key_parts(
            entries, translate("Signs used"), width, g, typesetter, translate("More signs")
        )

    def fill(cells: Sequence[Figure], g: Grid) -> PageMakeup:
        used = frozenset(key for cell in cells for key in cell.scene.signs)
        pages = PageMakeup(g, small)
        blocks = model_blocks(model, cells, picture, g, typesetter, translate)
        paginate(pages, blocks, partial(key, used))
        return pages

    try:
        _, pages = search.best(cells, fill)
    except LongCaption as error:
        raise FoldscriptError(*_in_script(model, figures, error)) from error
    return enlarged(finished_document(model, pages, typesetter, translate), page, style.enlarged)


def _in_script(
    model: Model, figures: Sequence[DrawnFigure], error: LongCaption
) -> Iterator[Diagnostic]:
    """What is wrong, at the place of its step in the script."""
    number = next((figure.step for figure in figures if figure.label == error.label), None)
    span = next((step.span for step in model.steps if step.number == number), None)
    yield from (replace(fault, span=span) for fault in error.diagnostics)


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
