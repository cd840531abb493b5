"""slides: one step a screen, for a projector."""

from __future__ import annotations

from collections.abc import Iterator

from ..drawn import Drawn
from ..slides import slides_html, slides_language

SUMMARY = "a web page with one step a screen, for a projector; works without a network"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One HTML file."""
    speech = slides_language(drawn.model.speech)
    shown = drawn.on_screen() if drawn.on_screen is not None else drawn
    page = slides_html([shown], drawn.style, speech, speech.tag)
    yield f"{drawn.model.name}-slides.html", page
