"""Setting text: lines that fit a width, and blocks of them.

In: a text and a `Typesetter`. Out: lines, or a block of lines at their places. Nothing here knows a font:
the output stage passes in what tells the width of a text, so pages never load one.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from ..drawing.scene.scene import Text
from . import measures
from .directions import read_backward, told_direction
from .document import Block, Placed
from .parts import Part, PartKind

#: (text, size in points, bold) -> width in points
TextWidth = Callable[[str, float, bool], float]

#: What a block of text is, by its role, where that is not a paragraph.
_KINDS = {"text.title": PartKind.TITLE, "text.heading": PartKind.HEADING}
#: Breaking spaces: a no-break space (U+00A0, U+202F) keeps its words together.
_SPACES = re.compile(r"[ \t\f\v\u2002-\u2006\u2008-\u200a\u3000]+")
#: A point's letter, with what closes it; signs between two numbers; the unit of a number.
_LETTER = re.compile(r"[A-Z][.,;:!?)]*")
_TIMES = ("\u00d7", "x")
_UNIT = re.compile(r"(mm|cm|m|in|pt|%)\b")
#: Inside a word, a line may end after these.
_SOFT_ENDS = "-/\u2010\u2013\u2014\u200b"
#: Thai and Lao: a vowel before its consonant, or a short a that a consonant closes, with its tone; and signs
#: that stand behind their consonant or word.
_GOES_ON = re.compile(
    "(?:[\u0e40-\u0e44\u0ec0-\u0ec4]|[\u0e31\u0eb1][\u0e48-\u0e4b\u0ec8-\u0ecb]?)$"
)
_FOLLOWING = "\u0e2f\u0e30\u0e32\u0e33\u0e45\u0e46\u0eaf\u0eb0\u0eb2\u0eb3\u0ec6"


@dataclass(frozen=True, slots=True)
class Typesetter:
    """How text is set on a page: what tells its width, and its leading in type sizes."""

    text_width: TextWidth
    leading: float

    def width(self, text: str, size: float, bold: bool) -> float:
        """Width of a line of text, in points."""
        return self.text_width(text, size, bold)

    @property
    def between(self) -> float:
        """White between two blocks of text that stand like lines of one, in type sizes."""
        return self.leading - measures.TYPE.ascent - measures.TYPE.descent


def wrap(
    text: str, width: float, size: float, typesetter: Typesetter, bold: bool = False
) -> list[str]:
    """Lines of `text`, each at most `width` points wide; a line break in the text is kept.

    A letter of a point holds on to the word before it, a number to its unit and to what it is
    multiplied by; no word or two stand alone on a last line where the lines before can spare others.
    A word wider than the line is broken after a hyphen or slash where it has one, else between two
    characters, never before a mark of one. One character wider than the line stands alone.
    """
    fits = _fitter(width, size, typesetter, bold)
    lines: list[str] = []
    for paragraph in unicodedata.normalize("NFC", text).splitlines():
        words = _bound(_SPACES.split(paragraph.strip()), fits)
        broken = _filled(words, fits)
        alone = broken[-1] == words[-1] and " " not in words[-1]
        if alone and len(broken) > 1 and len(words) > 2:
            last = f"{words[-2]} {words[-1]}"
            other = _filled([*words[:-2], last], fits) if fits(last) else broken
            broken = other if len(other) == len(broken) else broken
        if len(broken) > 1:
            broken = _evened(words, broken, width, size, typesetter, bold)
        lines.extend(broken)
    return lines


def _evened(
    words: Sequence[str],
    broken: list[str],
    width: float,
    size: float,
    typesetter: Typesetter,
    bold: bool,
) -> list[str]:
    """As many lines, narrower, where the last one would else be left with a word or two."""

    def last_part(lines: Sequence[str]) -> float:
        wide = [typesetter.width(line, size, bold) for line in lines]
        return wide[-1] / max(*wide, measures.ROUNDING)

    narrow, best = width, broken
    while last_part(best) < measures.TYPE.last_line and narrow > measures.TYPE.narrowest * width:
        narrow *= measures.TYPE.narrowing
        tried = _filled(words, _fitter(narrow, size, typesetter, bold))
        if len(tried) > len(broken) or any(" " not in line for line in tried[:-1]):
            break
        best = tried
    return best


def _filled(words: Sequence[str], fits: Callable[[str], bool]) -> list[str]:
    """The words in lines, each as full as it may be."""
    lines: list[str] = []
    line = ""
    for word in words:
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


def _bound(words: Sequence[str], fits: Callable[[str], bool]) -> list[str]:
    """The words, those that hold together as one where that fits on a line."""
    bound: list[str] = []
    for word in words:
        before = bound[-1] if bound else ""
        held = before and (_holds_left(before, word) or before.split(" ")[-1] in _TIMES)
        if held and fits(f"{before} {word}"):
            bound[-1] = f"{before} {word}"
        else:
            bound.append(word)
    return bound


def _holds_left(before: str, word: str) -> bool:
    """Whether a word may not start a line after the word before it."""
    if _LETTER.fullmatch(word):
        return before[-1] not in ".!?:"
    return before[-1].isdigit() and (word in _TIMES or _UNIT.match(word) is not None)


def _fitter(width: float, size: float, typesetter: Typesetter, bold: bool) -> Callable[[str], bool]:
    limit = width / measures.TYPE.slack
    return lambda text: typesetter.width(text, size, bold) <= limit


def _pieces(word: str, fits: Callable[[str], bool]) -> list[tuple[str, str]]:
    """A word as (what joins it to the piece before, piece), whole where it fits on a line."""
    if fits(word):
        return [(" ", word)]
    pieces: list[str] = []
    current = ""
    for unit in _units(word):
        for cluster in [unit] if fits(unit) else _clusters(unit):
            if current and not fits(current + cluster):
                soft = max((current.rfind(end) for end in _SOFT_ENDS), default=-1) + 1
                cut = soft or len(current)
                pieces.append(current[:cut])
                current = current[cut:]
            current += cluster
    pieces.append(current)
    return [("" if i else " ", piece) for i, piece in enumerate(pieces)]


def _units(word: str) -> list[str]:
    """Parts of a word between which a line may end (UAX 14), as after nearly each sign of Japanese."""
    if word.isascii():
        return [word]
    from uniseg.linebreak import line_break_units

    return list(line_break_units(word))


def _clusters(word: str) -> list[str]:
    """Characters as readers know them, each with its marks (UAX 29); in Thai and Lao, without spaces between
    words, also with vowels that are written before or behind it, and with what closes a short a.
    """
    if word.isascii():
        return list(word)
    from uniseg.graphemecluster import grapheme_clusters

    clusters: list[str] = []
    for cluster in grapheme_clusters(word):
        if clusters and (_GOES_ON.search(clusters[-1]) or cluster[0] in _FOLLOWING):
            clusters[-1] += cluster
        else:
            clusters.append(cluster)
    return clusters


@lru_cache(maxsize=measures.TYPE.kept)
def text_block(
    text: str,
    width: float,
    size: float,
    typesetter: Typesetter,
    role: str,
    bold: bool = False,
) -> Block:
    """A paragraph set flush left from its own top left corner, flush right where it is read from there;
    height 0 for an empty text.

    The same is asked for again and again while sizes of figures are tried, so it is kept.
    """
    m, leading = measures.TYPE, typesetter.leading
    lines = wrap(text, width, size, typesetter, bold) if text.strip() else []
    backward = read_backward(text)
    left, anchor = (width, "end") if backward else (0.0, "start")
    part = Part(_KINDS.get(role, PartKind.PARAGRAPH))
    items = tuple(
        Placed(
            (left, size * (m.ascent + leading * i)),
            Text(role, (0.0, 0.0), told_direction(line, backward), size, anchor, bold),
            part=part,
        )
        for i, line in enumerate(lines)
        if line
    )
    height = size * (m.ascent + m.descent + leading * (len(lines) - 1)) if lines else 0.0
    return Block(width, height, items)


def paragraph(text: str, width: float, size: float, typesetter: Typesetter) -> tuple[Block, ...]:
    """A note as blocks of a few lines each, so that a long one may run on to the next page."""
    lines = wrap(text, width, size, typesetter)
    held = measures.TYPE.note_lines
    parts = ["\n".join(lines[i : i + held]) for i in range(0, len(lines), held)]
    whole = Part(PartKind.PARAGRAPH)
    return tuple(
        text_block(part, width, size, typesetter, "text.note").as_part(whole) for part in parts
    )


def shortened(text: str, width: float, size: float, typesetter: Typesetter) -> str:
    """The text in one line, its end left out with '…' where it is too wide."""
    words = " ".join(text.split())
    fits = _fitter(width, size, typesetter, False)
    if fits(words):
        return words
    while words and not fits(words + "…"):
        words = words[:-1]
    return words.rstrip() + "…"
