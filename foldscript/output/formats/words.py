"""words: the model told for fingers, as plain text."""

from __future__ import annotations

from collections.abc import Iterator

from ...narration.narrate import narrate
from ..drawn import Drawn
from ..words import words_language, words_text

SUMMARY = "the steps told in words alone, for folders who cannot see a drawing"


def files(drawn: Drawn) -> Iterator[tuple[str, bytes]]:
    """One text file."""
    speech = words_language(drawn.model.speech)
    yield f"{drawn.model.name}-words.txt", words_text(narrate(drawn.model), speech)
