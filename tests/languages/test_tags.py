"""Language codes, and what is told of words that are none (codes: ISO 639-1; length of others: RFC 5646)."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.captions.side_file import misnamed, side_files
from foldscript.languages.language import load_language
from foldscript.languages.tags import code_of, is_tag
from foldscript.source.diagnostics import FoldscriptError

from ..beginners.test_beginners import followed, told


@pytest.mark.parametrize("tag", ["en", "pt-BR", "zh-Hant", "de", "gsw", "EO"])
def test_codes(tag: str) -> None:
    assert is_tag(tag)


@pytest.mark.parametrize("word", ["German", "xx", "jp", "english", "e", "deutsch", "de_", ""])
def test_no_codes(word: str) -> None:
    assert not is_tag(word)


def test_names_and_codes_of_countries_lead_to_codes() -> None:
    assert [code_of(word) for word in ("German", "deutsch", "jp", "français")] == [
        "de",
        "de",
        "ja",
        "fr",
    ]
    assert all(is_tag(code_of(word)) for word in ("English", "Czech", "cn", "ua", "gr", "dk"))
    assert code_of("klingon") == ""


@pytest.mark.parametrize(
    ("line", "mended"),
    [
        ("language German", "language de"),
        ('model français "Gobelet"', 'model fr "Gobelet"'),
        ('note jp "x"', 'note ja "x"'),
    ],
)
def test_the_hint_writes_the_code(line: str, mended: str) -> None:
    text, left = followed(f"{line}\nsheet square 15 cm\nstep\n  valley A to C\n")
    assert text.startswith(f"{mended}\n")
    assert left == []


def test_a_caption_in_a_language_by_its_name() -> None:
    text = 'sheet square 15 cm\nstep "Fold"\n  caption french "Pliez"\n  valley A to C\n'
    (found,) = told(text)
    assert (found.code, found.hints[0].text) == ("bad-language", "say 'fr' for French")


def test_an_option_that_is_no_code() -> None:
    with pytest.raises(FoldscriptError) as error:
        load_language("german")
    assert error.value.diagnostics[0].hints[0].text == "say 'de' for German"


def test_a_side_file_after_a_languages_name_is_told(tmp_path: Path) -> None:
    script = tmp_path / "cup.foldscript"
    for name in ("cup.german.toml", "cup.es.toml", "cup.plan.toml", "hat.german.toml"):
        (tmp_path / name).write_text("", "utf-8")
    (warning,) = misnamed(script)
    assert warning.hints[0].text == "call the file cup.de.toml"
    assert list(side_files(script)) == ["es"]
