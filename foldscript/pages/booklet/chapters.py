"""A model as a chapter of a booklet.

In: a folded model. Out: a `Chapter`, drawn in the size that suits its pages, and its blocks. A chapter
has no key of its own; the finished model closes it, large and in the middle where that costs no page.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...drawing.draw import portrait
from ...drawing.kept import DrawingCache
from ...drawing.scene.scene import Scene
from ...drawing.style.styles import Style
from ...folding.steps import Model
from ...languages.wording import Translate
from ..grid import Grid, finished_frame, grid
from ..layout.cells import closing_row
from ..layout.figure_size import Search
from ..layout.handout import Opening, model_blocks
from ..layout.makeup import PageMakeup
from ..layout.pagination import ModelBlocks, page_count, paginate
from ..layout.row_places import Figure
from ..sizes import PageSize
from ..trimming import trimmed_to_ink
from ..typesetting import TextWidth, Typesetter
from .cover import picture_frame


@dataclass(frozen=True)
class Chapter:
    """One model: figures in reading order, the picture of its head, one for covers and contents."""

    model: Model
    figures: tuple[Figure, ...]
    head: Scene
    picture: Scene


def chapter(
    model: Model,
    style: Style,
    page: PageSize,
    text_width: TextWidth,
    translate: Translate = lambda text: text,
    kept: DrawingCache | None = None,
) -> Chapter:
    """A model drawn for a booklet, in the size that suits its pages.

    `kept` are drawings made before. Raises FoldscriptError where a caption or the head does not fit a page.
    """
    g = grid(page, style.enlarged)
    typesetter = Typesetter(text_width, g.leading)
    small = page.times(1 / style.enlarged)
    head = trimmed_to_ink(portrait(model, style, finished_frame(page, style.enlarged)))
    picture = trimmed_to_ink(portrait(model, style, picture_frame(small)))

    opening = Opening(model, head, g, typesetter, translate)

    def fill(cells: Sequence[Figure], g: Grid) -> PageMakeup:
        pages = PageMakeup(g, small)
        one = Chapter(model, tuple(cells), head, picture)
        paginate(pages, chapter_blocks(one, opening, g, small, typesetter))
        return pages

    search = Search(model, style, g, typesetter, translate, kept, opening.least(g))
    best, _ = search.best(fill, fewer_columns=False)
    return Chapter(model, tuple(best), head, picture)


def chapter_blocks(
    one: Chapter, opening: Opening, g: Grid, page: PageSize, typesetter: Typesetter
) -> ModelBlocks:
    """Head, rows and notes. Raises FoldscriptError where one is too long for a page."""
    blocks = model_blocks(opening, one.figures, g, typesetter)
    cells = list(blocks.rows[-1].cells) if blocks.rows else []
    if len(cells) != 1 or blocks.rows[-1].wide or cells[0][0].label:
        return blocks
    finished = cells[0][0]
    figure = replace(finished, scene=one.picture)
    grand = replace(blocks, rows=(*blocks.rows[:-1], closing_row(figure, g, typesetter)))
    return grand if page_count(grand, g, page) <= page_count(blocks, g, page) else blocks
