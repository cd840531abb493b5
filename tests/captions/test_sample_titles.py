"""A booklet in another language lists its models, their parts and bases under titles of that language."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.captions.untranslated import untranslated
from foldscript.languages.language import languages
from foldscript.source.finding import bases_folder

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
SCRIPTS = sorted((*SAMPLES.glob("*.foldscript"), *bases_folder().glob("*.foldscript")))


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_a_sample_has_a_title_in_every_language(path: Path) -> None:
    program = Script(path).program
    lacking = [
        (tag, row.text)
        for tag in languages()
        for row in untranslated(program, path, tag)
        if row.kind in ("title", "part")
    ]
    assert not lacking


def test_a_model_names_its_base_in_its_reader_s_language() -> None:
    script = Script(SAMPLES / "fortune-teller.foldscript")
    assert script.said("de")[0].notes[0] == "Ausgangsform: Blintz-Grundform."
    assert script.said("es-MX")[0].notes[0].endswith(": Base blintz.")
    assert script.said()[0].notes[0] == "Start from: Blintz base."


def test_a_base_without_a_title_in_a_language_keeps_its_own(tmp_path: Path) -> None:
    (tmp_path / "start.foldscript").write_text('model "First half"\nstep\nturn over\n', "utf-8")
    path = tmp_path / "rest.foldscript"
    path.write_text('start from "start.foldscript"\nstep\nturn over\n', "utf-8")
    assert Script(path).said("de")[0].notes[0] == "Ausgangsform: First half."
