"""A document as PDF: all pages on one cairo surface, so that each font is embedded once.

In: a laid-out document and a style. Out: bytes, the same for the same input: the creation date is
fixed, and the file's identifier follows from its content. The file is tagged (`reading.py`).
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..drawing.style.styles import Style
from ..pages.document import Document, Page
from .cairo import cairosvg, draw_on
from .fonts import fonts_of
from .page_svg import page_svg
from .reading import Run, runs_of, tag

if TYPE_CHECKING:
    import cairocffi
    import pikepdf

#: Cairo would write the time of day; one moment for every document keeps its bytes the same.
_CREATED = "2000-01-01T00:00:00Z"
_CREATED_PDF = "D:20000101000000Z"  # as ISO 32000-1, 7.9.4 wants it; cairo leaves the 'D:' out


def document_pdf(document: Document, style: Style) -> bytes:
    """The pages as one PDF with outline, page labels, title, author and language.

    Raises FoldscriptError ('missing-cairo') where the cairo library is not installed.
    """
    cairosvg()
    import cairocffi

    out = io.BytesIO()
    size = document.pages[0].size
    surface = cairocffi.PDFSurface(out, size.width, size.height)
    surface.set_metadata(cairocffi.PDF_METADATA_TITLE, document.title)
    surface.set_metadata(cairocffi.PDF_METADATA_AUTHOR, document.author)
    surface.set_metadata(cairocffi.PDF_METADATA_SUBJECT, document.subject)
    surface.set_metadata(cairocffi.PDF_METADATA_CREATOR, "foldscript")
    surface.set_metadata(cairocffi.PDF_METADATA_CREATE_DATE, _CREATED)
    runs = [runs_of(page) for page in document.pages]
    for page, read in zip(document.pages, runs, strict=True):
        surface.set_size(page.size.width, page.size.height)
        surface.set_page_label(page.label)
        draw_on(surface, page_svg(page, style, runs=read), fonts_of(style))
        surface.show_page()
    _outline(surface, document)
    surface.finish()
    return _finished(out.getvalue(), document, runs)


def _outline(surface: cairocffi.PDFSurface, document: Document) -> None:
    import cairocffi

    parents: list[int] = [cairocffi.PDF_OUTLINE_ROOT]
    for mark in document.bookmarks:
        del parents[mark.level + 1 :]
        flags = cairocffi.PDF_OUTLINE_FLAG_OPEN if mark.level == 0 and not mark.shut else 0
        top = mark.top * document.pages[mark.page].scale
        link = f"page={mark.page + 1} pos=[0.0 {top:.2f}]"
        parents.append(surface.add_outline(parents[-1], mark.title, link, flags))


def _finished(pdf: bytes, document: Document, runs: Sequence[Sequence[Run]]) -> bytes:
    """The same pages with what cairo cannot say: language, links, what is read in which order, the title in
    the window bar.

    The file's identifier is made from its content.
    """
    import pikepdf

    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as file:
        file.Root.Lang = pikepdf.String(document.language)
        file.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
        file.docinfo["/CreationDate"] = pikepdf.String(_CREATED_PDF)
        if "/Outlines" in file.Root:  # cairo writes a negative count, which says 'closed'
            file.Root.Outlines.Count = abs(int(file.Root.Outlines.Count))
        for number, page in enumerate(document.pages):
            if page.links:
                _link(file, number, page, document.pages)
        tag(file, document.pages, runs)
        file.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def _link(file: pikepdf.Pdf, number: int, page: Page, pages: tuple[Page, ...]) -> None:
    """Link annotations (ISO 32000-1, 12.5.6.5) without a border; PDF counts heights from below."""
    import pikepdf

    high, k = page.size.height, page.scale
    marks = pikepdf.Array()
    for link in page.links:
        left, top, right, bottom = (round(k * x, 2) for x in link.box)
        aim = pages[link.page]
        marks.append(
            pikepdf.Dictionary(
                Type=pikepdf.Name.Annot,
                Subtype=pikepdf.Name.Link,
                Rect=[left, round(high - bottom, 2), right, round(high - top, 2)],
                Border=[0, 0, 0],
                Dest=[
                    file.pages[link.page].obj,
                    pikepdf.Name.XYZ,
                    0,
                    round(aim.size.height - link.top * aim.scale, 2),
                    None,
                ],
            )
        )
    file.pages[number].obj.Annots = file.make_indirect(marks)
