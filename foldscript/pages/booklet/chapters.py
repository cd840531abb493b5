"""A model as a chapter of a booklet.

In: a folded model. Out: a `Chapter`, drawn in the size that suits its pages, and its blocks. A chapter
has no key of its own; the finished model closes it, large and in the middle where that costs no page.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ...drawing.draw import DrawingCache, draw, portrait
from ...drawing.scene.scene import Scene
from ...drawing.style.styles import Style
from ...folding.steps import Model
from ...languages.wording import Translate
from .. import measures
from ..grid import Grid, figure_frame, finished_frame, grid
from ..layout.cells import Figure, closing_row
from ..layout.figure_size import Sized, best_size, scaled
from ..layout.handout import cells_of, model_blocks
from ..layout.pagination import ModelBlocks, page_count
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
    """A model drawn for a booklet; a little smaller than usual where that saves a page.

    Never so in large print, which is there for large figures. `kept` are drawings made before. Raises
    FoldscriptError where a caption or the head does not fit a page.
    """

    def drawn(scale: float) -> Chapter:
        return _drawn(model, style, page, scale, translate, kept)

    usual = drawn(1.0)
    if style.enlarged > 1.0:
        return usual
    g = grid(page)
    typesetter = Typesetter(text_width, g.leading)

    def pages_of(one: Chapter) -> int:
        return page_count(chapter_blocks(one, g, page, typesetter, translate), g, page)

    now = pages_of(usual)

    def cost(pages: int) -> float:
        """One page saved is enough: beyond that the size of the figures counts."""
        return 0.0 if pages < now else 1.0

    def estimate(scale: float) -> float:
        """Signs and letters keep their size, so the drawn figures may turn out higher."""
        less = scaled(g, scale)
        blocks = model_blocks(model, usual.figures, usual.head, less, typesetter, translate)
        return cost(page_count(blocks, less, page))

    def sized(scale: float) -> Sized[Chapter]:
        smaller = drawn(scale)
        return Sized(smaller, cost(pages_of(smaller)))

    scales = measures.SIZES.smaller_in_booklets
    return best_size(Sized(usual, cost(now)), scales, estimate, sized)


def _drawn(
    model: Model,
    style: Style,
    page: PageSize,
    scale: float,
    translate: Translate,
    kept: DrawingCache | None,
) -> Chapter:
    """A model with its figures in a frame so much larger than usual."""
    small = page.times(1 / style.enlarged)
    wide, high = figure_frame(page, style.enlarged)
    frame = (scale * wide, scale * high)
    figures = draw(model, style, frame, kept)
    return Chapter(
        model,
        tuple(cells_of(model, figures, style, frame, translate)),
        trimmed_to_ink(portrait(model, style, finished_frame(small))),
        trimmed_to_ink(portrait(model, style, picture_frame(small))),
    )


def chapter_blocks(
    one: Chapter, g: Grid, page: PageSize, typesetter: Typesetter, translate: Translate
) -> ModelBlocks:
    """Head, rows and notes. Raises FoldscriptError where one is too long for a page."""
    blocks = model_blocks(one.model, one.figures, one.head, g, typesetter, translate)
    cells = list(blocks.rows[-1].cells) if blocks.rows else []
    if len(cells) != 1 or blocks.rows[-1].wide or cells[0][0].label:
        return blocks
    finished = cells[0][0]
    figure = replace(finished, scene=one.picture)
    grand = replace(blocks, rows=(*blocks.rows[:-1], closing_row(figure, g, typesetter)))
    return grand if page_count(grand, g, page) <= page_count(blocks, g, page) else blocks
