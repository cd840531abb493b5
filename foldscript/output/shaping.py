"""Text of any script as glyphs at their places.

In: a line of text and the fonts that may write it. Out: runs of glyphs from left to right, as they are
printed. The order of what is written from right to left follows the Unicode bidirectional algorithm (UAX 9,
python-bidi), what a font makes of the letters is HarfBuzz's matter (uharfbuzz). Both are loaded only for
text that needs them.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import groupby
from typing import Any

from ..drawing.style.styles import Style
from .fonts import FAMILY, FontFile, Fonts, fonts_of, measure, plain

#: Scripts of characters that go with their neighbours (UAX 24).
_NEUTRAL = ("Zyyy", "Zinh", "Zzzz")
_WORDS = re.compile(r"\s+|\S+")


@dataclass(frozen=True, slots=True)
class Glyph:
    """A glyph of a font: its number, where it stands and how far it takes the pen, in type sizes.

    `cluster` is the place in the run's text of the first character that it writes.
    """

    number: int
    x: float
    y: float
    advance: float
    cluster: int


@dataclass(frozen=True, slots=True)
class GlyphRun:
    """Glyphs of one font, from left to right; `text` as it is read, `backward` where from the right."""

    font: FontFile
    bold: bool
    text: str
    backward: bool
    glyphs: tuple[Glyph, ...]

    @property
    def width(self) -> float:
        """In type sizes."""
        return sum(glyph.advance for glyph in self.glyphs)


@dataclass(frozen=True, slots=True)
class ShapedLine:
    """A line as it is printed, from left to right."""

    runs: tuple[GlyphRun, ...]

    @property
    def width(self) -> float:
        """In type sizes."""
        return sum(run.width for run in self.runs)


def measuring(style: Style) -> Callable[[str, float, bool], float]:
    """What tells the width of a line of text in points, by its size in points and whether it is bold."""
    return _measuring(fonts_of(style))


@cache
def _measuring(fonts: Fonts) -> Callable[[str, float, bool], float]:
    def width(text: str, size: float, bold: bool = False) -> float:
        text = unicodedata.normalize("NFC", text)
        return measure(text, size, bold) if plain(text) else shaped(fonts, text, bold).width * size

    return width


def families(fonts: Fonts, text: str, bold: bool) -> tuple[str, ...]:
    """Families that write a text, in order of first use."""
    text = unicodedata.normalize("NFC", text)
    if plain(text):
        return (FAMILY,)
    return tuple(dict.fromkeys(run.font.family for run in shaped(fonts, text, bold).runs))


@lru_cache(maxsize=20_000)
def shaped(fonts: Fonts, text: str, bold: bool) -> ShapedLine:
    """A line of text, set in the fonts that can write it."""
    pieces = [
        (level, font, text[start:end])
        for start, end, level, font in _pieces(text, _levels(text), fonts, bold)
    ]
    return ShapedLine(
        tuple(_run(font, bold, piece, bool(level % 2)) for level, font, piece in _ordered(pieces))
    )


def _levels(text: str) -> list[int]:
    """How deep each character lies in text of the other direction; odd: from right to left (UAX 9)."""
    from bidi import algorithm

    storage: dict[str, Any] = algorithm.get_empty_storage()
    storage["base_level"] = algorithm.get_base_level(text)
    storage["base_dir"] = ("L", "R")[storage["base_level"]]
    algorithm.get_embedding_levels(text, storage)
    for place, entry in enumerate(storage["chars"]):
        entry["place"] = place
    algorithm.explicit_embed_and_overrides(storage)
    algorithm.resolve_weak_types(storage)
    algorithm.resolve_neutral_types(storage, False)
    algorithm.resolve_implicit_levels(storage, False)
    levels = [storage["base_level"]] * len(text)
    for entry in storage["chars"]:
        levels[entry["place"]] = entry["level"]
    for place in range(len(text) - 1, -1, -1):  # rule L1: white at the end of a line
        if not text[place].isspace():
            break
        levels[place] = storage["base_level"]
    return levels


def _pieces(
    text: str, levels: Sequence[int], fonts: Fonts, bold: bool
) -> Iterator[tuple[int, int, int, FontFile]]:
    """Parts of one level, font and script: from, to, level, font."""
    chosen = _fonts(text, fonts, bold)
    scripts = _scripts(text)
    start = 0
    for _, group in groupby(range(len(text)), key=lambda k: (levels[k], chosen[k], scripts[k])):
        end = start + len(list(group))
        yield start, end, levels[start], chosen[start]
        start = end


def _fonts(text: str, fonts: Fonts, bold: bool) -> list[FontFile]:
    """The font of each character: that of its whole word, where one has all its letters."""
    out: list[FontFile] = []
    for word in _WORDS.findall(text):
        whole = fonts.font_of(word, bold)
        if word.isspace() and out:
            out += [out[-1]] * len(word)
        elif whole.has_all(word):
            out += [whole] * len(word)
        else:
            for cluster in clusters(word):
                out += [fonts.font_of(cluster, bold)] * len(cluster)
    return out


def clusters(word: str) -> list[str]:
    """Characters, each with the marks and joiners that follow it."""
    out: list[str] = []
    for ch in word:
        joined = unicodedata.category(ch) in ("Mn", "Mc", "Me") or ch in "\u200c\u200d"
        if out and (joined or out[-1].endswith("\u200d")):
            out[-1] += ch
        else:
            out.append(ch)
    return out


def _scripts(text: str) -> list[str]:
    """The script of each character by its code (ISO 15924); signs take that of what comes before."""
    from fontTools.unicodedata import script

    own = [script(ch) for ch in text]
    first = next((code for code in own if code not in _NEUTRAL), "Latn")
    out: list[str] = []
    for code in own:
        out.append(code if code not in _NEUTRAL else out[-1] if out else first)
    return out


def _ordered(
    pieces: Sequence[tuple[int, FontFile, str]],
) -> list[tuple[int, FontFile, str]]:
    """Pieces as they stand on the line: what lies deepest is turned round first (UAX 9, rule L2)."""
    line = list(pieces)
    deepest = max((level for level, *_ in line), default=0)
    for level in range(deepest, 0, -1):
        turned: list[tuple[int, FontFile, str]] = []
        for deep, group in groupby(line, key=lambda piece: piece[0] >= level):
            members = list(group)
            turned += members[::-1] if deep else members
        line = turned
    return line


def _run(font: FontFile, bold: bool, text: str, backward: bool) -> GlyphRun:
    hb = _harfbuzz()
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    buffer.direction = "rtl" if backward else "ltr"
    shaper = _shaper(font, bold)
    hb.shape(shaper, buffer)
    em = float(shaper.face.upem)
    glyphs = tuple(
        Glyph(
            info.codepoint,
            place.x_offset / em,
            place.y_offset / em,
            place.x_advance / em,
            info.cluster,
        )
        for info, place in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True)
    )
    return GlyphRun(font, bold, text, backward, glyphs)


def _harfbuzz() -> Any:
    import uharfbuzz

    return uharfbuzz


@cache
def _shaper(font: FontFile, bold: bool) -> Any:
    hb = _harfbuzz()
    shaper = hb.Font(hb.Face(hb.Blob.from_file_path(str(font.path))))
    design = font.design(bold)
    if design:
        shaper.set_variations({tag: at for (tag, *_), at in zip(font.axes, design, strict=True)})
    return shaper
