"""words-html: the model told for fingers, as a web page with headings."""

from __future__ import annotations

from collections.abc import Iterator

from ...narration.narrate import narrate
from ..drawn import Drawn
from ..words import words_html, words_language

SUMMARY = "the same as a web page with headings, for screen readers"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One HTML file."""
    speech = words_language(drawn.model.speech)
    page = words_html(narrate(drawn.model), speech, speech.tag)
    yield f"{drawn.model.name}-words.html", page
