"""Work for several files at once: the same answers in the same order, whoever does it."""

from __future__ import annotations

import os
import sys
import time
from functools import partial
from pathlib import Path

import pytest

from foldscript.source.diagnostics import Diagnostic, FoldscriptError
from foldscript.terminal.dividing import begin
from foldscript.terminal.jobs import BYTES_A_PROCESS, Doing, Done, Told, in_turn, worth

PATHS = [Path(f"{name}.foldscript") for name in ("slow", "wrong", "broken", "fine")]


def _worked(path: Path, doing: Doing, *, ending: str) -> Told:
    doing("folding")
    if path.stem == "wrong":
        raise FoldscriptError(Diagnostic("some-code", "not so"))
    if path.stem == "broken":
        raise ZeroDivisionError("by zero")
    return f"{path.stem}{ending}, {os.environ.get('OMP_NUM_THREADS')}", ()


def _dying(path: Path, doing: Doing) -> Told:
    if path.stem == "broken":
        os._exit(3)
    return path.stem, ()


def _with_help(path: Path, doing: Doing) -> Told:
    """Waits until a core is free for what is divided."""
    until = time.monotonic() + 60
    while time.monotonic() < until and path.stem == "slow":
        begun = begin([os.getpid] * 2, doing)
        if begun is not None:
            begun.cancel()
            return "help", ()
        time.sleep(0.01)
    return "none", ()


def _nobody(path: Path) -> Doing:
    return lambda stage: None


def _results(jobs: int) -> list[Done]:
    return list(in_turn(PATHS, partial(_worked, ending="!"), jobs, _nobody))


def test_several_processes_answer_as_one_does(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("OMP_NUM_THREADS", "1")
    one, two = _results(1), _results(2)
    assert one == two
    assert [done.told for done in two] == ["slow!, 1", "", "", "fine!, 1"]
    assert two[1].notes[0].code == "some-code"
    assert two[2].notes[0].code == "internal-error"
    assert "broken.foldscript" in two[2].notes[0].message


def test_processes_calculate_on_one_core_each(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("OMP_NUM_THREADS", raising=False)
    assert _results(2)[0].told == "slow!, 1"
    assert "OMP_NUM_THREADS" not in os.environ


def test_a_process_that_dies_is_told_as_a_fault_of_its_file() -> None:
    found = list(in_turn(PATHS[1:], _dying, 2, _nobody))
    assert any(note.code == "internal-error" for done in found for note in done.notes)
    assert len(found) == 3


@pytest.mark.skipif(sys.platform != "linux", reason="processes are not copied here")
def test_cores_that_nothing_is_left_for_help_those_at_work() -> None:
    told = [done.told for done in in_turn(PATHS, _with_help, 2, _nobody)]
    assert told == ["help", "none", "none", "none"]


@pytest.mark.skipif(sys.platform != "linux", reason="processes are not copied here")
def test_one_file_has_the_help_of_all_cores() -> None:
    assert [done.told for done in in_turn(PATHS[:1], _with_help, 1, _nobody, 2)] == ["help"]


def test_whoever_waits_is_told_which_file_is_worked_on() -> None:
    heard: list[str] = []
    doing = lambda path: lambda stage: heard.append(f"{stage} {path.stem}")  # noqa: E731
    list(in_turn(PATHS, partial(_worked, ending=""), 2, doing))
    assert heard == [f"working on {path.stem}" for path in PATHS]


@pytest.mark.parametrize(
    ("lengths", "found"),
    [((), 0), ((300, 400), 0), ((1, 1, 1), 3), ((0.5, 0.5), 1), ((1, 1.5, 1, 1, 1), 4)],
)
def test_processes_are_begun_for_as_much_as_they_are_worth(
    tmp_path: Path, lengths: tuple[float, ...], found: int
) -> None:
    """At most four; lengths in what one process is worth, and in bytes from a hundred on."""
    paths = [tmp_path / f"{k}.foldscript" for k in range(len(lengths))]
    for path, length in zip(paths, lengths, strict=True):
        path.write_bytes(b"#" * int(length if length > 99 else length * BYTES_A_PROCESS))
    assert worth([*paths, tmp_path / "missing.foldscript"], 4) == found
