"""Texts from files and file names, made fit for a terminal: shown, never obeyed.

In: a text that may hold anything, a name of a file too. Out: the same without what would move the cursor,
colour or wipe the screen, or turn the direction of what follows.
"""

from __future__ import annotations

import unicodedata

#: Control and format characters, lone surrogates, line and paragraph separators.
UNSHOWN = ("Cc", "Cf", "Cs", "Zl", "Zp")


def shown(text: str) -> str:
    """A text on one line."""
    return "".join(" " if unicodedata.category(ch) in UNSHOWN else ch for ch in text)


def obeyed_by_none(text: str) -> str:
    """Lines of text, or JSON, without control characters; everything else in it stays as it is."""
    return "".join(
        " " if ch not in "\n\t" and unicodedata.category(ch) == "Cc" else ch for ch in text
    )
