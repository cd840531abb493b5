"""Titles of parts in a side file."""

from __future__ import annotations

from pathlib import Path

from foldscript.building.script import Script
from foldscript.captions.untranslated import side_file_text, untranslated

TEXT = """
model "Box"
part "Box"
sheet square 10 cm
step "One."
  turn over
part "Lid"
sheet square 11 cm
step "Two."
  turn over
"""


def script(tmp_path: Path, side: str = "") -> Script:
    path = tmp_path / "box.foldscript"
    path.write_text(TEXT, "utf-8")
    if side:
        (tmp_path / "box.es.toml").write_text(side, "utf-8")
    return Script(path)


def test_titles_of_parts_in_another_language(tmp_path: Path) -> None:
    model, warnings = script(tmp_path, 'parts = ["Caja", ""]\n').said("es")
    assert [part.title for part in model.parts] == ["Caja", "Lid"]
    assert not warnings


def test_the_sheets_of_parts_are_translated(tmp_path: Path) -> None:
    model, _ = script(tmp_path).said("es")
    assert [part.sheet.shape for part in model.parts] == [
        "cuadrado de 10 cm",
        "cuadrado de 11 cm",
    ]


def test_more_titles_than_parts(tmp_path: Path) -> None:
    _, (warning,) = script(tmp_path, 'parts = ["Caja", "Tapa", "Asa"]\n').said("es")
    assert "has 2 parts with a title, and 3 are translated here" in warning.message


def test_what_is_untranslated(tmp_path: Path) -> None:
    one = script(tmp_path, 'parts = ["Caja"]\n')
    rows = untranslated(one.program, one.path, "es")
    assert [(row.what, row.text) for row in rows if row.kind == "part"] == [("part 2", "Lid")]
    text = side_file_text(rows, one.path, "es")
    assert 'parts = [\n  "",\n  { of = "Lid", says = "" },\n]\n' in text
