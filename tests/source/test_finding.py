"""Which scripts the arguments stand for."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from foldscript.source import finding
from foldscript.source.finding import find_scripts


def script(folder: Path, name: str) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / name
    path.write_text('model "x"\n')
    return path


def codes(paths: list[Path]) -> tuple[list[Path], list[str]]:
    found, faults = find_scripts(paths)
    return found, [fault.code for fault in faults]


def test_a_folder_stands_for_its_scripts_by_name(tmp_path: Path) -> None:
    b, a = script(tmp_path, "b.foldscript"), script(tmp_path, "a.foldscript")
    deep = script(tmp_path / "hats", "c.foldscript")
    script(tmp_path, "notes.txt")
    script(tmp_path / ".git", "d.foldscript")
    script(tmp_path, ".hidden.foldscript")
    assert codes([tmp_path]) == ([a, b, deep], [])


def test_a_script_named_twice_is_built_once(tmp_path: Path) -> None:
    a = script(tmp_path, "a.foldscript")
    link = tmp_path / "z.foldscript"
    link.symlink_to(a)
    assert codes([a, tmp_path, tmp_path / "." / "a.foldscript"]) == ([a], [])


def test_scripts_of_one_name_are_refused_and_the_others_kept(tmp_path: Path) -> None:
    one, two = script(tmp_path / "x", "cup.foldscript"), script(tmp_path / "y", "Cup.foldscript")
    hat = script(tmp_path, "hat.foldscript")
    found, faults = find_scripts([one, two, hat])
    assert found == [hat]
    (fault,) = faults
    assert fault.code == "same-name"
    assert str(one) in fault.message
    assert str(two) in fault.message


def test_an_empty_folder_is_not_passed_over(tmp_path: Path) -> None:
    script(tmp_path, "notes.txt")
    assert codes([tmp_path]) == ([], ["no-scripts"])


def test_links_to_folders_are_not_followed(tmp_path: Path) -> None:
    a = script(tmp_path / "shelf", "a.foldscript")
    (tmp_path / "shelf" / "again").symlink_to(tmp_path / "shelf")
    assert codes([tmp_path / "shelf"]) == ([a], [])


def test_a_named_link_to_a_folder_is(tmp_path: Path) -> None:
    script(tmp_path / "shelf", "a.foldscript")
    (tmp_path / "link").symlink_to(tmp_path / "shelf")
    assert codes([tmp_path / "link"]) == ([tmp_path / "link" / "a.foldscript"], [])


def test_a_pipe_is_not_read(tmp_path: Path) -> None:
    pipe = tmp_path / "cup.foldscript"
    os.mkfifo(pipe)
    assert codes([tmp_path]) == ([], ["not-a-file"])


def test_a_huge_folder_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(finding, "MOST_ENTRIES", 3)
    for number in range(5):
        script(tmp_path, f"{number}.txt")
    assert codes([tmp_path]) == ([], ["folder-too-large"])


@pytest.mark.parametrize("name", ["...foldscript", ".. .foldscript"])
def test_a_name_that_would_lead_out_of_the_folder_is_refused(tmp_path: Path, name: str) -> None:
    assert codes([script(tmp_path, name)]) == ([], ["unusable-name"])


def test_scripts_of_one_name_may_be_looked_at_together(tmp_path: Path) -> None:
    for folder in ("a", "b"):
        script(tmp_path / folder, "cup.foldscript")
    assert find_scripts([tmp_path])[0] == []
    found, faults = find_scripts([tmp_path], names_apart=False)
    assert (len(found), faults) == (2, [])


@pytest.mark.parametrize(
    ("name", "code", "hint"),
    [
        ("club.toml", "not-a-script", "foldscript booklet"),
        (os.fsdecode(b"b\xff.foldscript"), "unusable-name", "rename the file"),
    ],
)
def test_files_that_are_no_scripts(tmp_path: Path, name: str, code: str, hint: str) -> None:
    try:
        (tmp_path / name).write_text("")
    except OSError:
        pytest.skip("this system refuses such a name")
    found, (fault,) = find_scripts([tmp_path / name])
    assert (found, fault.code) == ([], code)
    assert hint in fault.hints[0].text
