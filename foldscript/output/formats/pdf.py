"""pdf: the printable handout of a model."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawn import Drawn
from ..fonts import fonts_of
from ..pdf import document_pdf

SUMMARY = "a printable handout with all steps"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One PDF. Raises FoldscriptError when the system has no cairo library."""
    document = drawn.lay_out()
    for warning in fonts_of(drawn.style).warnings(document.texts()):
        drawn.warn(warning)
    yield f"{drawn.model.name}.pdf", document_pdf(document, drawn.style)
