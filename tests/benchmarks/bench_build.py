"""How long a model takes: cold, as a whole process, and warm, inside one. Asserts no time.

Run by hand, not with the tests (the file's name keeps it out); DEVELOPERS.md has the command and
the figures. The model is the helmet, with its 13 steps.
"""

from __future__ import annotations

from itertools import count
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from foldscript.drawing.draw import draw
from foldscript.drawing.style.styles import load_style
from foldscript.folding.fold import fold
from foldscript.moves.registry import verbs
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.source.reading import read_script
from foldscript.syntax.parser import parse

from ..command import run

HELMET = Path(__file__).resolve().parents[2] / "samples" / "helmet.foldscript"


@pytest.mark.parametrize("command", ["build --format svg", "build", "check"])
def test_cold(benchmark: BenchmarkFixture, tmp_path: Path, command: str) -> None:
    """The whole process, from the shell's call to its exit, into a folder where nothing is yet."""
    verb, *options = command.split()
    fresh = (tmp_path / str(k) for k in count())

    def setup() -> tuple[tuple[object, ...], dict[str, object]]:
        where = ["--out", str(next(fresh))] if verb == "build" else []
        return (verb, HELMET, *options, *where), {"cwd": tmp_path}

    done = benchmark.pedantic(run, setup=setup, rounds=7, warmup_rounds=1)
    assert done.code == 0, done.err


def test_version(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """What every call pays."""
    benchmark.pedantic(run, args=("--version",), kwargs={"cwd": tmp_path}, rounds=9)


def test_warm_fold_and_draw(benchmark: BenchmarkFixture) -> None:
    """Folding and drawing all steps in a process that has done it before."""
    program = parse(read_script(HELMET), verbs())
    style, frame = load_style(), figure_frame(page_size("A4"))
    figures = benchmark(lambda: draw(fold(program, HELMET), style, frame))
    assert len(figures) == 13


def test_warm_parse(benchmark: BenchmarkFixture) -> None:
    """Reading the script alone."""
    source = read_script(HELMET)
    benchmark(lambda: parse(source, verbs()))
