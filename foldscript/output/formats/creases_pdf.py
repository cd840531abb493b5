"""creases-pdf: the finished model's crease pattern as a page, at true size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ...drawing.sheet.true_sheet import finished_pattern, sign_keys
from ...drawing.signs.key import legend
from ...pages.sheets.crease_page import crease_page
from ..drawn import Drawn
from ..pdf import document_pdf
from ..shaping import measuring

SUMMARY = "the crease pattern at true size, as a page"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One PDF for each kind of sheet. Raises FoldscriptError when the system has no cairo library."""
    style = replace(drawn.style, enlarged=1.0)
    page = drawn.lay_out().pages[0].size
    for model in drawn.alone():
        sheet = finished_pattern(model)
        entries = legend(sign_keys(sheet), style, model.speech)
        document = crease_page(model, sheet, entries, page, measuring(style), model.speech)
        yield f"{model.name}-creases.pdf", document_pdf(document, style)
