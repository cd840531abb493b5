"""`foldscript changes` as a person runs it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from foldscript.changes.comparing import Fate, Kind

from ..command import run
from .made import CARD
from .repository import in_git, needs_git, put

CLUB = 'title = "Club"\nmodels = ["card.foldscript", "hat.foldscript", "cap.foldscript"]\n'


def two(tmp_path: Path) -> None:
    for name in ("old", "new"):
        put(tmp_path / name, "card.foldscript", "hat.foldscript", "cap.foldscript")
        (tmp_path / name / "club.toml").write_text(CLUB)


def test_nothing_has_changed(tmp_path: Path) -> None:
    two(tmp_path)
    done = run("changes", "old", "new", cwd=tmp_path)
    assert (done.code, done.out, done.err) == (0, "3 models as before\n", "")
    assert not (tmp_path / "out").exists()


def test_words_and_a_page(tmp_path: Path) -> None:
    two(tmp_path)
    evil = CARD.replace("Two.", 'Fold <script>alert(1)</script> & \\" up.')
    put(tmp_path / "new", "hat.foldscript", text=evil)
    done = run("changes", "old", "new", "--out", "o", cwd=tmp_path)
    assert done.code == 0, done.err
    assert done.out.splitlines() == [
        "hat.foldscript: changed: 1 of 4 steps",
        "  step 2: only the words changed",
        "2 other models as before",
        "before and after: o/changes/changes.html",
    ]
    page = (tmp_path / "o/changes/changes.html").read_text("utf-8")
    assert "&lt;script&gt;alert(1)" in page
    assert "<script" not in page
    assert page.count("<svg") == 2
    assert not re.search(r"(?:src|href)=|url\(", page)
    assert "default-src 'none'" in page


def test_the_page_is_the_same_each_time(tmp_path: Path) -> None:
    two(tmp_path)
    put(tmp_path / "new", "hat.foldscript", text=CARD.replace("valley", "mountain"))
    pages = []
    for seed in ("1", "2"):
        run("changes", "old", "new", cwd=tmp_path, env={"PYTHONHASHSEED": seed})
        pages.append((tmp_path / "out/changes/changes.html").read_bytes())
    assert pages[0] == pages[1]


@pytest.mark.parametrize("imposed", [False, True])
def test_pages_to_print_again(tmp_path: Path, imposed: bool) -> None:
    """One caption in the second model of three: its page alone."""
    two(tmp_path)
    for name in ("old", "new"):
        text = CLUB + ('page = "A6"\nimposed = true\n' if imposed else 'page = "A6"\n')
        (tmp_path / name / "club.toml").write_text(text)
    put(tmp_path / "new", "hat.foldscript", text=CARD.replace("Two.", "Fold it up."))
    done = run("changes", "old/club.toml", "new/club.toml", cwd=tmp_path)
    assert done.code == 0, done.err
    (line,) = re.findall(r"club: print again (.*) of (\d+)\n", done.out)
    assert re.fullmatch(r"page \d+", line[0]), done.out
    assert ("imposed: sheet" in done.out) == imposed
    same = run("changes", "old/club.toml", "old/club.toml", cwd=tmp_path)
    assert "club: no page changed" in same.out


def test_each_language_of_a_booklet_is_looked_at(tmp_path: Path) -> None:
    """A Spanish caption changes the Spanish booklet's page, and no English one."""
    two(tmp_path)
    for name, said in (("old", "Dobla hacia arriba."), ("new", "Dobla la hoja hacia arriba.")):
        (tmp_path / name / "club.toml").write_text(CLUB + 'language = ["en", "es"]\n')
        side = f'[steps]\n2 = {{ of = "Two.", says = "{said}" }}\n'
        (tmp_path / name / "hat.es.toml").write_text(side)
    args = ("changes", "old/club.toml", "new/club.toml", "--exit-code")
    done = run(*args, cwd=tmp_path)
    assert done.code == 3, done.err
    assert "club (en): no page changed" in done.out
    assert re.search(r"club \(es\): print again page \d+ of \d+", done.out), done.out
    told = json.loads(run(*args, "--format", "json", cwd=tmp_path).out)
    assert [(b["language"], len(b["pages"])) for b in told["booklets"]] == [("en", 0), ("es", 1)]


