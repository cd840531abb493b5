"""The way to the symbol poster: styles → documents → files.

In: names of styles and languages, and a page size. Out: for each a PDF, and its pages as SVG.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ..captions.choosing import asked_of, chosen
from ..drawing.style.styles import Style, load_style, style_names
from ..languages.language import load_language
from ..languages.wording import ENGLISH, Language
from ..output.fonts import measure
from ..output.page_svg import page_svg
from ..output.pdf import document_pdf
from ..output.writing import write_files
from ..pages.sheets.poster import poster
from ..pages.sizes import PageSize, page_size

__all__ = ["Style", "chosen", "make_posters", "page_size", "poster_files", "styles_of"]


def styles_of(names: Sequence[str]) -> tuple[Style, ...]:
    """Styles by name or file; all that come with foldscript when none is named.

    Raises FoldscriptError where one is unknown or wrong.
    """
    return tuple(load_style(name) for name in (names or style_names()))


def poster_files(style: Style, page: PageSize, speech: Language = ENGLISH) -> dict[str, bytes]:
    """File names and bytes of the poster in one style and one language."""
    document = poster(style, page, measure, speech)
    stem = f"signs-{style.name}"
    files = {f"{stem}.pdf": document_pdf(document, style)}
    for one in document.pages:
        files[f"{stem}-page-{one.label}.svg"] = page_svg(one, style, document.title)
    return files


def make_posters(
    styles: Sequence[Style], page: PageSize, out: Path, languages: Sequence[str] = ()
) -> tuple[Path, ...]:
    """Writes the poster in every style into `out/signs/`, in languages named into folders below it.

    Nothing is written before all of it is made. `languages` are as `captions.choosing` gives them.
    """
    places = {"": ENGLISH}
    if languages:
        named = asked_of(languages, tuple)
        places = {f"{tag}/": load_language(name) for tag, name in named.items()}
    files = {
        f"{place}{name}": data
        for place, speech in places.items()
        for style in styles
        for name, data in poster_files(style, page, speech).items()
    }
    return tuple(write_files(out / "signs", files, "signs"))
