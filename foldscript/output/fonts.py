"""The fonts of captions: which writes what, how wide it is, and what none of them can write.

In: texts. Out: the font file for each piece of a text, widths in points, warnings. PT Sans comes as a
package of static TrueType files (Latin and Cyrillic, regular and bold; SIL Open Font License), so pages
look the same on a machine that has no fonts at all. What it lacks is written in the fonts that a style
names, in their order, then in those of the extra `foldscript[letters]`; a font that merely happens to be
on the machine is never used.
"""

from __future__ import annotations

import io
import logging
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from pathlib import Path
from typing import Any, cast

from ..drawing.style.styles import Style
from ..source.diagnostics import Diagnostic, FoldscriptError, Hint, Severity

FAMILY = "PT Sans"
_PACKAGE = "fontpkg_pt_sans"
_FILES = {False: "PT_Sans-Web-Regular.ttf", True: "PT_Sans-Web-Bold.ttf"}
#: What `foldscript[letters]` brings: Greek and Vietnamese, Hebrew, Arabic, Devanagari, Thai.
_FURTHER = (
    "fontpkg_noto_sans",
    "fontpkg_heebo",
    "fontpkg_noto_sans_arabic",
    "fontpkg_noto_sans_devanagari",
    "fontpkg_noto_sans_thai",
)
_BOLD_FROM = 600.0  # OpenType 1.9, OS/2 usWeightClass: 600 is 'semi-bold'
#: Ways of writing that need more than a glyph after another: right to left, and marks that join.
_SET_APART = ("R", "AL", "AN", "NSM", "RLE", "RLO", "RLI", "LRE", "LRO", "LRI", "FSI")


@dataclass(frozen=True)
class Face:
    """One font file's numbers: glyph of each character, advance of each glyph, units per em."""

    glyphs: Mapping[int, str]
    advances: Mapping[str, float]
    em: float

    def width(self, text: str, size: float) -> float:
        """Width in points; characters that the font lacks count as its empty box."""
        missing = self.advances[".notdef"]
        units = sum(
            self.advances[self.glyphs[ord(ch)]] if ord(ch) in self.glyphs else missing
            for ch in text
        )
        return units * size / self.em


@cache
def face(bold: bool = False) -> Face:
    """The regular or bold caption font, read once."""
    from fontTools.ttLib import TTFont

    with TTFont(font_file(bold), lazy=True) as font:
        glyphs: dict[int, str] = dict(font.getBestCmap() or {})
        metrics: Mapping[str, tuple[int, int]] = font["hmtx"].metrics
        return Face(
            glyphs,
            {name: float(advance) for name, (advance, _) in metrics.items()},
            float(cast(Any, font["head"]).unitsPerEm),
        )


@cache
def folder() -> Path:
    """Folder of the caption font's files."""
    return Path(str(resources.files(_PACKAGE) / "files"))


def font_file(bold: bool = False) -> Path:
    """The regular or bold caption font as a TrueType file."""
    return folder() / _FILES[bold]


@dataclass(frozen=True)
class FontFile:
    """One font file as far as it matters who writes what.

    Attributes
    ----------
    family : its family's name
    letters : the characters that it has
    axes : tag, least, usual and greatest value of each axis along which it varies (OpenType `fvar`)
    weight : of its strokes, 400 for regular (OpenType `OS/2` usWeightClass)
    """

    path: Path
    family: str
    letters: frozenset[int]
    axes: tuple[tuple[str, float, float, float], ...]
    weight: float

    def is_for(self, bold: bool) -> bool:
        """Whether it writes bold, or regular, letters as they are meant."""
        return self._varies or bold == (self.weight >= _BOLD_FROM)

    def has_all(self, text: str) -> bool:
        """Whether it has every character of a text that is to be seen."""
        return all(ord(ch) in self.letters or unicodedata.category(ch) in _UNSEEN for ch in text)

    @property
    def _varies(self) -> bool:
        return any(tag == "wght" for tag, *_ in self.axes)

    def design(self, bold: bool) -> tuple[float, ...]:
        """The value of each axis for regular or bold letters; () where nothing varies."""
        wanted = 700.0 if bold else 400.0
        return tuple(
            min(max(wanted, least), most) if tag == "wght" else usual
            for tag, least, usual, most in self.axes
        )


@cache
def read_font(path: Path) -> FontFile:
    """A TrueType or OpenType file, or the first font of a collection.

    Raises FoldscriptError ('bad-font') where it is none.
    """
    from fontTools.ttLib import TTFont, TTLibError

    try:
        opened = TTFont(path, lazy=True, fontNumber=0)
    except TTLibError as error:
        message = f"'{path.name}' is no TrueType or OpenType font"
        raise FoldscriptError(Diagnostic("bad-font", message)) from error
    with opened as font:
        names, system = cast(Any, font["name"]), cast(Any, font["OS/2"])
        axes = cast(Any, font["fvar"]).axes if "fvar" in font else ()
        return FontFile(
            path,
            names.getBestFamilyName() or path.stem,
            frozenset(font.getBestCmap() or ()),
            tuple((a.axisTag, a.minValue, a.defaultValue, a.maxValue) for a in axes),
            float(system.usWeightClass),
        )