def test_a_language_that_only_the_command_line_names_is_looked_at(tmp_path: Path) -> None:
    two(tmp_path)
    for name, said in (("old", "Dobla hacia arriba."), ("new", "Dobla la hoja hacia arriba.")):
        (tmp_path / name / "club.toml").write_text(CLUB)
        side = f'[steps]\n2 = {{ of = "Two.", says = "{said}" }}\n'
        (tmp_path / name / "hat.es.toml").write_text(side)
    settings = (
        tmp_path / "foldscript.toml"
    )  # as `booklet` does, `changes` goes by the booklet's file
    settings.write_text('languages = ["es"]\n')
    done = run("changes", "old/club.toml", "new/club.toml", cwd=tmp_path)
    assert "club: no page changed" in done.out, done.err
    settings.unlink()
    done = run("changes", "old/club.toml", "new/club.toml", "--language", "es", cwd=tmp_path)
    assert re.search(r"club: print again page \d+ of \d+", done.out), done.out
    args = ("changes", "old/club.toml", "new/club.toml", "--language", "en,es", "--format", "json")
    told = json.loads(run(*args, cwd=tmp_path).out)
    assert [(b["language"], len(b["pages"])) for b in told["booklets"]] == [("en", 0), ("es", 1)]


def test_thicker_paper_changes_the_inner_sheets_alone(tmp_path: Path) -> None:
    two(tmp_path)
    for name, creep in (("old", 0), ("new", 0.1)):
        (tmp_path / name / "club.toml").write_text(CLUB + f"imposed = true\ncreep = {creep}\n")
    done = run("changes", "old/club.toml", "new/club.toml", "--format", "json", cwd=tmp_path)
    assert done.code == 0, done.err
    (booklet,) = json.loads(done.out)["booklets"]
    assert booklet["pages"] == []
    assert booklet["sheets"] == list(range(2, booklet["sheet_count"] + 1))
    assert booklet["sheets"]
    done = run("changes", "old/club.toml", "new/club.toml", "--exit-code", cwd=tmp_path)
    assert done.code == 3
    assert "club, imposed: sheet" in done.out


def test_a_booklet_with_a_model_more(tmp_path: Path) -> None:
    two(tmp_path)
    (tmp_path / "old/club.toml").write_text(CLUB.replace(', "cap.foldscript"', ""))
    done = run("changes", "old/club.toml", "new/club.toml", cwd=tmp_path)
    assert done.code == 0, done.err
    assert "cap.foldscript: new, 4 steps" in done.out
    assert re.search(r"print again pages .* of \d+ \(\d+ before\)", done.out)


def test_what_does_not_fold_is_told(tmp_path: Path) -> None:
    two(tmp_path)
    put(tmp_path / "new", "hat.foldscript", text=CARD.replace("turn over", "turn ovr"))
    put(tmp_path / "new", "cap.foldscript", text=CARD.replace("Two.", "Up."))
    done = run("changes", "old", "new", cwd=tmp_path)
    assert done.code == 1
    assert "hat.foldscript: does not fold" in done.out
    assert "cap.foldscript: changed: 1 of 4 steps" in done.out
    assert f"new{'/'}hat.foldscript:9:3: error: 'turn ovr' is no move" in done.err


def test_other_programs_are_told(tmp_path: Path) -> None:
    """As foldscript/changes/README.md says."""
    two(tmp_path)
    text = CLUB + "imposed = true\n"
    for name in ("old", "new"):
        (tmp_path / name / "club.toml").write_text(text)
    json_, code = ("--format", "json"), "--exit-code"
    done = run("changes", "old", "new", *json_, code, cwd=tmp_path)
    assert done.code == 0, done.err
    told = json.loads(done.out)
    assert (told["format"], told["version"]) == ("foldscript-changes", 2)
    assert (told["changed"], told["page"], told["booklets"]) == (False, None, [])
    assert [model["fate"] for model in told["models"]] == ["same"] * 3

    put(tmp_path / "new", "hat.foldscript", text=CARD.replace("Two.", "Fold it up."))
    done = run("changes", "old/club.toml", "new/club.toml", *json_, code, cwd=tmp_path)
    assert done.code == 3, done.err
    told = json.loads(done.out)
    assert (told["changed"], told["page"]) == (True, "out/changes/changes.html")
    (hat,) = [model for model in told["models"] if model["fate"] != "same"]
    assert (hat["name"], hat["was"], hat["fate"]) == ("hat.foldscript", "hat.foldscript", "changed")
    assert hat["steps"] == [{"number": 2, "was": 2, "change": "words"}]
    (booklet,) = told["booklets"]
    assert booklet["name"] == "club"
    assert len(booklet["pages"]) == 1
    assert booklet["page_count"] == booklet["page_count_before"]
    assert len(booklet["sheets"]) == 1
    assert 1 <= booklet["sheets"][0] <= booklet["sheet_count"]
    readme = (Path(__file__).parents[2] / "foldscript/changes/README.md").read_text("utf-8")
    for key in (*told, *hat, *hat["steps"][0], *booklet):
        assert f"`{key}`" in readme, key
    for kind in (*Kind, *Fate):
        assert f'`"{kind.name.lower()}"`' in readme, kind


