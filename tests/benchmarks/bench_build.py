"""How long a model takes: cold, as a whole process, and warm, inside one. Asserts no time.

Run by hand, not with the tests (the file's name keeps it out); DEVELOPERS.md has the command and
the figures. The model is the first sample of twelve steps or more.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from foldscript.drawing.draw import draw
from foldscript.drawing.styles import load_style
from foldscript.folding.fold import fold
from foldscript.moves.registry import verbs
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.syntax.parser import parse
from foldscript.syntax.reading import read_source

from ..command import run

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


def twelve_steps() -> Path:
    """A sample with twelve steps, or the next longer one."""
    longer = {}
    for path in sorted(SAMPLES.glob("*.foldscript")):
        count = len(parse(read_source(path), verbs()).steps)
        if count >= 12:
            longer.setdefault(count, path)
    return longer[min(longer)]


@pytest.mark.parametrize("command", ["build --format svg", "build", "check"])
def test_cold(benchmark: BenchmarkFixture, tmp_path: Path, command: str) -> None:
    """The whole process, from the shell's call to its exit."""
    verb, *options = command.split()
    where = ["--out", str(tmp_path)] if verb == "build" else []
    done = benchmark.pedantic(
        run,
        args=(verb, twelve_steps(), *options, *where),
        kwargs={"cwd": tmp_path},
        rounds=7,
        warmup_rounds=1,
    )
    assert done.code == 0, done.err


def test_version(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """What every call pays."""
    benchmark.pedantic(run, args=("--version",), kwargs={"cwd": tmp_path}, rounds=9)


def test_warm_fold_and_draw(benchmark: BenchmarkFixture) -> None:
    """Folding and drawing all steps in a process that has done it before."""
    path = twelve_steps()
    program = parse(read_source(path), verbs())
    style, frame = load_style(), figure_frame(page_size("A4"))
    figures = benchmark(lambda: draw(fold(program, path), style, frame))
    assert len(figures) >= 12


def test_warm_parse(benchmark: BenchmarkFixture) -> None:
    """Reading the script alone."""
    source = read_source(twelve_steps())
    benchmark(lambda: parse(source, verbs()))
