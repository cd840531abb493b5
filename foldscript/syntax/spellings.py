"""Every text that the pattern of a terminal stands for: 'in[ \\t]+front(?:[ \\t]+of)?' stands for two.

In: a regular expression made of letters, gaps, choices in brackets and look-aheads. Out: the texts, a gap
as one blank. Patterns that stand for endlessly many texts are not for this.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_PIECES = re.compile(r"\(\?![^()]*\)|\(\?:|\)\??|\||\[ (?:\\t|\t)\]\+|\\.|[^\\()\[\]|?*+.]")


def written(pattern: str) -> tuple[str, ...]:
    """The texts, in the order of the pattern. Raises ValueError for what is no such pattern."""
    pieces = _PIECES.findall(pattern)
    if "".join(pieces) != pattern:
        raise ValueError(f"no row of words: {pattern}")
    return tuple(dict.fromkeys(_choice(iter(pieces))[0]))


def _choice(pieces: Iterator[str]) -> tuple[list[str], str]:
    """The texts up to the bracket that closes, or to the end, and that bracket."""
    done: list[str] = []
    row = [""]
    for piece in pieces:
        if piece == "(?:":
            inner, end = _choice(pieces)
            texts = [*inner, ""] if end == ")?" else inner
            row = [before + text for before in row for text in texts]
        elif piece.startswith(")"):
            return [*done, *row], piece
        elif piece == "|":
            done, row = [*done, *row], [""]
        elif not piece.startswith("(?!"):
            text = " " if piece.startswith("[") else piece.removeprefix("\\")
            row = [before + text for before in row]
    return [*done, *row], ""
