"""Wrapping, with a font whose characters are all half an em wide."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.drawing.scene.scene import Text
from foldscript.pages import measures
from foldscript.pages.directions import read_backward
from foldscript.pages.typesetting import Typesetter, paragraph, shortened, text_block, wrap

SIZE = 10.0


def half_em_wide(text: str, size: float, bold: bool) -> float:
    return 0.5 * size * len(text)


half_em = Typesetter(half_em_wide, leading=1.25)


def width_for(characters: int) -> float:
    """Room for exactly so many characters."""
    return 0.5 * SIZE * characters * measures.TYPE.slack + 1e-6


def test_lines_break_between_words() -> None:
    assert wrap("Fold the bottom edge to the top edge", width_for(12), SIZE, half_em) == [
        "Fold the",
        "bottom edge",
        "to the",
        "top edge",
    ]


def test_a_word_stands_alone_at_the_end_only_where_no_other_can_come_along() -> None:
    assert wrap("along the fold line", width_for(14), SIZE, half_em) == ["along the", "fold line"]
    assert wrap("press along lengthwise", width_for(11), SIZE, half_em) == [
        "press along",
        "lengthwise",
    ]


def test_a_letter_holds_on_to_the_word_before_it() -> None:
    lines = wrap("The creases cross at the centre, O.", width_for(32), SIZE, half_em)
    assert lines == ["The creases cross at the", "centre, O."]
    assert wrap("Fold to the top. A flap", width_for(18), SIZE, half_em)[1] == "A flap"


def test_a_number_holds_on_to_its_unit() -> None:
    lines = wrap("about 141 × 141 mm", width_for(15), SIZE, half_em)
    assert lines == ["about", "141 × 141 mm"]
    assert wrap("5 mm 5 mm", width_for(7), SIZE, half_em) == ["5 mm", "5 mm"]


def test_slack_is_kept() -> None:
    """A line exactly as wide as the column is broken: another renderer may set it wider."""
    assert wrap("ab cd", 5 * 0.5 * SIZE, SIZE, half_em) == ["ab", "cd"]


def test_line_breaks_in_the_text_are_kept() -> None:
    assert wrap("one\ntwo\n\nthree", width_for(20), SIZE, half_em) == ["one", "two", "", "three"]


def test_no_break_space_keeps_words_together() -> None:
    assert wrap("fold 3\u00a0mm off", width_for(6), SIZE, half_em) == ["fold", "3\u00a0mm", "off"]


def test_long_word_is_broken_after_a_hyphen_first() -> None:
    assert wrap("sailing-boat", width_for(9), SIZE, half_em) == ["sailing-", "boat"]


def test_long_word_without_hyphen_is_broken_anywhere() -> None:
    assert wrap("a abcdefghij b", width_for(4), SIZE, half_em) == ["a", "abcd", "efgh", "ij b"]


def test_a_combining_mark_stays_with_its_letter() -> None:
    word = "x\u0323\u0301" * 4  # has no single character in Unicode
    for line in wrap(word, width_for(3), SIZE, half_em):
        assert not unicodedata.combining(line[0])


@pytest.mark.parametrize(
    ("word", "clusters"),
    [
        ("พับครึ่ง", ["พับ", "ค", "รึ่", "ง"]),  # fold in half
        ("แล้วตั้ง", ["แล้", "ว", "ตั้ง"]),  # then stand up
        ("กระดาษ", ["ก", "ระ", "ดา", "ษ"]),  # paper
        ("मोड़ें", ["मो", "ड़ें"]),  # fold
    ],
)
def test_a_line_ends_at_no_mark_or_vowel_of_a_letter(word: str, clusters: list[str]) -> None:
    narrow = wrap(word * 3, width_for(1), SIZE, half_em)
    assert narrow == [unicodedata.normalize("NFC", one) for one in clusters * 3]


def test_letters_are_composed() -> None:
    assert wrap("e\u0301", width_for(9), SIZE, half_em) == ["\u00e9"]


def test_one_character_wider_than_the_column_stands_alone() -> None:
    assert wrap("ab", 1.0, SIZE, half_em) == ["a", "b"]


@given(st.text(alphabet="ab -/\u0301é漢", max_size=60), st.integers(2, 30))
def test_nothing_is_lost_and_every_line_fits(text: str, characters: int) -> None:
    lines = wrap(text, width_for(characters), SIZE, half_em)
    kept = "".join("".join(lines).split())
    assert kept == "".join(unicodedata.normalize("NFC", text).split())
    marks = max((sum(map(unicodedata.combining, w)) for w in text.split()), default=0)
    if not marks:
        assert all(len(line) <= characters for line in lines)


def test_block_is_as_high_as_its_lines() -> None:
    one = text_block("one", 100.0, SIZE, half_em, "text.caption")
    three = text_block("one\ntwo\nthree", 100.0, SIZE, half_em, "text.caption")
    assert len(three.items) == 3
    assert three.height > 3 * SIZE > one.height
    assert text_block("  ", 100.0, SIZE, half_em, "text.caption").height < 1e-9


def test_a_long_note_may_run_on_to_the_next_page() -> None:
    parts = paragraph("word " * 200, 100.0, SIZE, half_em)
    assert len(parts) > 3
    assert max(part.height for part in parts) < 12 * SIZE


def test_shortened_ends_with_an_ellipsis() -> None:
    assert shortened("short", width_for(10), SIZE, half_em) == "short"
    assert shortened("a title that is long", width_for(10), SIZE, half_em) == "a title t…"


def test_no_line_of_japanese_starts_with_a_full_stop_or_ends_with_an_opening_bracket() -> None:
    """UAX 14, LB 13 and 14; JIS X 4051 asks for the same."""
    text = "右下の辺を「中央」の折り筋に合わせます。左右の形が同じになります。"
    for characters in range(4, len(text)):
        lines = wrap(text, width_for(characters), SIZE, half_em)
        assert "".join(lines) == text
        assert not any(line[0] in "。」、" for line in lines)
        assert not any(line[-1] == "「" for line in lines)


def test_text_read_from_the_right_is_set_flush_right() -> None:
    text = "\u05e7\u05e4\u05dc\u05d5 A \u05d0\u05dc C"
    block = text_block(text, 200.0, SIZE, half_em, "text.caption")
    (item,) = block.items
    assert item.at[0] == 200.0
    assert isinstance(item.content, Text)
    assert item.content.anchor == "end"
    assert item.content.text == text


def test_a_line_says_how_its_paragraph_is_read() -> None:
    """A line of Hebrew that begins with a letter of the figure would else be read from the left."""
    words = "\u05e7\u05e4\u05dc\u05d5 \u05d0\u05dc A"
    block = text_block(words, width_for(8), SIZE, half_em, "text.caption")
    lines = [item.content.text for item in block.items if isinstance(item.content, Text)]
    assert lines[0].startswith("\u05e7")
    assert all(read_backward(line) for line in lines)
    latin = text_block(
        "Fold \u05e7\u05e4\u05dc\u05d5 along", width_for(6), SIZE, half_em, "text.caption"
    )
    assert not any(
        read_backward(item.content.text) for item in latin.items if isinstance(item.content, Text)
    )
