"""The caption font: its widths, what it cannot write, and how cairo gets to embed it.

In: texts. Out: widths in points, warnings, and a cairo that knows the font. PT Sans comes as a
package of static TrueType files (Latin and Cyrillic, regular and bold; SIL Open Font License), so
pages look the same on a machine that has no fonts at all.
"""

from __future__ import annotations

import atexit
import io
import os
import shutil
import tempfile
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from pathlib import Path
from typing import Any, cast
from xml.sax.saxutils import escape

from ..source.diagnostics import Diagnostic, Hint, Severity

FAMILY = "PT Sans"
_PACKAGE = "fontpkg_pt_sans"
_FILES = {False: "PT_Sans-Web-Regular.ttf", True: "PT_Sans-Web-Bold.ttf"}

#: Only the folder below is searched, and nothing is looked up on the machine: same pages everywhere.
_FONTS_CONF = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>{fonts}</dir>
  <cachedir>{cache}</cachedir>
  <rescan><int>0</int></rescan>
</fontconfig>
"""


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
    """The regular or bold face, read once."""
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
    """Folder of the font's files."""
    return Path(str(resources.files(_PACKAGE) / "files"))


def font_file(bold: bool = False) -> Path:
    """The regular or bold font as a TrueType file."""
    return folder() / _FILES[bold]


@lru_cache(maxsize=8)
def part_of_font(characters: str, bold: bool = False) -> bytes:
    """The font with these characters only, as WOFF 1.0 (a W3C recommendation), for pages that stand alone."""
    from fontTools import subset

    options = subset.Options()
    font = subset.load_font(str(font_file(bold)), options)
    with font:
        part = subset.Subsetter(options)
        part.populate(text=characters)
        part.subset(font)
        font.flavor = "woff"
        written = io.BytesIO()
        font.save(written)
    return written.getvalue()


@lru_cache(maxsize=20_000)
def measure(text: str, size: float, bold: bool = False) -> float:
    """Width of a line of text in points at a size in points, as cairo will set it (no kerning)."""
    return face(bold).width(unicodedata.normalize("NFC", text), size)


def missing_glyphs(texts: Iterable[str]) -> str:
    """Characters of the texts that the font cannot write, each once, in order of first use."""
    known = face().glyphs
    found: dict[str, None] = {}
    for text in texts:
        for ch in unicodedata.normalize("NFC", text):
            if ord(ch) not in known and unicodedata.category(ch) not in ("Cc", "Cf", "Zl", "Zp"):
                found[ch] = None
    return "".join(found)


def glyph_warnings(texts: Iterable[str]) -> tuple[Diagnostic, ...]:
    """One warning that names every character the font lacks; () when it has them all."""
    missing = missing_glyphs(texts)
    if not missing:
        return ()
    shown = ", ".join(f"'{ch}' (U+{ord(ch):04X})" for ch in missing[:8])
    more = f" and {len(missing) - 8} more" if len(missing) > 8 else ""
    return (
        Diagnostic(
            "missing-glyphs",
            f"the caption font {FAMILY} has no {shown}{more}: PDF and PNG show empty boxes there",
            hints=(
                Hint(f"{FAMILY} writes Latin and Cyrillic; spell the words with those letters"),
                Hint("SVG files keep the text, and show it where the reader's machine has a font"),
            ),
            severity=Severity.WARNING,
        ),
    )


@contextmanager
def _environment(name: str, value: str) -> Iterator[None]:
    before = os.environ.get(name)
    os.environ[name] = value
    try:
        yield
    finally:
        if before is None:
            del os.environ[name]
        else:
            os.environ[name] = before


@cache
def ready_cairo() -> None:
    """Make cairo find the font; to be called before anything else makes cairo draw text.

    fontconfig reads its settings when the process first asks for a font, from the file that
    FONTCONFIG_FILE names. So a private file is named just for that moment, and a first text is
    measured. On systems where cairo asks someone else for fonts, the machine's own font serves.
    """
    import cairocffi

    private = Path(tempfile.mkdtemp(prefix="foldscript-fonts-"))
    atexit.register(shutil.rmtree, private, ignore_errors=True)
    conf = private / "fonts.conf"
    conf.write_text(
        _FONTS_CONF.format(fonts=escape(str(folder())), cache=escape(str(private / "cache"))),
        "utf-8",
    )
    with _environment("FONTCONFIG_FILE", str(conf)):
        surface = cairocffi.ImageSurface(cairocffi.FORMAT_A8, 1, 1)
        context = cairocffi.Context(surface)
        context.select_font_face(FAMILY)
        context.text_extents("a")
