"""page-png: each page of the handout as a picture of dots, for a web page or a quick look."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawn import Drawn
from ..png import page_png

SUMMARY = "each page of the handout as a picture, 100 dots an inch"
DOTS_PER_INCH = 100


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One PNG a page. Raises FoldscriptError when the system has no cairo library."""
    for page in drawn.lay_out().pages:
        yield (
            f"{drawn.model.name}-page-{page.label}.png",
            page_png(page, drawn.style, DOTS_PER_INCH),
        )
