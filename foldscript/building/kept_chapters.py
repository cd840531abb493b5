"""Chapters of booklets that were drawn before, each by what stands for all that it was drawn from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..captions.choosing import catalogues_of
from ..drawing.scene import scene
from ..drawing.style.styles import Style
from ..pages.layout.row_places import Figure
from ..pages.sizes import PageSize
from ..source.diagnostics import Span
from .cache.file import values_digest
from .cache.ingredients import ingredients
from .cache.rows import RowsFile
from .script import Script


@dataclass(frozen=True)
class DrawnChapter:
    """A chapter without its model: figures in reading order, the picture of its head, one for covers."""

    figures: tuple[Figure, ...]
    head: scene.Scene
    picture: scene.Scene


_KINDS: tuple[type[Any], ...] = (
    DrawnChapter,
    Figure,
    scene.Scene,
    scene.Path,
    scene.Text,
    scene.Move,
    scene.Draw,
    scene.Curve,
    scene.Close,
    Span,
)
#: The file, in the folder of the booklet.
CHAPTERS = RowsFile(".foldscript-chapters", _KINDS, largest=50_000_000, unpacked=500_000_000)


def key_of(script: Script, style: Style, page: PageSize, language: str) -> str:
    """What stands for a script, all that it starts from or is captioned by, and how it is to be drawn."""
    texts = [text for _, text in script.ancestors]
    catalogues = catalogues_of((language,) if language else ())
    options = (style, page, language)
    return values_digest(
        ingredients(options, script.path.parent, (script.source,), texts, catalogues)
    )
