"""No numbered figure without a fold: turns and repeats are told with a figure beside them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from foldscript.building.standing import PoseCache, standing
from foldscript.drawing.draw import draw
from foldscript.drawing.plan import planned
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model
from foldscript.paper.signs import RepeatSign, Rotate, TurnOver

from ..sample_scripts import SCRIPTS, sample
from ..scripts import folded

STYLE = load_style("colour")
#: Signs that fold nothing.
SILENT = (RepeatSign, TurnOver, Rotate)
QUARTER, HALF = "valley left edge onto centre line", "valley bottom edge onto top edge"


def test_figures_are_planned_once() -> None:
    model = folded(QUARTER, HALF)
    assert planned(model) is planned(model)


def labels(model: Model) -> list[str]:
    return [one.label for one in planned(model)]


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_every_numbered_figure_folds_something(path: Path) -> None:
    model = sample(path.stem).model
    for one in planned(model):
        if not (one.finished or one.panel.asked):
            assert [s for s in one.panel.signs if not isinstance(s, SILENT)], one.label


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: p.stem)
def test_every_step_is_told_once_and_in_order(path: Path) -> None:
    """Each step's own figures, each once; and each step has a number on the page."""
    model = sample(path.stem).model
    told = [(step.number, k) for one in planned(model) for step, k in one.told]
    assert told == [(step.number, k) for step in model.steps for k in range(len(step.panels))]
    for one in planned(model):
        assert {step.number for step, _ in one.told} <= set(range(one.first, one.last + 1))


def test_a_turn_leads_on_from_the_figure_before() -> None:
    model = folded(QUARTER, "turn over", HALF)
    assert labels(model) == ["1–2", "3"]
    first, second = planned(model)
    assert [type(s) for s in first.panel.after_turns] == [TurnOver]
    assert not second.panel.before_turns
    caption = draw(model, STYLE, (140.0, 140.0))[0].caption
    assert caption.endswith("Turn over from side to side.")
    assert caption.startswith("Fold the left edge")


def test_a_turn_first_of_all_stands_before_the_first_fold() -> None:
    model = folded("turn over", "rotate 45 degrees clockwise", "valley A to C")
    (one,) = planned(model)
    assert one.label == "1–3"
    assert [type(s) for s in one.panel.before_turns] == [TurnOver, Rotate]


def test_a_repeat_has_its_box_on_what_it_repeats() -> None:
    model = folded(QUARTER, "repeat step 1 on the right", HALF)
    assert labels(model) == ["1–2", "3"]
    (box,) = [s for s in planned(model)[0].panel.signs if isinstance(s, RepeatSign)]
    assert (box.first, box.last) == (1, 1)
    scene = draw(model, STYLE, (140.0, 140.0))[0].scene
    assert {"repeat", "arrow.valley", "fold.valley"} <= scene.signs


def test_a_repeat_after_a_turn_or_after_other_steps_has_a_figure() -> None:
    turned = folded(QUARTER, "turn over", "repeat step 1 again", HALF)
    assert labels(turned) == ["1–2", "3", "4"]
    later = folded(QUARTER, "crease bottom edge onto top edge", "repeat step 1 on the right")
    assert labels(later) == ["1", "2", "3"]


def test_points_named_are_told_with_the_next_fold_and_lettered_there() -> None:
    model = folded("mark M at midpoint of A B", "valley A to M")
    (one,) = planned(model)
    assert one.label == "1–2"
    assert "M" in {name for name, _ in one.panel.letters}


def test_the_script_may_ask_for_a_figure() -> None:
    model = folded(QUARTER, "turn over\n  show", HALF)
    assert labels(model) == ["1", "2", "3"]


def test_the_last_step_without_a_fold_after_points_has_a_figure() -> None:
    assert labels(folded("mark M at midpoint of A B")) == ["1"]


def test_figures_in_parts_and_what_joins_them() -> None:
    """A turn joins the last figure of a step that has two; files are called after the first step."""
    model = folded(f"{QUARTER}\n  turn over\n  {HALF}", "turn over", "crease A to C")
    assert labels(model) == ["1a", "1b–2", "3"]
    figures = draw(model, STYLE, (140.0, 140.0))
    assert [(f.step, f.name) for f in figures] == [(1, "a"), (1, "b"), (3, "")]
    assert [f.shows(2) for f in figures] == [False, True, False]
    model = folded("turn over", f"{QUARTER}\n  turn over\n  {HALF}")
    assert labels(model) == ["1–2a", "2b"]


def test_beside_a_step_that_is_shown_half_way() -> None:
    """A box stands on the figure before that picture; a turn waits for the figure after it."""
    model = sample("star-box").said()[0]
    assert 3 in model.halves
    labels = [f.label for f in draw(model, STYLE, (140.0, 140.0))]
    assert labels[:4] == ["1–2", "3–5", "3½", "6–8"]


@pytest.mark.parametrize("stands", [False, True])
def test_what_is_raised_from_under_other_paper_is_dotted_there(stands: bool) -> None:
    """Also where the other arrows are drawn as the pose tells them."""
    model = folded(
        "valley along line 30 mm from the left edge, moving A, as l",
        "valley along line 30 mm from the right edge, moving B, as r",
        "raise along l and r",
    )
    poses = standing(model, PoseCache()).poses if stands else {}
    figure = draw(replace(model, poses=poses), STYLE, (140.0, 140.0))[2]
    roles = [item.role for item in figure.scene.items]
    assert roles.count("arrow.hidden") == 1
    assert roles.count("arrow.open") == 2
