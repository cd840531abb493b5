"""`foldscript new`, and the settings of what it begins."""

from __future__ import annotations

from pathlib import Path

import pytest

from .command import run, script


def test_a_new_script_folds_and_is_laid_out(tmp_path: Path) -> None:
    assert run("new", "paper-boat", cwd=tmp_path).out == "paper-boat.foldscript: written\n"
    assert 'model "Paper boat"' in (tmp_path / "paper-boat.foldscript").read_text("utf-8")
    checked = run("check", "--strict", "paper-boat.foldscript", cwd=tmp_path)
    assert (checked.code, checked.err) == (0, "")
    assert run("format", "--check", ".", cwd=tmp_path).code == 0


def test_nothing_is_written_over(tmp_path: Path) -> None:
    path = script(tmp_path, "boat", "mine")
    done = run("new", "boat", cwd=tmp_path)
    assert (done.code, "is there already" in done.err, path.read_text()) == (1, True, "mine")
    (tmp_path / "club").mkdir()
    (tmp_path / "club/booklet.toml").write_text("mine")
    assert run("new", "club", "--collection", cwd=tmp_path).code == 1
    assert [p.name for p in (tmp_path / "club").iterdir()] == ["booklet.toml"]


@pytest.mark.parametrize("name", ['say "hi"', "a\\b", "\u202eboat", "-", "é" * 60])
def test_any_name_gives_a_title_that_folds(tmp_path: Path, name: str) -> None:
    path = tmp_path / f"{name}.foldscript"
    assert run("new", path, cwd=tmp_path).code == 0
    assert run("check", path, cwd=tmp_path).code == 0


def test_a_collection_makes_pages_where_its_settings_say(tmp_path: Path) -> None:
    assert run("new", "club", "--collection", cwd=tmp_path).code == 0
    club = tmp_path / "club"
    settings = club / "foldscript.toml"
    settings.write_text(settings.read_text("utf-8").replace('["pdf", "svg"]', '["svg"]'), "utf-8")
    assert run("build", "models", cwd=club).code == 0
    assert (club / "pages/first/first-01.svg").exists()
    assert not (club / "pages/first/first.pdf").exists()
    # from a folder below, out is still the one beside the settings
    assert run("build", "first.foldscript", cwd=club / "models").out.startswith(
        "first.foldscript: 3 files in ../pages/first"
    )
    checked = run("check", "--strict", "models", "booklet.toml", cwd=club)
    assert (checked.code, checked.err) == (0, "")
    # the command line goes before, and settings can be left out
    assert "here/first" in run("build", "models", "--out", "here", cwd=club).out
    assert "out/first" in run("--no-settings", "build", "--format", "svg", "models", cwd=club).out


def test_settings_of_a_project_file(tmp_path: Path) -> None:
    script(tmp_path)
    other = '[project]\nname = "x"\n\n[tool.foldscript]\nformats = "states"\nout = "made"\n'
    (tmp_path / "pyproject.toml").write_text(other, "utf-8")
    assert run("build", "card.foldscript", cwd=tmp_path).code == 0
    assert [p.name for p in (tmp_path / "made/card").glob("card*")] == ["card.states.json"]
    (tmp_path / "pyproject.toml").write_text("this is = no toml", "utf-8")  # nothing of ours
    assert run("check", "card.foldscript", cwd=tmp_path).code == 0


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('pagge = "A4"', "foldscript.toml:1:1: 'pagge' means nothing here; did you mean 'page'?"),
        ("page = 4", "foldscript.toml:1:8: a text in quotes is wanted here"),
        ('formats = ["svg", ""]', "foldscript.toml:1:19: nothing is named here"),
        ('page = "A44"', "no page size 'A44'"),
        ('page = "A44"', "(from the settings file: page A44)"),
        ("[[[", "foldscript.toml:1:"),
    ],
)
def test_wrong_settings_are_told_where_they_are(tmp_path: Path, text: str, told: str) -> None:
    script(tmp_path)
    (tmp_path / "foldscript.toml").write_text(text, "utf-8")
    done = run("build", "card.foldscript", "--format", "svg", cwd=tmp_path)
    assert (done.code, told in done.err) == (2, True), done.err
    assert not (tmp_path / "out").exists()


def test_a_booklet_keeps_the_page_of_its_own_file(tmp_path: Path) -> None:
    script(tmp_path)
    (tmp_path / "foldscript.toml").write_text('page = "A4"\nout = "made"\n', "utf-8")
    (tmp_path / "club.toml").write_text('title = "A"\nmodels = ["."]\n', "utf-8")
    done = run("booklet", "club.toml", cwd=tmp_path)
    assert "pages of A5" in done.out
    assert (tmp_path / "made/club/club.pdf").exists()
