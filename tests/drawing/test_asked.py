"""Figures drawn beside each other: the same drawings, each made once, whoever makes it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest

from foldscript.building.script import Script
from foldscript.drawing import asked
from foldscript.drawing.draw import _asked, draw, figures_meanwhile, finished_figure
from foldscript.drawing.kept import DrawingCache
from foldscript.drawing.row import Row
from foldscript.drawing.scene.groups import Sketch
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model

FRAME = (160.0, 160.0)
SAMPLES = Path(__file__).resolve().parents[2] / "samples"
Work = Callable[[], Sketch]


@dataclass
class Helper:
    """Draws what is begun at once, as far as it gets."""

    most: int = 1000
    begun: int = 0
    cancelled: int = 0

    def begin(self, works: Sequence[Work]) -> Helper:
        self.works = works
        self.begun += 1
        return self

    def finished(self) -> list[Sketch | None]:
        return [work() if k < self.most else None for k, work in enumerate(self.works)]

    stopped = finished

    def cancel(self) -> None:
        self.cancelled += 1


@pytest.fixture(autouse=True)
def _always_worth_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(asked, "_WORTH", 0.0)


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What is really drawn."""
    seen: list[str] = []
    for name in ("compose", "half_way"):
        monkeypatch.setattr(asked, name, _noted(getattr(asked, name), name, seen))
    return seen


def _noted(make: Callable[..., Sketch], name: str, seen: list[str]) -> Callable[..., Sketch]:
    def noted(*given: Any) -> Sketch:
        seen.append(name)
        return make(*given)

    return noted


def swan() -> Model:
    """Has a step half way."""
    model, _ = Script(SAMPLES / "swan.foldscript").said()
    assert model.halves
    return model


def kept_with(helper: Helper) -> DrawingCache:
    kept = DrawingCache()
    kept.help = helper.begin
    return kept


@pytest.mark.parametrize("most", [1000, 3, 0])
def test_figures_are_the_same_and_each_is_drawn_once(made: list[str], most: int) -> None:
    model, style = swan(), load_style()
    alone = draw(model, style, FRAME), finished_figure(model, style, FRAME)
    drawn = sorted(made)
    del made[:]
    kept, helper = kept_with(Helper(most)), Helper(most)
    kept.help = helper.begin
    beside = draw(model, style, FRAME, kept), finished_figure(model, style, FRAME, kept)
    assert beside == alone
    assert sorted(made) == drawn
    assert helper.begun == 1


def test_what_is_in_space_is_drawn_by_this_process(made: list[str]) -> None:
    """For what is found of a pose is remembered for other sizes."""
    helper, model = Helper(0), swan()
    kept = kept_with(helper)
    asked.draw_beside(_asked(Row(model), load_style(), FRAME), model, load_style(), kept)
    assert len(helper.works) > 5
    assert sorted(made) == ["compose", "half_way"]


def test_only_the_figures_wanted_are_drawn(made: list[str]) -> None:
    helper = Helper()
    draw(swan(), load_style(), FRAME, kept_with(helper), only={1, 2})
    assert made == ["compose", "compose"]


def test_little_is_drawn_without_help(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(asked, "_WORTH", 1e6)
    helper = Helper()
    draw(swan(), load_style(), FRAME, kept_with(helper))
    assert not helper.begun


def test_flat_figures_are_drawn_while_it_is_found_how_the_model_stands(made: list[str]) -> None:
    """With what is found then, the figures lie as before, and only the step half way is new."""
    model, style = swan(), load_style()
    kept = kept_with(Helper())
    with figures_meanwhile(replace(model, halves={}), style, FRAME, kept):
        pass
    assert made.count("compose") > 5
    del made[:]
    kept.help = None
    assert draw(model, style, FRAME, kept)
    assert made == ["half_way"]


def test_steps_from_which_on_it_stands_wait_for_that(made: list[str]) -> None:
    script = Script(SAMPLES / "cup.foldscript")
    with figures_meanwhile(script.model, load_style(), FRAME, kept_with(Helper())):
        pass
    flat = next(s.number for s in script.model.steps if any(r.goals for r in s.records)) - 1
    assert 0 < len(made) <= flat


def test_drawings_are_not_wanted_any_more_where_something_is_wrong(made: list[str]) -> None:
    helper = Helper()
    kept = kept_with(helper)
    with (
        pytest.raises(ValueError, match="wrong"),
        figures_meanwhile(swan(), load_style(), FRAME, kept),
    ):
        raise ValueError("wrong")
    assert helper.cancelled
    assert made == []
