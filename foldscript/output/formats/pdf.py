"""pdf: the printable handout of a model."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawn import Drawn
from ..pdf import document_pdf

SUMMARY = "a printable handout with all steps"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One PDF. Raises FoldscriptError when the system has no cairo library."""
    yield f"{drawn.model.name}.pdf", document_pdf(drawn.lay_out(), drawn.style)
