"""step-pdf: each step as a PDF just as large as its figure, to place in other documents."""

from __future__ import annotations

from collections.abc import Iterator

from ...pages.document import Document, Page, Placed
from ...pages.sizes import PageSize
from ..drawn import Drawn
from ..pdf import document_pdf

SUMMARY = "each step as a small PDF, to place in other documents"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One PDF a figure. Raises FoldscriptError when the system has no cairo library."""
    model = drawn.model
    for name, scene in drawn.pictures():
        larger = drawn.style.enlarged
        size = PageSize("figure", scene.width, scene.height).times(larger)
        page = Page(size, "1", (Placed((0.0, 0.0), scene),), scale=larger)
        document = Document(scene.title or model.title, model.credit, model.language, (page,))
        yield f"{name}.pdf", document_pdf(document, drawn.style)
