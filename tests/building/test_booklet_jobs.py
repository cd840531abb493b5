"""A booklet's models are drawn in several processes: the same pages, the same faults."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building import booklet_pages
from foldscript.building.binding import bind, booklet_options
from foldscript.source.diagnostics import FoldscriptError

from ..command import CARD, script

#: Ends standing, so that a pose has to go to the process that draws it.
BENCH = """\
model "Bench"
sheet square 15 cm, coloured side down

step
  crease along line 4 cm from the top edge as k
step
  crease along line 4 cm from the bottom edge as m
step "Fold both ends up: a bench upside down."
  raise along k to 100 degrees, along m to 120 degrees
"""


def shelf(folder: Path, card: str = CARD, page: str = "A5") -> Path:
    script(folder, "card", card)
    script(folder, "bench", BENCH)
    path = folder / "two.toml"
    models = 'models = ["card.foldscript", "bench.foldscript"]'
    path.write_text(f'title = "Two"\n{models}\npage = "{page}"\n', encoding="utf-8")
    return path


def bound(path: Path, jobs: int) -> bytes:
    out = path.with_name(f"out{jobs}")
    bind(path, out, booklet_options("", "", False, jobs=jobs))
    return (out / "two/two.pdf").read_bytes()


@pytest.fixture(autouse=True)
def _a_process_for_every_figure(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(booklet_pages, "FIGURES_A_PROCESS", 1)


def drawn_here(*_: object) -> None:
    raise AssertionError("drawn in the first process")


def test_several_processes_give_the_bytes_of_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = shelf(tmp_path)
    one = bound(path, 1)
    monkeypatch.setattr(booklet_pages, "_chapter", drawn_here)
    assert bound(path, 2) == one


def test_what_is_wrong_is_told_from_another_process(tmp_path: Path) -> None:
    path = shelf(
        tmp_path, CARD.replace("Fold in half again.", "Fold it in half. " * 110), page="A6"
    )
    told = []
    for jobs in (1, 2):
        with pytest.raises(FoldscriptError) as refused:
            bound(path, jobs)
        told.append([(fault.code, fault.message) for fault in refused.value.diagnostics])
    assert told[0] == told[1]
    assert [code for code, _ in told[0]] == ["caption-too-long"]


def test_a_process_that_dies_leaves_its_model_to_the_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = shelf(tmp_path)
    one = bound(path, 1)
    monkeypatch.setattr(booklet_pages, "_drawn", "nothing that can be called")
    assert bound(path, 2) == one


def test_few_figures_are_drawn_in_the_first_process(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(booklet_pages, "FIGURES_A_PROCESS", 12)
    monkeypatch.setattr(booklet_pages, "processes", drawn_elsewhere)
    assert bound(shelf(tmp_path), 2)


def drawn_elsewhere(jobs: int) -> None:
    raise AssertionError("another process was begun")
