"""Sheets in other languages: every way the language knows to say one."""

from __future__ import annotations

import pytest

from foldscript.captions.sheet_words import sheet_words
from foldscript.languages.language import load_language
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

SHEETS = {
    "square 7.5 cm": "Quadrat 7,5 cm",
    "square 6 inches": "Quadrat 6 Zoll",
    "rectangle 20 cm by 10.5 cm": "Rechteck 20 × 10,5 cm",
    "strip 3 cm by 40 cm": "Streifen 3 × 40 cm",
    "A4": "A4 (210 × 297 mm)",
    "A4 landscape": "A4 quer (297 × 210 mm)",
    "letter landscape": "letter quer (279,4 × 215,9 mm)",
    "A4 portrait": "A4 (210 × 297 mm)",
    "half letter": "half letter (139,7 × 215,9 mm)",
    "ratio 2 to 3, long side 21 cm": "Verhältnis 2 zu 3, lange Seite 21 cm",
    "ratio 1 to 1.5, short side 10 cm": "Verhältnis 1 zu 1,5, kurze Seite 10 cm",
    "rectangle 20 cm by 10 cm, portrait": "Rechteck 20 × 10 cm, hochkant",
    "regular hexagon, side 8 cm": "regelmäßiges Sechseck, Seite 8 cm",
    "regular 7-gon, width 15 cm": "regelmäßiges 7-Eck, Breite 15 cm",
    "polygon 0 0, 20 0, 24 12, 4 14 cm": "Blatt mit 4 Ecken",
}


def shape(sheet: str) -> str:
    head = parse(Source("x", f"sheet {sheet}\nstep\nturn over"), verbs()).head
    assert head.sheet is not None
    return head.sheet.shape


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_kind_of_sheet(sheet: str) -> None:
    assert sheet_words(shape(sheet), load_language("de")) == SHEETS[sheet]


def test_in_english_it_stays() -> None:
    assert sheet_words("square 7.5 cm", load_language("en-GB")) == "square 7.5 cm"


def test_words_that_are_not_known_stay() -> None:
    assert sheet_words("a bus ticket", load_language("de")) == "a bus ticket"
