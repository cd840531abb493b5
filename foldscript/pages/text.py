"""Breaking text into lines.

In: a text and a function that measures it. Out: lines that fit a width. Nothing here knows a font:
the output stage passes its own measure in, so pages never load one.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable

from ..drawing.scene import Text
from .document import Block, Placed

#: (text, size in points, bold) -> width in points
Measure = Callable[[str, float, bool], float]

#: Lines are broken a little early, for a reader's program may hold a font with other widths.
SLACK = 1.025
#: Distance between baselines, as a multiple of the type size.
LEADING = 1.25
#: Height of capitals and depth of descenders, as multiples of the type size.
ASCENT = 0.75
DESCENT = 0.25

#: Lines of a note that hold together.
_HELD = 8

#: Breaking spaces: a no-break space (U+00A0, U+202F) keeps its words together.
_SPACES = re.compile(r"[ \t\f\v\u2002-\u2006\u2008-\u200a\u3000]+")
#: Inside a word, a line may end after these.
_SOFT_ENDS = "-/\u2010\u2013\u2014\u200b"


def wrap(text: str, width: float, size: float, measure: Measure, bold: bool = False) -> list[str]:
    """Lines of `text`, each at most `width` points wide; a line break in the text is kept.

    A word wider than the line is broken after a hyphen or slash where it has one, else between two
    characters, never before a combining mark. One character wider than the line stands alone.
    """
    fits = _fitter(width, size, measure, bold)
    lines: list[str] = []
    for paragraph in unicodedata.normalize("NFC", text).splitlines():
        line = ""
        for word in _SPACES.split(paragraph.strip()):
            for glue, piece in _pieces(word, fits):
                joined = line + glue + piece if line else piece
                if fits(joined):
                    line = joined
                else:
                    if line:
                        lines.append(line)
                    line = piece
        lines.append(line)
    return lines


def _fitter(width: float, size: float, measure: Measure, bold: bool) -> Callable[[str], bool]:
    limit = width / SLACK
    return lambda text: measure(text, size, bold) <= limit


def _pieces(word: str, fits: Callable[[str], bool]) -> list[tuple[str, str]]:
    """A word as (what joins it to the piece before, piece), whole where it fits on a line."""
    if fits(word):
        return [(" ", word)]
    pieces: list[str] = []
    current = ""
    for cluster in _clusters(word):
        if current and not fits(current + cluster):
            cut = max((current.rfind(end) for end in _SOFT_ENDS), default=-1) + 1 or len(current)
            pieces.append(current[:cut])
            current = current[cut:]
        current += cluster
    pieces.append(current)
    return [("" if i else " ", piece) for i, piece in enumerate(pieces)]


def _clusters(word: str) -> list[str]:
    """Characters, each with the combining marks that follow it."""
    clusters: list[str] = []
    for ch in word:
        if clusters and unicodedata.combining(ch):
            clusters[-1] += ch
        else:
            clusters.append(ch)
    return clusters


def text_block(
    text: str,
    width: float,
    size: float,
    measure: Measure,
    role: str,
    bold: bool = False,
) -> Block:
    """A paragraph set flush left from its own top left corner; height 0 for an empty text."""
    lines = wrap(text, width, size, measure, bold) if text.strip() else []
    items = tuple(
        Placed((0.0, size * (ASCENT + LEADING * i)), Text(role, (0.0, 0.0), line, size, bold=bold))
        for i, line in enumerate(lines)
        if line
    )
    height = size * (ASCENT + DESCENT + LEADING * (len(lines) - 1)) if lines else 0.0
    return Block(width, height, items)


def paragraph(text: str, width: float, size: float, measure: Measure) -> tuple[Block, ...]:
    """A note as blocks of a few lines each, so that a long one may run on to the next page."""
    lines = wrap(text, width, size, measure)
    parts = ["\n".join(lines[i : i + _HELD]) for i in range(0, len(lines), _HELD)]
    return tuple(text_block(part, width, size, measure, "text.note") for part in parts)


def shortened(text: str, width: float, size: float, measure: Measure) -> str:
    """The text in one line, its end left out with '…' where it is too wide."""
    words = " ".join(text.split())
    fits = _fitter(width, size, measure, False)
    if fits(words):
        return words
    while words and not fits(words + "…"):
        words = words[:-1]
    return words.rstrip() + "…"
