"""`python -m foldscript.languages`: a new language's catalogue, and one that is half filled in."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.languages import __main__ as command
from foldscript.languages.language import load_language


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(command, "LOCALE", tmp_path)
    return tmp_path / "it.po"


def test_a_new_language_is_empty_and_can_be_tried(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert command.main(["it"]) == 0
    assert "to be translated" in capsys.readouterr().out
    text = place.read_text("utf-8")
    place.write_text(
        text.replace('msgid "Unfold."\nmsgstr ""', 'msgid "Unfold."\nmsgstr "Apri."'), "utf-8"
    )
    assert command.main([]) == 0
    italian = load_language(str(place))
    assert (italian("Unfold."), italian("Unfold everything.")) == ("Apri.", "Unfold everything.")


def test_a_sentence_that_is_gone_is_dropped_and_a_fuzzy_one_not_used(place: Path) -> None:
    command.main(["it"])
    text = place.read_text("utf-8")
    text = text.replace('msgid "Unfold."\nmsgstr ""', '#, fuzzy\nmsgid "Unfold."\nmsgstr "Apri."')
    place.write_text(text + '\nmsgid "Nobody says this."\nmsgstr "Nessuno."\n', "utf-8")
    command.main([])
    assert "Nobody" not in place.read_text("utf-8")
    assert "Apri." in place.read_text("utf-8")
    assert load_language(str(place))("Unfold.") == "Unfold."


def test_a_catalogue_that_is_wrong_is_left_alone(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command.main(["it"])
    text = place.read_text("utf-8").replace(
        'msgid "Repeat {steps}."\nmsgstr ""', 'msgid "Repeat {steps}."\nmsgstr "Ripeti."'
    )
    place.write_text(text, "utf-8")
    assert command.main([]) == 1
    assert "it lacks {steps}" in capsys.readouterr().err
    assert place.read_text("utf-8") == text
