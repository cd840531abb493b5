"""Text of any script: which font, which order, which glyphs."""

from __future__ import annotations

import random
import shutil
import subprocess
import unicodedata
from pathlib import Path

import cairocffi
import pytest
from bidi import get_display

from foldscript.drawing.scene.scene import Text
from foldscript.drawing.style.styles import load_style
from foldscript.output.cairo_text import _face  # pyright: ignore[reportPrivateUsage]
from foldscript.output.fonts import FAMILY, fonts_of, measure, plain
from foldscript.output.pdf import document_pdf
from foldscript.output.shaping import GlyphRun, ShapedLine, families, measuring, shaped
from foldscript.pages.document import Document, Page, Placed
from foldscript.pages.sizes import page_size
from foldscript.source.diagnostics import FoldscriptError

FONTS = fonts_of(load_style())
WIDTH = measuring(load_style())
#: A sentence of each script, ours: 'fold the corner' and the like.
SENTENCES = {
    "Greek": "Διπλώστε τη γωνία A προς τα πίσω.",
    "Vietnamese": "Gấp góc A ra phía sau, rồi lật mặt giấy.",
    "Hebrew": "קפלו את הפינה A אל הקצה (פעמיים).",
    "Arabic": "اطوِ الركن A إلى الحافة، ثم 2 مرات.",
    "Hindi": "कोने A को किनारे तक मोड़ें।",
    "Thai": "พับมุม A ไปที่ขอบ",
}


def line(text: str, bold: bool = False) -> ShapedLine:
    return shaped(FONTS, unicodedata.normalize("NFC", text), bold)


def as_printed(text: str) -> str:
    """Characters from left to right, as the runs say."""
    return "".join(run.text[::-1] if run.backward else run.text for run in line(text).runs)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("script", SENTENCES)
def test_every_letter_has_a_glyph(script: str, bold: bool) -> None:
    runs = line(SENTENCES[script], bold).runs
    assert all(glyph.number != 0 for run in runs for glyph in run.glyphs)  # 0 is the empty box
    assert FONTS.missing(SENTENCES.values()) == ""
    assert FONTS.warnings(SENTENCES.values()) == ()


@pytest.mark.parametrize("script", SENTENCES)
def test_everything_that_is_said_is_written_once(script: str) -> None:
    text = unicodedata.normalize("NFC", SENTENCES[script])
    assert sorted(as_printed(text)) == sorted(text)


def test_the_order_is_that_of_the_bidirectional_algorithm() -> None:
    """Against the algorithm applied to single characters (python-bidi's own display order, UAX 9)."""
    rng = random.Random(7)
    letters = "אבגדהabcAB12 ,.-"
    for _ in range(300):
        text = "א" + "".join(rng.choice(letters) for _ in range(rng.randrange(1, 24))).strip()
        assert as_printed(text) == get_display(text), text


def test_a_bracket_is_mirrored_where_it_is_read_from_the_right() -> None:
    (run,) = line("(א)").runs
    (other,) = line("א").runs
    numbers = [glyph.number for glyph in run.glyphs]
    assert numbers[1] == other.glyphs[0].number
    assert numbers[0] != numbers[2]


def test_arabic_letters_join() -> None:
    """Unicode 15, chapter 9.2: a letter between two others has its medial shape."""
    alone, within = line("ح").runs[0], line("ححح").runs[0]
    shapes = {glyph.number for glyph in within.glyphs}
    assert len(shapes) == 3
    assert alone.glyphs[0].number not in shapes


def test_a_vowel_sign_of_devanagari_stands_before_its_consonant() -> None:
    """Unicode 15, chapter 12.1: the sign of short i stands before the letter that it is spoken after."""
    ka, ki = line("क").runs[0], line("कि").runs[0]
    assert len(ki.glyphs) == 2
    assert ki.glyphs[1].number == ka.glyphs[0].number


def test_a_word_is_written_in_one_font() -> None:
    assert line("gấp A").runs[0].font.family == "Noto Sans"
    assert families(FONTS, "gấp", False) == ("Noto Sans",)


def test_what_the_caption_font_writes_is_left_to_it() -> None:
    assert plain("Fold A to C – Ёлка")
    assert not plain("קפל")
    assert WIDTH("Fold", 10, False) == measure("Fold", 10)
    assert families(FONTS, "Fold", False) == (FAMILY,)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("script", SENTENCES)
def test_the_width_is_what_cairo_sets(script: str, bold: bool) -> None:
    """cairo asks FreeType for the advance of each glyph, we ask HarfBuzz."""
    context = cairocffi.Context(cairocffi.PDFSurface(None, 1000, 1000))

    def width(run: GlyphRun) -> float:
        context.set_font_face(_face(run.font, run.font.design(run.bold)))
        context.set_font_size(120)
        marks = [g for g in run.glyphs if g.advance > 0]
        return sum(context.glyph_extents([(g.number, 0, 0)])[4] for g in marks)

    text = unicodedata.normalize("NFC", SENTENCES[script])
    found = sum(width(run) for run in line(text, bold).runs)
    assert WIDTH(text, 120, bold) == pytest.approx(found, rel=0.02)  # less what is kerned


def test_bold_letters_are_wider() -> None:
    for text in SENTENCES.values():
        assert WIDTH(text, 12, True) > WIDTH(text, 12, False)


def test_a_style_names_fonts_of_its_own(tmp_path: Path) -> None:
    taken = next(path for path in FONTS.further if "Thai" in path.name)
    (tmp_path / "ours.ttf").write_bytes(taken.read_bytes())
    style = tmp_path / "ours.toml"
    style.write_text('[text]\nfonts = ["ours.ttf"]\n', "utf-8")
    fonts = fonts_of(load_style(style))
    assert fonts.further[0] == tmp_path / "ours.ttf"
    assert fonts.font_of("พับ", False).path == tmp_path / "ours.ttf"


def test_a_file_that_is_no_font_is_told(tmp_path: Path) -> None:
    (tmp_path / "ours.ttf").write_bytes(b"some letters")
    style = tmp_path / "ours.toml"
    style.write_text('[text]\nfonts = ["ours.ttf"]\n', "utf-8")
    with pytest.raises(FoldscriptError) as caught:
        measuring(load_style(style))("พับ", 10, False)
    assert caught.value.diagnostics[0].code == "bad-font"


def test_a_page_keeps_the_text_for_those_who_search_it(tmp_path: Path) -> None:
    """What a reader's program finds in the PDF (poppler's pdftotext)."""
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not installed")
    items = tuple(
        Placed((40.0, 60.0 + 30 * k), Text("text.caption", (0.0, 0.0), text, 12.0))
        for k, text in enumerate(SENTENCES.values())
    )
    size = page_size("A4")
    document = Document("letters", "", "en", (Page(size, "1", items),))
    (tmp_path / "letters.pdf").write_bytes(document_pdf(document, load_style()))
    found = subprocess.run(
        ["pdftotext", tmp_path / "letters.pdf", "-"], capture_output=True, text=True, check=True
    ).stdout
    for script in ("Greek", "Vietnamese", "Hindi", "Thai"):
        assert unicodedata.normalize("NFC", SENTENCES[script]) in found
    assert "קפלו את הפינה" in found