def test_the_exit_code_tells_of_changes_when_asked(tmp_path: Path) -> None:
    two(tmp_path)
    put(tmp_path / "new", "cap.foldscript", text=CARD.replace("Two.", "Up."))
    assert run("changes", "old", "new", cwd=tmp_path).code == 0
    assert run("changes", "old", "new", "--exit-code", cwd=tmp_path).code == 3
    assert run("changes", "old", "old", "--exit-code", cwd=tmp_path).code == 0
    put(tmp_path / "new", "hat.foldscript", text=CARD.replace("turn over", "turn ovr"))
    done = run("changes", "old", "new", "--exit-code", "--format", "json", cwd=tmp_path)
    assert done.code == 1, "what is wrong comes before what has changed"
    assert {model["fate"] for model in json.loads(done.out)["models"]} == {
        "same",
        "changed",
        "broken",
    }


@needs_git
def test_since_a_revision(home: Path) -> None:
    done = run("changes", "--since", "v1", cwd=home)
    assert done.code == 0, done.err
    assert "shelf/card.foldscript: changed: 1 of 4 steps" in done.out
    assert "v1" in (home / "out/changes/changes.html").read_text("utf-8")
    between = run("changes", "--since", "v1", "--until", "v2", "shelf/club.toml", cwd=home)
    assert between.code == 0, between.err
    assert "club: print again" in between.out
    assert run("changes", "--since", "v2", "--until", "v2", cwd=home).out == "3 models as before\n"


@needs_git
def test_an_old_version_that_does_not_fold(home: Path) -> None:
    put(home, "hat.foldscript", text=CARD.replace("turn over", "turn ovr"))
    in_git(home, "commit", "-qam", "wrong")
    put(home, "hat.foldscript")
    done = run("changes", "--since", "HEAD", "hat.foldscript", cwd=home)
    assert done.code == 0
    assert "hat.foldscript (HEAD):9:3: warning:" in done.err
    assert "hat.foldscript: new, 4 steps" in done.out
    assert "/tmp" not in done.out + done.err.replace(str(home), "")


@needs_git
def test_misuse(home: Path) -> None:
    for command in (["a"], [], ["--until", "v1"], ["--since", "v1", "shelf", "hat.foldscript"]):
        assert run("changes", *command, cwd=home).code == 2
    assert run("changes", "--since", "v9", cwd=home).code == 1
    assert run("changes", "shelf", "shelf", "--style", "gray", cwd=home).code == 2


def test_the_page_shows_the_lines_of_the_script_in_colours(tmp_path: Path) -> None:
    """What has gone and what has come; words of the language are marked, words of a person escaped."""
    two(tmp_path)
    put(tmp_path / "new", "hat.foldscript", text=CARD.replace("Two.", "Fold & crease."))
    run("changes", "old", "new", cwd=tmp_path)
    page = (tmp_path / "out/changes/changes.html").read_text("utf-8")
    step = '<b class="opener">step</b> <b class="text">&quot;'
    assert re.findall(r"<(?:del|ins)>.*?</(?:del|ins)>", page) == [
        f"<del>- {step}Two.&quot;</b></del>",
        f"<ins>+ {step}Fold &amp; crease.&quot;</b></ins>",
    ]
    assert '<b class="verb">valley</b>' in page
