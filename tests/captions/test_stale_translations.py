"""Translations go with the sentence that they translate, and are told when the script says another one."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.checking import checked
from foldscript.building.script import Script
from foldscript.building.untranslated import report
from foldscript.captions.side_file import Original, read_side_file, toml_text
from foldscript.source.diagnostics import FoldscriptError

SCRIPT = """\
model "Card"
note "Thin paper is best."
sheet square 100 mm

step "Fold it in half."
  valley bottom edge onto top edge

step
  turn over

step "Fold it in half again."
  valley left edge onto right edge
"""
OLD = """\
title = "Tarjeta"
notes = ["Mejor con papel fino."]  # so says the trade

[steps]
# the first one
1 = "Dobla por la mitad."
3 = "Dobla otra vez por la mitad."
"""


@pytest.fixture
def card(tmp_path: Path) -> Path:
    path = tmp_path / "card.foldscript"
    path.write_text(SCRIPT, "utf-8")
    (tmp_path / "card.es.toml").write_text(OLD, "utf-8")
    return path


def renewed(card: Path) -> str:
    """The side file with the sentences in it."""
    report([card], ["es"], write=True)
    return card.with_name("card.es.toml").read_text("utf-8")


def captions(card: Path) -> list[str]:
    model, _ = Script(card).said("es")
    return [step.caption for step in model.steps]


def told(card: Path) -> list[str]:
    return [note.message for note in checked(card)[1]]


def test_sentences_are_put_beside_their_translations(card: Path) -> None:
    before = captions(card)
    assert renewed(card) == (
        'title = { of = "Card", says = "Tarjeta" }\n'
        'notes = [{ of = "Thin paper is best.", says = "Mejor con papel fino." }]  # so says the trade\n'
        "\n[steps]\n# the first one\n"
        '1 = { of = "Fold it in half.", says = "Dobla por la mitad." }\n'
        '3 = { of = "Fold it in half again.", says = "Dobla otra vez por la mitad." }\n'
    )
    once = renewed(card)
    assert renewed(card) == once
    assert (captions(card), told(card)) == (before, [])


def test_a_step_put_in_before_slides_nothing(card: Path) -> None:
    renewed(card)
    new = 'step "Lay it down."\n  rotate quarter turn clockwise\n\nstep "Fold it in half."'
    card.write_text(SCRIPT.replace('step "Fold it in half."', new), "utf-8")
    said = captions(card)
    assert said[1::2] == ["Dobla por la mitad.", "Dobla otra vez por la mitad."]
    assert (said[0], told(card)) == ("", [])  # what is new is said in foldscript's own words


@pytest.mark.parametrize(
    ("was", "now", "where"),
    [
        ("Fold it in half.", "Fold it in thirds.", "step 1 says 'Fold it in thirds.' now"),
        ('"Card"', '"Letter"', "the title says 'Letter' now"),
        ("Thin paper", "Thick paper", "note 1 says 'Thick paper is best.' now"),
    ],
)
def test_what_has_changed_is_told_and_said_in_english(
    card: Path, was: str, now: str, where: str
) -> None:
    renewed(card)
    card.write_text(SCRIPT.replace(was, now), "utf-8")
    (message,) = told(card)
    assert where in message
    model, _ = Script(card).said("es")
    said = [model.title, *model.own_notes, *(step.caption for step in model.steps)]
    assert sum(text in OLD for text in said if text) == 3  # all but one
    assert len(report([card], ["es"]).lines) == 1


def test_a_caption_taken_away(card: Path) -> None:
    renewed(card)
    card.write_text(SCRIPT.replace(' "Fold it in half again."', ""), "utf-8")
    assert "step 3 has no caption now" in told(card)[0]


def test_check_tells_what_is_wrong_in_a_side_file(card: Path) -> None:
    card.with_name("card.fr.toml").write_text('titel = "x"\n', "utf-8")
    with pytest.raises(FoldscriptError) as error:
        checked(card)
    assert [fault.code for fault in error.value.diagnostics] == ["unknown-key"]


@pytest.mark.parametrize("text", ['say "so"', "a\\b", "tab\there", "\x7f", "é – 折り"])
def test_texts_in_quotes_come_back(tmp_path: Path, text: str) -> None:
    path = tmp_path / "x.es.toml"
    path.write_text(f"title = {toml_text(text)}\n", "utf-8")
    assert read_side_file(path, "es", Original("x", "", "", (), (), ())).title == text.strip()
