"""Killed at any moment, a program leaves the old pages or the new ones, never some of each.

tests/benchmarks/bench_killed.py does the same more often.
"""

from __future__ import annotations

import os
import random
import sys
from pathlib import Path

import pytest

from foldscript.output import writing
from foldscript.output.swapping import exchange
from foldscript.output.writing import write_files
from foldscript.source.diagnostics import FoldscriptError

from ..command import CARD, COMMAND, script
from .killing import killed_builds, killed_writers

pytestmark = pytest.mark.skipif(os.name != "posix", reason="SIGKILL is POSIX")


@pytest.mark.skipif(sys.platform not in ("linux", "darwin"), reason="folders cannot be exchanged")
def test_folders_are_exchanged_at_one_stroke(tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    assert exchange(tmp_path / "one", tmp_path / "two")
    assert (tmp_path / "one" / "two").exists()
    assert (tmp_path / "two" / "one").exists()
    assert not exchange(tmp_path / "one", tmp_path / "none")


@pytest.mark.skipif(sys.platform not in ("linux", "darwin"), reason="folders cannot be exchanged")
def test_killed_while_writing(tmp_path: Path) -> None:
    seen = set()
    for left in killed_writers(tmp_path / "cup", 8, random.Random(5)):
        assert len({data[:1] for data in left.values()}) == 1, "some of each"
        assert len(left) == (15 if left["cup.pdf"] == b"A" else 12)
        seen.add(left["cup.pdf"])
    assert seen <= {b"A", b"B"}


@pytest.mark.skipif(sys.platform not in ("linux", "darwin"), reason="folders cannot be exchanged")
def test_killed_while_writing_several_languages(tmp_path: Path) -> None:
    """All languages are old or all are new."""
    out = tmp_path / "cup"
    (out / "mine").mkdir(parents=True)
    (out / "mine" / "photo").write_bytes(b"mine")
    for left in killed_writers(out, 12, random.Random(8), ["en/", "es/"]):
        assert left.pop(os.path.join("mine", "photo")) == b"mine"
        (kind,) = {data[:1] for data in left.values()}
        assert len(left) == 2 * (15 if kind == b"A" else 12)


def test_killed_while_building(tmp_path: Path) -> None:
    script(tmp_path)

    def change(k: int) -> None:
        script(tmp_path, text=CARD.replace("Fold in half", f"Fold it in half, {k}"))

    command = [COMMAND, "build", "card.foldscript", "--format", "svg"]
    for before, left, after in killed_builds(command, tmp_path, change, 4, random.Random(1)):
        assert before != after
        assert left in (before, after)


def test_killed_while_building_in_several_languages(tmp_path: Path) -> None:
    script(tmp_path)

    def change(k: int) -> None:
        script(tmp_path, text=CARD.replace("Fold in half", f"Fold it in half, {k}"))

    command = [COMMAND, "build", "card.foldscript", "--format", "svg", "--language", "en,es,nl"]
    for before, left, after in killed_builds(command, tmp_path, change, 4, random.Random(2)):
        assert before != after
        assert left in (before, after)


def test_what_was_killed_is_cleared_away_by_the_next(tmp_path: Path) -> None:
    out = tmp_path / "cup"
    for _ in killed_writers(out, 4, random.Random(3)):
        pass
    gone = 2**22 + 1  # more than Linux gives to a process: kernel, threads-max and PID_MAX_LIMIT
    (tmp_path / f".cup.{gone}.part").mkdir()
    (tmp_path / f".other.{gone}.part").mkdir()
    (out / f".cup-01.svg.{gone}.part").write_bytes(b"half")
    write_files(out, {"cup.pdf": b"new"}, "cup")
    assert sorted(p.name for p in tmp_path.iterdir()) == [f".other.{gone}.part", "cup"]
    assert not [p.name for p in out.iterdir() if p.name.endswith(".part")]
    assert (out / "cup.pdf").read_bytes() == b"new"


def test_what_belongs_to_others_stays_when_all_is_exchanged(tmp_path: Path) -> None:
    out = tmp_path / "cup"
    write_files(out, {"cup-01.svg": b"1", "cup-02.svg": b"2"}, "cup")
    (out / "notes.txt").write_text("mine")
    (out / "link").symlink_to("nowhere")
    write_files(out, {"cup-01.svg": b"3", "cup-02.svg": b"4"}, "cup", {".record": b"r"})
    assert (out / "notes.txt").read_text() == "mine"
    assert (out / "link").is_symlink()
    assert (out / ".record").read_bytes() == b"r"
    assert (out / "cup-02.svg").read_bytes() == b"4"


def test_a_folder_inside_stays_where_it_is(tmp_path: Path) -> None:
    out = tmp_path / "cup"
    write_files(out, {"cup-01.svg": b"1", "cup-02.svg": b"2"}, "cup")
    (out / "mine").mkdir()
    (out / "mine" / "photo").touch()
    write_files(out, {"cup-01.svg": b"3", "cup-02.svg": b"4"}, "cup")
    assert (out / "mine" / "photo").exists()
    assert (out / "cup-02.svg").read_bytes() == b"4"


def test_what_others_have_in_folders_below_stays(tmp_path: Path) -> None:
    """Also what they put there meanwhile, links, and rights."""
    out = tmp_path / "cup"
    write_files(out, {"es/cup-01.svg": b"1", "es/cup-02.svg": b"2", "fr/cup-01.svg": b"1"}, "cup")
    (out / "es" / "notes.txt").write_text("mine")
    (out / "es" / "link").symlink_to("nowhere")
    (out / "fr").chmod(0o700)
    write_files(out, {"es/cup-01.svg": b"3", "nl/cup-01.svg": b"3"}, "cup", {"es/.record": b"r"})
    assert {str(p.relative_to(out)) for p in out.rglob("*") if not p.is_dir()} == {
        "es/.record",
        "es/cup-01.svg",
        "es/link",
        "es/notes.txt",
        "fr/cup-01.svg",
        "nl/cup-01.svg",
    }
    assert (out / "es" / "link").is_symlink()
    assert (out / "fr").stat().st_mode & 0o777 == 0o700
    assert sorted(path.name for path in tmp_path.iterdir()) == ["cup"]


def test_what_comes_while_all_is_made_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "cup"
    write_files(out, {"es/cup-01.svg": b"1", "es/cup-02.svg": b"2"}, "cup")

    def late(one: Path, other: Path) -> bool:
        (other / "es" / "late.txt").write_text("late")
        (other / "photos").mkdir()
        (other / "photos" / "one").touch()
        return exchange(one, other)

    monkeypatch.setattr(writing, "exchange", late)
    write_files(out, {"es/cup-01.svg": b"3", "es/cup-02.svg": b"4"}, "cup")
    assert (out / "es" / "late.txt").read_text() == "late"
    assert (out / "photos" / "one").exists()
    assert (out / "es" / "cup-02.svg").read_bytes() == b"4"


def test_a_folder_below_that_is_a_link_is_followed(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    (tmp_path / "cup").mkdir()
    (tmp_path / "cup" / "es").symlink_to(tmp_path / "far")
    for data in (b"1", b"2"):
        write_files(tmp_path / "cup", {"es/cup-01.svg": data, "fr/cup-01.svg": data}, "cup")
    assert (tmp_path / "cup" / "es").is_symlink()
    assert (tmp_path / "far" / "cup-01.svg").read_bytes() == b"2"


def test_a_file_where_a_folder_should_be_is_told(tmp_path: Path) -> None:
    out = tmp_path / "cup"
    write_files(out, {"fr/cup.pdf": b"1"}, "cup")
    (out / "es").write_bytes(b"mine")
    with pytest.raises(FoldscriptError) as caught:
        write_files(out, {"fr/cup.pdf": b"2", "es/cup.pdf": b"2"}, "cup")
    (fault,) = caught.value.diagnostics
    assert fault.message == f"cannot write {str(out / 'es')!r}: is not a folder"
    assert (out / "fr" / "cup.pdf").read_bytes() == b"1"


def test_files_that_are_right_are_left_alone(tmp_path: Path) -> None:
    out = tmp_path / "cup"
    files = {"cup-01.svg": b"1", "cup-02.svg": b"2"}
    write_files(out, files, "cup")
    before = {p.name: p.stat().st_mtime_ns for p in out.iterdir()}, out.stat().st_ino
    write_files(out, files, "cup")
    assert ({p.name: p.stat().st_mtime_ns for p in out.iterdir()}, out.stat().st_ino) == before
    write_files(out, files | {"cup-02.svg": b"3"}, "cup")
    assert out.stat().st_ino == before[1], "one file alone is replaced in its folder"


def test_a_link_to_a_folder_is_followed(tmp_path: Path) -> None:
    (tmp_path / "far").mkdir()
    (tmp_path / "cup").symlink_to("far")
    for data in (b"1", b"2"):
        write_files(tmp_path / "cup", {"cup-01.svg": data, "cup-02.svg": data}, "cup")
    assert (tmp_path / "cup").is_symlink()
    assert (tmp_path / "far" / "cup-02.svg").read_bytes() == b"2"
