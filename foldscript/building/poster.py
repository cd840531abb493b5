"""The way to the symbol poster: styles → documents → files.

In: names of styles and languages, and a page size. Out: for each a PDF, and its pages as SVG.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from ..captions.choosing import asked_of, chosen
from ..drawing.style.styles import Style, load_style, style_names
from ..languages.language import load_language
from ..languages.wording import ENGLISH, Language
from ..output.page_svg import page_svg
from ..output.pdf import document_pdf
from ..output.shaping import measuring
from ..output.writing import write_files
from ..pages.sheets.poster import poster
from ..pages.sizes import PageSize, page_size


@dataclass(frozen=True)
class PosterOptions:
    """What is wanted; `languages` are as `captions.choosing` gives them."""

    styles: tuple[Style, ...]
    page: PageSize
    languages: tuple[str, ...] = ()


def poster_options(
    styles: Sequence[str], page: str, languages: Iterable[str] = ()
) -> PosterOptions:
    """Options as given on the command line; without a style, all that come with foldscript.

    Raises FoldscriptError where one is unknown or wrong.
    """
    named = tuple(load_style(name) for name in (styles or style_names()))
    return PosterOptions(named, page_size(page), chosen(languages))


def poster_files(style: Style, page: PageSize, speech: Language = ENGLISH) -> dict[str, bytes]:
    """File names and bytes of the poster in one style and one language."""
    document = poster(style, page, measuring(style), speech)
    stem = f"signs-{style.name}"
    files = {f"{stem}.pdf": document_pdf(document, style)}
    for one in document.pages:
        files[f"{stem}-page-{one.label}.svg"] = page_svg(
            one, style, document.title, document.language
        )
    return files


def make_posters(options: PosterOptions, out: Path) -> tuple[Path, ...]:
    """Writes the poster in every style into `out/signs/`, in languages named into folders below it.

    Nothing is written before all of it is made.
    """
    places = {"": ENGLISH}
    if options.languages:
        named = asked_of(options.languages, tuple)
        places = {f"{tag}/": load_language(name) for tag, name in named.items()}
    files = {
        f"{place}{name}": data
        for place, speech in places.items()
        for style in options.styles
        for name, data in poster_files(style, options.page, speech).items()
    }
    return tuple(write_files(out / "signs", files, "signs"))
