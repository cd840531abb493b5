"""Text on a cairo surface: the caption font made known to cairo, and all other text as glyphs.

In: text elements of an SVG, as cairosvg meets them. Out: ink that a reader of the PDF can select and search.
What the caption font sets by itself is left to cairosvg. For the rest, cairo is given the very font files
that the text was measured with, through FreeType, so nothing is looked up on the machine.
"""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any
from xml.sax.saxutils import escape

from .fonts import FAMILY, FontFile, Fonts, folder, plain
from .shaping import GlyphRun, shaped

if TYPE_CHECKING:
    import cairocffi

#: Only the folder below is searched, and nothing is looked up on the machine: same pages everywhere.
_FONTS_CONF = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir>{fonts}</dir>
  <cachedir>{cache}</cachedir>
  <rescan><int>0</int></rescan>
</fontconfig>
"""
_FREETYPE = (
    ("freetype", "libfreetype-6"),
    ("libfreetype.so.6", "libfreetype.6.dylib", "freetype.dll"),
)
_CAIRO = (
    ("cairo-2", "cairo", "libcairo-2"),
    ("libcairo.so.2", "libcairo.2.dylib", "libcairo-2.dll"),
)
#: FreeType's and cairo's functions as their manuals give them; an FT_Fixed has 16 bits of fraction.
_DECLARATIONS = """
    typedef int FT_Error; typedef long FT_Fixed; typedef void *FT_Library; typedef void *FT_Face;
    FT_Error FT_Init_FreeType(FT_Library *library);
    FT_Error FT_New_Face(FT_Library library, const char *path, long index, FT_Face *face);
    FT_Error FT_Set_Var_Design_Coordinates(FT_Face face, unsigned int count, FT_Fixed *values);
    void *cairo_ft_font_face_create_for_ft_face(FT_Face face, int flags);
"""
_NO_HINTING = 2  # FT_LOAD_NO_HINTING


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
    """Make cairo find the caption font; to be called before anything else makes cairo draw text.

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


def draw_shaped(surface: Any, node: Any, fonts: Fonts, outline: bool) -> bool:
    """Draws a text element of cairosvg's on its surface; False where the caption font does that alone.

    With `outline`, its letters become part of the surface's path, and nothing is painted yet.
    """
    text = node.text or ""
    if plain(text):
        return False
    size: float = surface.font_size
    line = shaped(fonts, text, node.get("font-weight") == "bold")
    x, y = float(node.get("x", 0.0)), float(node.get("y", 0.0))
    anchor: str = node.get("text-anchor", "start")
    if node.get("direction") == "rtl":
        anchor = {"start": "end", "end": "start"}.get(anchor, anchor)
    x -= {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * line.width * size
    for run in line.runs:
        _show(surface.context, run, x, y, size, outline)
        x += run.width * size
    return True


def _show(
    context: cairocffi.Context, run: GlyphRun, x: float, y: float, size: float, outline: bool
) -> None:
    """One run from a place on its baseline, with what it says, for those who select and search."""
    context.set_font_face(_face(run.font, run.font.design(run.bold)))
    context.set_font_size(size)
    glyphs: list[tuple[int, float, float]] = []
    for glyph in run.glyphs:
        glyphs.append((glyph.number, x + glyph.x * size, y - glyph.y * size))
        x += glyph.advance * size
    if outline:
        context.glyph_path(glyphs)
        return
    parts = _clusters(run)
    told = [(len(part.encode()), count) for part, count in parts]
    context.show_text_glyphs("".join(part for part, _ in parts), glyphs, told)


def _clusters(run: GlyphRun) -> list[tuple[str, int]]:
    """Each piece of the text with the number of glyphs that write it, from left to right.

    Readers of a PDF expect glyphs as they are printed, and turn what is read from the right themselves.
    """
    counts = Counter(glyph.cluster for glyph in run.glyphs)
    starts = sorted(counts)
    ends = [*starts[1:], len(run.text)]
    parts = [
        (run.text[0 if start == starts[0] else start : end], counts[start])
        for start, end in zip(starts, ends, strict=True)
    ]
    return parts[::-1] if run.backward else parts


@cache
def _libraries() -> tuple[Any, Any, Any, Any]:
    """The foreign function interface, FreeType, cairo, and a FreeType library object."""
    import cairocffi
    from cffi import FFI

    ffi: Any = FFI()
    ffi.cdef(_DECLARATIONS)
    freetype = cairocffi.dlopen(ffi, *_FREETYPE)
    cairo = cairocffi.dlopen(ffi, *_CAIRO)
    library = ffi.new("FT_Library *")
    if freetype.FT_Init_FreeType(library):
        raise OSError("FreeType does not start")
    return ffi, freetype, cairo, library


@cache
def _face(font: FontFile, design: tuple[float, ...]) -> cairocffi.FontFace:
    """A font file as cairo's font, at a place on its axes; kept open as long as the process runs."""
    import cairocffi

    ffi, freetype, cairo, library = _libraries()
    face = ffi.new("FT_Face *")
    if freetype.FT_New_Face(library[0], os.fsencode(font.path), 0, face):
        raise OSError(f"FreeType cannot read {font.path.name}")
    usual = tuple(at for _, _, at, _ in font.axes)
    if design != usual:
        values = [round(at * 0x10000) for at in design]
        freetype.FT_Set_Var_Design_Coordinates(face[0], len(values), values)
    pointer = cairo.cairo_ft_font_face_create_for_ft_face(face[0], _NO_HINTING)
    made: Any = cairocffi.FontFace
    return made._from_pointer(
        cairocffi.ffi.cast("cairo_font_face_t *", int(ffi.cast("uintptr_t", pointer))), incref=False
    )
