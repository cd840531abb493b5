"""Booklets of hand-made models, for tests of the pages and of the files made from them."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from foldscript.output.fonts import measure
from foldscript.pages.booklet.booklet import assemble
from foldscript.pages.booklet.chapters import Chapter
from foldscript.pages.booklet.texts import BookletTexts
from foldscript.pages.document import Document
from foldscript.pages.grid import finished_frame, grid
from foldscript.pages.sizes import PageSize

from .fakes import figures, model, scene, signs

WORDS = BookletTexts(
    title="Paper on the Quay",
    subtitle="for the club",
    publisher="Otterhythe Branch Library",
    introduction="Fold on a table.\n\nLook at the next figure.",
    credits="Thanks to all.",
    licence="Copy it.",
)


def chapter(steps: int, size: PageSize, title: str, level: str = "simple") -> Chapter:
    """A model of so many steps."""
    return Chapter(
        replace(model(steps, title=title), level=level),
        tuple(figures(steps, grid(size).frame)),
        scene(*finished_frame(size)),
        scene(0.5 * size.width, 0.3 * size.height),
    )


@cache
def bound(
    size: PageSize,
    steps: tuple[int, ...] = (6, 13, 8),
    keys: int = 14,
    words: BookletTexts = WORDS,
    levels: tuple[str, ...] = (),
) -> Document:
    """A booklet of models with so many steps each, called 'Model 1' and so on."""
    chapters = [
        chapter(count, size, f"Model {i + 1}", levels[i] if levels else "simple")
        for i, count in enumerate(steps)
    ]
    pictures = [one.picture for one in chapters[:3]]
    return assemble(words, chapters, pictures, signs(keys), grid(size), size, measure)
