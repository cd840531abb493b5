"""How long it takes to see that nothing has changed: the whole process. Asserts no time."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from ..command import run

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


@pytest.mark.parametrize(
    "command", [("build", "helmet.foldscript"), ("build", "."), ("booklet", "club-booklet.toml")]
)
def test_unchanged(benchmark: BenchmarkFixture, tmp_path: Path, command: tuple[str, str]) -> None:
    """Built once before."""
    verb, what = command
    args = (verb, SAMPLES / what, "--out", tmp_path)
    assert run(*args, cwd=tmp_path).code == 0
    done = benchmark.pedantic(run, args=args, kwargs={"cwd": tmp_path}, rounds=7)
    assert done.out.count("\n") == done.out.count(" (unchanged)\n")
