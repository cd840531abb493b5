"""How long drawing takes in a process that has drawn before. Asserts no time.

Run by hand, as DEVELOPERS.md says. The crane has 17 steps and up to 58 facets; its figures are
drawn one by one, from states that nothing is remembered of.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from foldscript.drawing.draw import draw
from foldscript.drawing.figure import compose
from foldscript.drawing.framing.framing import framings, outlined
from foldscript.drawing.style.styles import load_style
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model, Panel
from foldscript.moves.registry import verbs
from foldscript.output.svg import scene_svg
from foldscript.pages.grid import figure_frame
from foldscript.pages.sizes import page_size
from foldscript.source.reading import read_script
from foldscript.syntax.parser import parse

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
CRANE, HELMET = SAMPLES / "crane.foldscript", SAMPLES / "helmet.foldscript"
STYLE, FRAME = load_style(), figure_frame(page_size("A4"))


def model_of(path: Path) -> Model:
    return fold(parse(read_script(path), verbs()), path)


@pytest.mark.parametrize("number", [3, 6, 11, 15, 17])
def test_one_step_of_the_crane(benchmark: BenchmarkFixture, number: int) -> None:
    """One figure, and nothing but the figure."""

    def fresh() -> tuple[tuple[object, ...], dict[str, object]]:
        model = model_of(CRANE)
        panels = [panel for step in model.steps for panel in step.panels]
        found = framings(outlined([*panels, Panel(model.finished, ())]), STYLE, FRAME)
        return (model, panels[number - 1], found[number - 1], STYLE), {}

    benchmark.pedantic(compose, setup=fresh, rounds=15, warmup_rounds=2)


def test_all_steps_of_the_crane(benchmark: BenchmarkFixture) -> None:
    def fresh() -> tuple[tuple[object, ...], dict[str, object]]:
        return (model_of(CRANE), STYLE, FRAME), {}

    figures = benchmark.pedantic(draw, setup=fresh, rounds=7, warmup_rounds=1)
    assert len(figures) == 17


def test_all_steps_of_the_helmet(benchmark: BenchmarkFixture) -> None:
    def fresh() -> tuple[tuple[object, ...], dict[str, object]]:
        return (model_of(HELMET), STYLE, FRAME), {}

    figures = benchmark.pedantic(draw, setup=fresh, rounds=15, warmup_rounds=2)
    assert len(figures) == 13


def test_writing_a_step_as_svg(benchmark: BenchmarkFixture) -> None:
    figures = draw(model_of(CRANE), STYLE, FRAME)
    data = benchmark(scene_svg, figures[-1].scene, STYLE)
    assert data.startswith(b"<?xml")
