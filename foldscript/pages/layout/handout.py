"""The handout: one model's head, numbered figures, key and notes on as many pages as they need.

In: a folded model. Out: a Document. Figures read left to right, then down;
a figure is never parted from its number and caption; the key lists the signs used, no others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache, partial

from ...drawing.draw import portrait
from ...drawing.kept import DrawingCache
from ...drawing.plan import planned
from ...drawing.scene.scene import Scene
from ...drawing.signs.key import legend
from ...drawing.style.styles import Style
from ...folding.steps import Model
from ...languages.wording import Translate
from ...source.diagnostics import Diagnostic, FoldscriptError
from .. import measures
from ..document import Block, Document, enlarged
from ..grid import Grid, finished_frame, grid
from ..sizes import PageSize
from ..trimming import trimmed_to_ink
from ..typesetting import TextWidth, Typesetter
from .cells import CellRow, LongCaption, cell_rows
from .figure_size import Search
from .foot import finished_document
from .head import head, notes_fit
from .key import key_parts, notes
from .makeup import PageMakeup, SpacedBlock
from .pagination import KeyBlocks, ModelBlocks, paginate
from .row_places import Figure


def handout(
    model: Model,
    style: Style,
    page: PageSize,
    text_width: TextWidth,
    translate: Translate = lambda text: text,
    kept: DrawingCache | None = None,
) -> Document:
    """Draw a model and lay it out for printing, its figures in the size that fills the pages best.

    `text_width` gives the width of a text in points. `translate` gives the page's own words in another
    language. `kept` are drawings of an earlier version. Raises FoldscriptError when a caption does
    not fit a page, with the place of its step in the script.
    """
    g = grid(page, style.enlarged)
    small = page.times(1 / style.enlarged)
    picture = None  # what is refused half-way has no end to show
    if model.refused is None:
        picture = trimmed_to_ink(portrait(model, style, finished_frame(page, style.enlarged), kept))
    typesetter = Typesetter(text_width, g.leading)

    @cache
    def key(used: frozenset[str], width: float) -> tuple[SpacedBlock, ...]:
        entries = legend(used, style, translate, (model.front_colour, model.back_colour))
        return key_parts(
            entries, translate("Signs used"), width, g, typesetter, translate("More signs")
        )

    opening = Opening(model, picture, g, typesetter, translate)
    search = Search(model, style, g, typesetter, translate, kept, opening.least(g))

    def fill(cells: Sequence[Figure], g: Grid) -> PageMakeup:
        used = frozenset(key for cell in cells for key in cell.signs)
        key_of = partial(key, used)
        blocks = model_blocks(opening, cells, g, typesetter)
        pages = _made_up(blocks, key_of, g, small)
        well = len(pages.items) == 1 and pages.waste <= measures.COSTS.head_close
        if blocks.close or well or not g.closer_heads:
            return pages
        closer = _made_up(opening.blocks(blocks.rows, close=True), key_of, g, small)
        return min(pages, closer, key=lambda one: len(one.items) + one.waste)

    try:
        _, pages = search.best(fill)
    except LongCaption as error:
        raise FoldscriptError(*_in_script(model, error)) from error
    return enlarged(finished_document(model, pages, typesetter, translate), page, style.enlarged)


def _made_up(blocks: ModelBlocks, key: KeyBlocks, g: Grid, size: PageSize) -> PageMakeup:
    pages = PageMakeup(g, size)
    paginate(pages, blocks, key)
    return pages


def _in_script(model: Model, error: LongCaption) -> Iterator[Diagnostic]:
    """What is wrong, at the place of its step in the script."""
    number = next((one.first for one in planned(model) if one.label == error.label), None)
    span = next((step.span for step in model.steps if step.number == number), None)
    yield from (replace(fault, span=span) for fault in error.diagnostics)


class Opening:
    """What is read before a model's first fold: its head, and notes too long for it.

    Notes tell what paper to take and what to heed: short ones stand in the head, long ones below it. No
    size of figures changes any of it, so it is set once.
    """

    def __init__(
        self,
        model: Model,
        picture: Scene | None,
        g: Grid,
        typesetter: Typesetter,
        translate: Translate,
    ) -> None:
        within = model.notes if notes_fit(model.notes, picture, g, typesetter) else ()
        below = () if within else model.notes

        @cache
        def made(close: bool) -> tuple[Block, tuple[SpacedBlock, ...]]:
            return (
                head(model, picture, g, typesetter, translate, within, close),
                notes(below, translate("Notes"), g, typesetter, close),
            )

        self._made = made

    def blocks(self, rows: tuple[CellRow, ...], close: bool) -> ModelBlocks:
        """The opening with the rows after it; `close` where it is set closer than usual."""
        return ModelBlocks(*self._made(close), rows, close)

    def least(self, g: Grid) -> float:
        """The least height that it takes on the page with the first row; 0 where it may run over a page."""
        least = min(self.blocks((), close).above(g) for close in (False, True))
        return least if least <= g.height else 0.0


def model_blocks(
    opening: Opening, figures: Sequence[Figure], g: Grid, typesetter: Typesetter
) -> ModelBlocks:
    """A model's head, notes and rows, not yet on pages. Raises FoldscriptError where one is too long.

    Head and notes are set closer where else no figure would stand on their page.
    """
    rows = cell_rows(figures, g, typesetter)
    usual = opening.blocks(rows, close=False)
    if usual.begins(g):
        return usual
    closer = opening.blocks(rows, close=True)
    return closer if closer.begins(g) else usual
