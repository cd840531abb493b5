"""Which way a text is read, and how a line of it says so.

In: texts. Out: whether they are read from right to left, as the first letter that has a direction tells
(Unicode Standard Annex 9, rules P2 and P3). No font is known here.
"""

from __future__ import annotations

import unicodedata

#: Marks that have a direction and no look (Unicode Standard Annex 9, 2.6).
_LEFT_TO_RIGHT, _RIGHT_TO_LEFT = "\u200e", "\u200f"


def read_backward(text: str) -> bool:
    """Whether a text is read from right to left."""
    if text.isascii():
        return False
    for ch in text:
        kind = unicodedata.bidirectional(ch)
        if kind in ("L", "R", "AL"):
            return kind != "L"
    return False


def told_direction(line: str, backward: bool) -> str:
    """A line of a text that is read so, with a mark before it where its own first letter says otherwise."""
    if read_backward(line) == backward:
        return line
    return (_RIGHT_TO_LEFT if backward else _LEFT_TO_RIGHT) + line
