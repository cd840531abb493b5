"""What is said in several languages.

In: pairs of tag and text. Out: the text of a language, or that of the same language of no region.
"""

from __future__ import annotations

from collections.abc import Iterable


def said_in(texts: Iterable[tuple[str, str]], tag: str) -> str:
    """The text in a language, or in the same language of no region; '' where there is none."""
    found = {language.lower(): text for language, text in texts}
    return next((found[t.lower()] for t in tags_of(tag) if t.lower() in found), "")


def tags_of(tag: str) -> tuple[str, ...]:
    """'pt-BR', then 'pt'."""
    parts = tag.split("-")
    return tuple("-".join(parts[:end]) for end in range(len(parts), 0, -1))
