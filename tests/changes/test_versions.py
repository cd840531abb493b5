"""Versions on the disk and in git: what belongs together, and what is said when there is none."""

from __future__ import annotations

from contextlib import ExitStack
from pathlib import Path

import pytest

from foldscript.changes import git
from foldscript.changes.versions import Version, pairs, revisions, two_paths
from foldscript.source.diagnostics import FoldscriptError

from .repository import needs_git, put


def code_of(caught: pytest.ExceptionInfo[FoldscriptError]) -> str:
    return caught.value.diagnostics[0].code


# --- on the disk ---------------------------------------------------------------------------


def test_scripts_belong_together_by_their_place(tmp_path: Path) -> None:
    put(tmp_path / "old", "a.foldscript", "term/b.foldscript", "gone.foldscript")
    put(tmp_path / "new", "a.foldscript", "term/b.foldscript", "come.foldscript")
    found = pairs(*two_paths(tmp_path / "old", tmp_path / "new"))
    assert [(p.name, p.old is not None, p.new is not None) for p in found] == [
        ("a.foldscript", True, True),
        ("come.foldscript", False, True),
        ("gone.foldscript", True, False),
        ("term/b.foldscript", True, True),
    ]


def test_a_file_with_another_name_and_the_same_title(tmp_path: Path) -> None:
    put(tmp_path / "old", "hat.foldscript")
    put(tmp_path / "new", "hat.foldscript")
    (tmp_path / "new/hat.foldscript").rename(tmp_path / "new/cap.foldscript")
    (pair,) = pairs(*two_paths(tmp_path / "old", tmp_path / "new"))
    assert (pair.name, pair.was) == ("cap.foldscript", "hat.foldscript")


def test_two_files_belong_together_whatever_their_names(tmp_path: Path) -> None:
    put(tmp_path, "old.foldscript", "new.foldscript")
    (pair,) = pairs(*two_paths(tmp_path / "old.foldscript", tmp_path / "new.foldscript"))
    assert pair.old == tmp_path / "old.foldscript"
    assert pair.new == tmp_path / "new.foldscript"


def test_a_file_and_a_folder_cannot_be_compared(tmp_path: Path) -> None:
    put(tmp_path, "old.foldscript")
    with pytest.raises(FoldscriptError) as caught:
        two_paths(tmp_path / "old.foldscript", tmp_path)
    assert code_of(caught) == "unlike-versions"


# --- in git --------------------------------------------------------------------------------


@needs_git
def test_a_folder_as_it_was(home: Path) -> None:
    with ExitStack() as stack:
        old, new = revisions(home / "shelf", "v1", "", stack)
        assert sorted(old.scripts()) == ["card.foldscript", "räder.foldscript"]
        assert "Two." in (old.path / "card.foldscript").read_text("utf-8")
        assert (new.path, new.words) == (home / "shelf", "now")
        taken = old.root
        assert taken is not None
        assert (taken / "hat.foldscript").exists(), "what scripts may start from is there too"
        assert not (taken / "shelf/photo.png").exists()
        assert not (taken / "shelf/link.foldscript").is_symlink()
    assert not taken.exists()


@needs_git
def test_two_revisions_and_a_booklet(home: Path) -> None:
    with ExitStack() as stack:
        old, new = revisions(home / "shelf/club.toml", "HEAD~1", "HEAD", stack)
        assert old.booklet
        assert [list(v.scripts()) for v in (old, new)] == [["card.foldscript"]] * 2
        texts = [(v.path.parent / "card.foldscript").read_text("utf-8") for v in (old, new)]
        assert ["Two." in texts[0], "2." in texts[1]] == [True, True]


@needs_git
def test_a_folder_that_was_not_there_was_empty(home: Path) -> None:
    put(home, "more/boat.foldscript")
    with ExitStack() as stack:
        versions = revisions(home / "more", "v1", "", stack)
        assert [(p.old, p.name) for p in pairs(*versions)] == [(None, "boat.foldscript")]


@needs_git
@pytest.mark.parametrize(
    "revision", ["v3", "", "--help", "--output=x", "HEAD:hat.foldscript", "v1\n", "v1;id", "a b"]
)
def test_no_such_revision(home: Path, revision: str) -> None:
    with pytest.raises(FoldscriptError) as caught:
        git.commit_of(git.repository(home), revision)
    assert code_of(caught) == "no-such-revision"
    assert not (home / "x").exists()


@needs_git
def test_no_repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    with pytest.raises(FoldscriptError) as caught:
        git.repository(tmp_path)
    assert code_of(caught) == "no-repository"


def test_no_git(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(FoldscriptError) as caught:
        git.repository(tmp_path)
    assert code_of(caught) == "no-git"
    assert "OLD NEW" in caught.value.diagnostics[0].hints[0].text


@needs_git
def test_a_script_that_is_new_since_then(home: Path) -> None:
    put(home, "boat.foldscript")
    with ExitStack() as stack, pytest.raises(FoldscriptError) as caught:
        revisions(home / "boat.foldscript", "v1", "", stack)
    assert code_of(caught) == "not-in-revision"


@needs_git
def test_what_is_wrong_with_an_old_file_is_said_of_that_file(home: Path) -> None:
    from foldscript.source.diagnostics import Diagnostic, Source

    version = Version(Path("/taken/shelf"), "v1", Path("/taken"))
    fault = Diagnostic("x", "y", source=Source("/taken/shelf/card.foldscript", ""))
    named = version.named(fault)
    assert named.source is not None
    assert named.source.name == "shelf/card.foldscript (v1)"
    other = Diagnostic("x", "y", source=Source("shelf/card.foldscript", ""))
    assert version.named(other) is other
