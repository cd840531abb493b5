"""The way to the symbol poster: styles → documents → files.

In: names of styles and a page size. Out: for each style a PDF, and its pages as SVG.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from .drawing.styles import Style, load_style, style_names
from .output.fonts import measure
from .output.page_svg import page_svg
from .output.pdf import document_pdf
from .output.writing import write_files
from .pages.poster import poster
from .pages.sizes import PageSize, page_size

__all__ = ["Style", "make_posters", "page_size", "poster_files", "styles_of"]


def styles_of(names: Sequence[str]) -> tuple[Style, ...]:
    """Styles by name or file; all that come with foldscript when none is named.

    Raises FoldscriptError where one is unknown or wrong.
    """
    return tuple(load_style(name) for name in (names or style_names()))


def poster_files(style: Style, page: PageSize) -> dict[str, bytes]:
    """File names and bytes of the poster in one style."""
    document = poster(style, page, measure)
    stem = f"signs-{style.name}"
    files = {f"{stem}.pdf": document_pdf(document, style)}
    for one in document.pages:
        files[f"{stem}-page-{one.label}.svg"] = page_svg(one, style, document.title)
    return files


def make_posters(styles: Sequence[Style], page: PageSize, out: Path) -> tuple[Path, ...]:
    """Writes the poster in every style into `out/signs/`; nothing before all of it is made."""
    files: dict[str, bytes] = {}
    for style in styles:
        files |= poster_files(style, page)
    return tuple(write_files(out / "signs", files, "signs"))
