"""Builds killed fifty times at random moments. Nothing is timed; it is here because it takes minutes.

.venv/bin/pytest tests/benchmarks/bench_killed.py
"""

from __future__ import annotations

import random
from pathlib import Path

from ..command import CARD, COMMAND, script
from ..output.killing import killed_builds, killed_writers

TIMES = 50
BOOKLET = 'title = "Club"\nmodels = ["card.foldscript", "hat.foldscript"]\nimposed = true\n'


def test_killed_while_writing(tmp_path: Path) -> None:
    kinds = []
    for left in killed_writers(tmp_path / "cup", 4 * TIMES, random.Random(50)):
        (kind,) = {data[:1] for data in left.values()}
        assert len(left) == (15 if kind == b"A" else 12)
        kinds.append(kind)
    assert len(set(kinds)) == 2, "both were seen, so the moments were random enough"


def test_builds(tmp_path: Path) -> None:
    script(tmp_path)

    def change(k: int) -> None:
        script(tmp_path, text=CARD.replace("Fold in half", f"Fold it in half, {k}"))

    command = [COMMAND, "build", "card.foldscript"]
    news = 0
    for before, left, after in killed_builds(command, tmp_path, change, TIMES, random.Random(7)):
        assert before != after
        assert left in (before, after)
        news += left == after
    print(f"{TIMES} builds killed: {news} after their files were in place")


def test_booklets(tmp_path: Path) -> None:
    kill_booklets(tmp_path, BOOKLET, random.Random(9))


def test_booklets_in_several_languages(tmp_path: Path) -> None:
    kill_booklets(tmp_path, BOOKLET + 'language = ["en", "es", "fr"]\n', random.Random(11))


def kill_booklets(folder: Path, booklet: str, moments: random.Random) -> None:
    script(folder)
    (folder / "club.toml").write_text(booklet, "utf-8")

    def change(k: int) -> None:
        text = CARD.replace('"Card"', '"Hat"').replace("Fold in half", f"Fold it in half, {k}")
        script(folder, "hat", text)

    change(99)
    command = [COMMAND, "booklet", "club.toml"]
    for before, left, after in killed_builds(command, folder, change, TIMES, moments):
        assert before != after
        assert left in (before, after)


def test_killed_while_writing_several_languages(tmp_path: Path) -> None:
    kinds = []
    for left in killed_writers(tmp_path / "cup", 4 * TIMES, random.Random(51), ["en/", "es/"]):
        (kind,) = {data[:1] for data in left.values()}
        assert len(left) == 2 * (15 if kind == b"A" else 12)
        kinds.append(kind)
    assert len(set(kinds)) == 2
