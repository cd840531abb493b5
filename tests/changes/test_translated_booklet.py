"""A translated booklet whose English is edited: nothing stale is printed, each changed page is told."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pypdf
import pytest

from ..command import CARD, Run, run

CLUB = 'title = "Club"\nmodels = ["card.foldscript", "hat.foldscript"]\nlanguage = ["en", "es", "de"]\n'
UP, AGAIN = "Fold the bottom edge to the top edge.", "Fold in half again."
NEW = "Fold it up, edge to edge."
SAYS = {
    "es": ("Lleva el borde de abajo al de arriba.", "Dobla otra vez por la mitad."),
    "de": ("Falte die untere Kante auf die obere.", "Falte noch einmal zur Hälfte."),
}
#: How the step begins where it is captioned by its move.
BY_ITS_MOVE = {
    "es": "Dobla el borde inferior hacia arriba",
    "de": "Falte die untere Kante nach oben",
}


@pytest.fixture
def club(tmp_path: Path) -> Path:
    folder = tmp_path / "club"
    folder.mkdir()
    (folder / "club.toml").write_text(CLUB, "utf-8")
    for name in ("card", "hat"):
        (folder / f"{name}.foldscript").write_text(CARD.replace("Card", name.title()), "utf-8")
        for tag, (up, again) in SAYS.items():
            rows = (
                f'1 = {{ of = "{UP}", says = "{up}" }}\n3 = {{ of = "{AGAIN}", says = "{again}" }}'
            )
            (folder / f"{name}.{tag}.toml").write_text(f"[steps]\n{rows}\n", "utf-8")
    shutil.copytree(folder, tmp_path / "before")
    return folder


def edit(folder: Path, was: str, now: str) -> None:
    script = folder / "hat.foldscript"
    text = script.read_text("utf-8")
    assert was in text
    script.write_text(text.replace(was, now), "utf-8")


def bound(club: Path) -> tuple[Run, dict[str, str]]:
    """The booklet printed, and what its pages say in each language, in one line."""
    done = run("booklet", "club.toml", "--format", "pdf", cwd=club)
    assert done.code == 0, done.err
    found: dict[str, str] = {}
    for tag in ("en", *SAYS):
        (file,) = [
            p for p in (club / "out").rglob("*.pdf") if tag in p.parts or f".{tag}." in p.name
        ]
        pages = pypdf.PdfReader(file).pages
        found[tag] = re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))
    return done, found


def test_what_is_stale_is_told_and_not_printed(club: Path) -> None:
    _, before = bound(club)
    for tag, (up, _) in SAYS.items():
        assert before[tag].count(up) == 2
    edit(club, UP, NEW)
    done, after = bound(club)
    assert after["en"].count(NEW) == after["en"].count(UP) == 1
    for tag, (up, again) in SAYS.items():
        assert f"hat.{tag}.toml" in done.err
        assert after[tag].count(up) == 1  # the other model's stays
        assert after[tag].count(BY_ITS_MOVE[tag]) == 1 + before[tag].count(BY_ITS_MOVE[tag])
        assert after[tag].count(again) == 2
    checked = run("check", "club.toml", "--strict", cwd=club)
    assert checked.code == 1
    assert checked.err.count("warning: ") == len(SAYS)
    edit(club, NEW, UP)  # and taken back, it belongs to its sentence again
    done, undone = bound(club)
    assert (undone, done.err) == (before, "")


def test_changes_tell_the_pages_of_each_language(club: Path) -> None:
    edit(club, UP, NEW)
    done = run("changes", "before/club.toml", "club/club.toml", "--format", "json", cwd=club.parent)
    assert done.code == 0, done.err
    told = {one["language"]: one["pages"] for one in json.loads(done.out)["booklets"]}
    assert told.keys() == {"en", *SAYS}
    assert all(pages for pages in told.values())


def test_a_step_put_in_or_taken_out_moves_no_translation(club: Path) -> None:
    new = f'step "Look."\n  turn over\n  turn over\nstep "{UP}"'
    edit(club, f'step "{UP}"', new)
    done, after = bound(club)
    for tag, said in SAYS.items():
        assert all(after[tag].count(one) == 2 for one in said), done.err


def test_sentences_left_behind_by_a_script_with_another_name_are_told(club: Path) -> None:
    """Side files are found by the script's name: one whose script was renamed is not passed over."""
    (club / "hat.foldscript").rename(club / "cap.foldscript")
    edited = CLUB.replace("hat.foldscript", "cap.foldscript")
    (club / "club.toml").write_text(edited, "utf-8")
    done = run("check", "club.toml", cwd=club)
    assert done.code == 0, done.err
    told = run("untranslated", "club.toml", "--language", "es", cwd=club)
    assert UP in told.out