@dataclass(frozen=True)
class Fonts:
    """The fonts that may write a text, besides the caption font; each is read when it is first needed."""

    further: tuple[Path, ...] = ()

    def writes(self, ch: str) -> bool:
        """Whether any of the fonts has a character."""
        return ord(ch) in face().glyphs or any(ord(ch) in font.letters for font in self._further())

    def font_of(self, text: str, bold: bool) -> FontFile:
        """The first font that has every character of a text; the caption font where none has.

        Of a family that has bold letters in another file, that file writes them.
        """
        caption = read_font(font_file(bold))
        candidates = [caption, *self._further()]
        able = [font for font in candidates if font.has_all(text)]
        fitting = [font for font in able if font.is_for(bold)]
        if able and fitting and fitting[0].family != able[0].family:
            fitting = [font for font in fitting if font.family == able[0].family]
        return (fitting or able or [caption])[0]

    def lacked_by_caption_font(self, characters: Iterable[str], bold: bool) -> tuple[FontFile, ...]:
        """The fonts that write those of some characters which the caption font has not."""
        lacking = sorted(ch for ch in characters if ord(ch) not in face(bold).glyphs)
        found = (self.font_of(ch, bold) for ch in lacking if self.writes(ch))
        return tuple(dict.fromkeys(font for font in found if font.family != FAMILY))

    def missing(self, texts: Iterable[str]) -> str:
        """Characters of the texts that no font can write, each once, in order of first use."""
        found: dict[str, None] = {}
        for text in texts:
            for ch in unicodedata.normalize("NFC", text):
                if not self.writes(ch) and unicodedata.category(ch) not in _UNSEEN:
                    found[ch] = None
        return "".join(found)

    def warnings(self, texts: Iterable[str]) -> tuple[Diagnostic, ...]:
        """One warning that names every character that no font has; () when they have them all."""
        missing = self.missing(texts)
        if not missing:
            return ()
        shown = ", ".join(f"'{ch}' (U+{ord(ch):04X})" for ch in missing[:8])
        more = f" and {len(missing) - 8} more" if len(missing) > 8 else ""
        return (
            Diagnostic(
                "missing-glyphs",
                f"no font has {shown}{more}: PDF and PNG show empty boxes there",
                hints=(
                    Hint(
                        "name a font that has them in a style file, beside it: "
                        '[text] fonts = ["MyFont.ttf"]'
                    ),
                    Hint(
                        "pip install 'foldscript[letters]' brings fonts for Greek, Vietnamese, Hebrew, "
                        "Arabic, Devanagari and Thai"
                    ),
                    Hint(
                        "SVG files keep the text, and show it where the reader's machine has a font"
                    ),
                ),
                severity=Severity.WARNING,
            ),
        )

    def _further(self) -> tuple[FontFile, ...]:
        return tuple(read_font(path) for path in self.further)


_UNSEEN = ("Cc", "Cf", "Zl", "Zp")


@cache
def fonts_of(style: Style) -> Fonts:
    """The fonts that a style's texts may be written in: its own, then those of the extra, if it is there."""
    return Fonts((*(Path(font.path) for font in style.fonts), *_installed()))


@cache
def _installed() -> tuple[Path, ...]:
    """Upright font files of the extra's packages that are installed."""
    found: list[Path] = []
    for package in _FURTHER:
        try:
            files = resources.files(package) / "files"
        except ModuleNotFoundError:
            continue
        paths = (Path(str(file)) for file in files.iterdir())
        found += sorted(p for p in paths if p.suffix == ".ttf" and "Italic" not in p.name)
    return tuple(found)


@lru_cache(maxsize=20_000)
def plain(text: str) -> bool:
    """Whether the caption font sets a text by itself: one glyph after the other, from left to right."""
    known = face().glyphs
    return all(ord(ch) in known and unicodedata.bidirectional(ch) not in _SET_APART for ch in text)


@lru_cache(maxsize=20_000)
def measure(text: str, size: float, bold: bool = False) -> float:
    """Width in points of a line in the caption font alone, as cairo will set it (no kerning)."""
    return face(bold).width(unicodedata.normalize("NFC", text), size)


@lru_cache(maxsize=16)
def part_of_font(characters: str, path: Path, design: tuple[float, ...] = ()) -> bytes:
    """A font with these characters only, as WOFF 1.0 (a W3C recommendation), for pages that stand alone.

    `design` holds the value of each of its axes, for a font that varies.
    """
    from fontTools import subset
    from fontTools.varLib import instancer

    options = subset.Options()
    options.font_number = 0
    logging.getLogger(subset.__name__).setLevel(logging.ERROR)  # of tables that no page needs
    font = subset.load_font(str(path), options)
    with font:
        part = subset.Subsetter(options)
        part.populate(text=characters)
        part.subset(font)
        if design:
            tags = [axis.axisTag for axis in cast(Any, font["fvar"]).axes]
            font = instancer.instantiateVariableFont(font, dict(zip(tags, design, strict=True)))
        font.flavor = "woff"
        written = io.BytesIO()
        font.save(written)
    return written.getvalue()
