"""All of a model's files, or none: what `write_files` promises."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from foldscript.output.writing import write_files
from foldscript.source.diagnostics import FoldscriptError


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_files_are_written_into_a_new_folder(tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "cup"
    written = write_files(folder, {"cup-01.svg": b"one", "cup.pdf": b"all"}, "cup")
    assert written == [folder / "cup-01.svg", folder / "cup.pdf"]
    assert [path.read_bytes() for path in written] == [b"one", b"all"]
    assert names(folder) == ["cup-01.svg", "cup.pdf"]


def test_steps_of_a_longer_build_go_away_and_nothing_else(tmp_path: Path) -> None:
    keep = ["cup-02.png", "cup-notes.svg", "cup.pdf", "cup-1.svg", "teacup-02.svg", "cup-02.svgz2"]
    for name in [*keep, "cup-01.svg", "cup-02.svg", "cup-03a.svg", "cup-100.svg"]:
        (tmp_path / name).write_bytes(b"old")
    (tmp_path / "cup-09.svg").mkdir()
    write_files(tmp_path, {"cup-01.svg": b"new"}, "cup")
    assert names(tmp_path) == sorted([*keep, "cup-01.svg", "cup-09.svg"])
    assert (tmp_path / "cup-01.svg").read_bytes() == b"new"


def test_a_figure_half_way_that_is_no_longer_made_goes_away(tmp_path: Path) -> None:
    for name in ("cup-07.svg", "cup-07-half.svg", "cup-07-half.png"):
        (tmp_path / name).write_text("old")
    write_files(tmp_path, {"cup-07.svg": b"new"}, "cup")
    assert names(tmp_path) == ["cup-07-half.png", "cup-07.svg"]


def test_a_handout_alone_leaves_the_pictures(tmp_path: Path) -> None:
    (tmp_path / "cup-01.svg").write_bytes(b"old")
    write_files(tmp_path, {"cup.pdf": b"new"}, "cup")
    assert names(tmp_path) == ["cup-01.svg", "cup.pdf"]


def test_pictures_of_pages_and_of_steps_are_kept_apart(tmp_path: Path) -> None:
    for name in ("cup-02.png", "cup-page-1.png", "cup-page-2.png"):
        (tmp_path / name).write_bytes(b"old")
    write_files(tmp_path, {"cup-page-1.png": b"new"}, "cup")
    assert names(tmp_path) == ["cup-02.png", "cup-page-1.png"]


def test_a_name_with_signs_of_patterns_is_taken_literally(tmp_path: Path) -> None:
    (tmp_path / "cup-02.svg").write_bytes(b"another model's")
    write_files(tmp_path, {"c.p-01.svg": b"new"}, "c.p")
    assert names(tmp_path) == ["c.p-01.svg", "cup-02.svg"]


def test_when_one_cannot_be_written_none_is(tmp_path: Path) -> None:
    (tmp_path / "cup-01.svg").write_bytes(b"old")
    (tmp_path / "cup.pdf").mkdir()
    with pytest.raises(FoldscriptError) as caught:
        write_files(tmp_path, {"cup-01.svg": b"new", "cup.pdf": b"new"}, "cup")
    (fault,) = caught.value.diagnostics
    assert fault.code == "cannot-write"
    assert "cup.pdf" in fault.message
    assert (tmp_path / "cup-01.svg").read_bytes() == b"old"
    assert names(tmp_path) == ["cup-01.svg", "cup.pdf"]


def test_a_full_disk_leaves_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "cup-01.svg").write_bytes(b"old")
    real = Path.write_bytes

    def full(path: Path, data: bytes) -> int:
        if "cup-02" in path.name:
            real(path, data[:1])
            raise OSError(28, "No space left on device", str(path))
        return real(path, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(FoldscriptError, match="no space left"):
        write_files(tmp_path, {"cup-01.svg": b"new", "cup-02.svg": b"new"}, "cup")
    assert names(tmp_path) == ["cup-01.svg"]
    assert (tmp_path / "cup-01.svg").read_bytes() == b"old"


def test_a_file_where_the_folder_should_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(FoldscriptError) as caught:
        write_files(tmp_path / "out" / "cup", {"cup.pdf": b"new"}, "cup")
    assert caught.value.diagnostics[0].code == "cannot-write"


def test_a_link_is_replaced_not_followed(tmp_path: Path) -> None:
    target = tmp_path / "elsewhere.svg"
    target.write_bytes(b"mine")
    folder = tmp_path / "cup"
    folder.mkdir()
    (folder / "cup-01.svg").symlink_to(target)
    write_files(folder, {"cup-01.svg": b"new"}, "cup")
    assert target.read_bytes() == b"mine"
    assert (folder / "cup-01.svg").read_bytes() == b"new"


def test_files_are_readable_as_the_umask_allows(tmp_path: Path) -> None:
    old = os.umask(0o022)
    try:
        (path,) = write_files(tmp_path, {"cup.pdf": b"new"}, "cup")
    finally:
        os.umask(old)
    assert path.stat().st_mode & 0o777 == 0o644
