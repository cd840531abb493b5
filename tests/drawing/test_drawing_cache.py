"""Drawings kept from an earlier version: the same scenes, and nothing drawn that is known."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from foldscript.drawing import asked as drawing
from foldscript.drawing.draw import draw, finished_figure, portrait
from foldscript.drawing.kept import DrawingCache
from foldscript.drawing.style.styles import load_style
from foldscript.folding.fold import fold
from foldscript.folding.steps import Model
from foldscript.moves.registry import verbs
from foldscript.source.diagnostics import Source
from foldscript.syntax.parser import parse

FRAME = (160.0, 160.0)
CUP = (Path(__file__).resolve().parents[2] / "samples" / "cup.foldscript").read_text("utf-8")


def model(text: str) -> Model:
    return fold(parse(Source("cup.foldscript", text), verbs()))


@pytest.fixture
def composed(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """Panels really drawn."""
    seen: list[Any] = []
    compose = drawing.compose

    def noted(*given: Any) -> Any:
        seen.append(given[1])
        return compose(*given)

    monkeypatch.setattr(drawing, "compose", noted)
    return seen


def test_the_same_model_is_not_drawn_twice(composed: list[Any]) -> None:
    kept, style = DrawingCache(), load_style()
    first = draw(model(CUP), style, FRAME, kept)
    kept.turn()
    del composed[:]
    again = draw(model(CUP), style, FRAME, kept)
    assert composed == []
    assert again == first == draw(model(CUP), style, FRAME)


def test_a_caption_changes_the_words_and_draws_nothing(composed: list[Any]) -> None:
    kept, style = DrawingCache(), load_style()
    draw(model(CUP), style, FRAME, kept)
    del composed[:]
    changed = CUP.replace('step "', 'step "Now: ')
    again = draw(model(changed), style, FRAME, kept)
    assert composed == []
    assert again[0].scene.description.startswith("Step 1. Now: ")
    assert again == draw(model(changed), style, FRAME)


def test_another_step_draws_that_step_alone(composed: list[Any]) -> None:
    kept, style = DrawingCache(), load_style()
    longer = CUP + 'step "See."\n  turn over\n'
    draw(model(CUP), style, FRAME, kept)
    del composed[:]
    again = draw(model(longer), style, FRAME, kept)
    assert len(composed) == 1
    assert again == draw(model(longer), style, FRAME)


@pytest.mark.parametrize("change", ["style", "colours", "frame"])
def test_what_else_a_figure_depends_on(composed: list[Any], change: str) -> None:
    kept, style = DrawingCache(), load_style()
    draw(model(CUP), style, FRAME, kept)
    del composed[:]
    text = CUP.replace("sheet ", "colours red and white\nsheet ") if change == "colours" else CUP
    style = load_style("grey") if change == "style" else style
    frame = (200.0, 200.0) if change == "frame" else FRAME
    again = draw(model(text), style, frame, kept)
    assert len(composed) == len(again)
    assert again == draw(model(text), style, frame)


def test_the_finished_model_is_kept_too(composed: list[Any]) -> None:
    kept, style = DrawingCache(), load_style()
    folded = model(CUP)
    first = finished_figure(folded, style, FRAME, kept), portrait(folded, style, FRAME, kept)
    del composed[:]
    assert (
        finished_figure(model(CUP), style, FRAME, kept),
        portrait(model(CUP), style, FRAME, kept),
    ) == first
    assert composed == []


def test_what_two_rounds_did_not_use_is_dropped(composed: list[Any]) -> None:
    kept, style = DrawingCache(), load_style()
    draw(model(CUP), style, FRAME, kept)
    kept.turn()
    kept.turn()
    del composed[:]
    draw(model(CUP), style, FRAME, kept)
    assert composed


def test_in_a_hurry_old_drawings_keep_their_places(composed: list[Any]) -> None:
    """What is wanted is drawn, and nothing more where there is a drawing; then all of it is."""
    kept, style = DrawingCache(), load_style()
    before = draw(model(CUP), style, FRAME, kept)
    kept.turn()
    del composed[:]
    coloured = model(CUP.replace("sheet ", "colours red and white\nsheet "))
    whole = draw(coloured, style, FRAME)
    del composed[:]
    kept.wanted = {1, 2}
    hurried = draw(coloured, style, FRAME, kept)
    assert kept.behind
    assert len(composed) == 2
    assert hurried[1:3] == whole[1:3]
    rest = [f.scene.items for f in (hurried[0], *hurried[3:])]
    assert rest == [f.scene.items for f in (before[0], *before[3:])]
    kept.wanted = None
    assert draw(coloured, style, FRAME, kept) == whole
    assert len(composed) == len(whole)


def test_in_a_hurry_a_new_place_is_drawn(composed: list[Any]) -> None:
    kept, style = DrawingCache(), load_style()
    kept.wanted = ()
    assert draw(model(CUP), style, FRAME, kept) == draw(model(CUP), style, FRAME)
    assert not kept.behind
