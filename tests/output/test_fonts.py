"""The caption font: widths as cairo sets them, and honest warnings about what it lacks."""

from __future__ import annotations

import cairocffi
import pytest

from foldscript.output.cairo_text import ready_cairo
from foldscript.output.fonts import FAMILY, Fonts, measure
from foldscript.source.diagnostics import Severity


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize(
    "text", ["Fold the corner.", "Ещё раз: чашка", "žluťoučký – 15 × 15 cm", ""]
)
def test_width_is_what_cairo_sets(text: str, bold: bool) -> None:
    ready_cairo()
    context = cairocffi.Context(cairocffi.PDFSurface(None, 1000, 1000))
    weight = cairocffi.FONT_WEIGHT_BOLD if bold else cairocffi.FONT_WEIGHT_NORMAL
    context.select_font_face(FAMILY, cairocffi.FONT_SLANT_NORMAL, weight)
    context.set_font_size(120)
    assert measure(text, 120, bold) == pytest.approx(context.text_extents(text)[4], rel=0.005)


def test_width_grows_with_size_and_weight() -> None:
    assert measure("corner", 24) == pytest.approx(2 * measure("corner", 12))
    assert measure("corner", 12, True) > measure("corner", 12)


def test_letters_with_marks_are_composed_before_measuring() -> None:
    assert measure("e\u0301", 12) == pytest.approx(measure("é", 12))


def test_latin_and_cyrillic_have_no_gaps() -> None:
    assert (
        Fonts().missing(["Çà et là, Łódź, šťastný, ğ, Œuvre – “ok” … №5 × ½ Ёжик Їжак љубав"]) == ""
    )


def test_missing_letters_are_named_once() -> None:
    (warning,) = Fonts().warnings(["折る", "折紙", "fold\n"])
    assert warning.severity is Severity.WARNING
    assert warning.code == "missing-glyphs"
    assert warning.message.count("折") == 1
    assert "U+6298" in warning.message  # the character's number in Unicode
    assert Fonts().warnings(["plain words"]) == ()
