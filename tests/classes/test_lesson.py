"""How a class goes: when steps come, which are hard, where it waits; by hand from the rules of thumb."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.classes.cutting import Paper
from foldscript.classes.lesson import LONGEST, lesson
from foldscript.classes.plan_rows import model_rows, waiting_row
from foldscript.classes.planning import plan_model
from foldscript.languages.levels import Level
from foldscript.moves.registry import moves

SAMPLES = Path(__file__).parents[2] / "samples"


def steps(*verbs: str) -> list[tuple[int, list, float]]:
    """A step of each move; 'valley valley' makes both."""
    known = moves()
    return [
        (k, [known[verb] for verb in words.split("+")], 0.0) for k, words in enumerate(verbs, 1)
    ]


def test_a_simple_fold_takes_three_minutes_to_teach() -> None:
    """A minute to fold, three times as long to teach; what folds nothing takes none."""
    taught = lesson(steps("valley", "turn over", "valley+valley", "mountain"), Level.SIMPLE)
    assert [step.starts for step in taught] == [0, 3, 3, 9]
    assert [step.hard for step in taught] == [()] * 4
    assert [step.waits for step in taught] == [False, False, False, True]


def test_the_class_waits_before_what_is_hard_and_only_once_for_hard_steps_in_a_row() -> None:
    """A squash is low intermediate: a minute and a half, four and a half to teach."""
    taught = lesson(steps("valley", "valley", "squash", "squash", "valley"), Level.LOW_INTERMEDIATE)
    assert [step.hard for step in taught] == [(), (), ("squash",), ("squash",), ()]
    assert [step.waits for step in taught] == [False, True, False, False, True]
    assert [step.starts for step in taught] == [0, 3, 6, 10, 15]  # 10.5 rounds to even


def test_nobody_is_left_behind_for_long() -> None:
    taught = lesson(steps(*["valley"] * 12), Level.SIMPLE)
    assert [step.number for step in taught if step.waits] == [5, 10, 12]
    assert LONGEST == 15


def test_what_a_model_starts_from_comes_before_its_first_step() -> None:
    begun = [(1, [moves()["valley"]], 4.0), (2, [moves()["valley"]], 0.0)]
    assert [step.starts for step in lesson(begun, Level.SIMPLE)] == [12, 15]


def test_no_steps_no_lesson() -> None:
    assert lesson([], Level.SIMPLE) == ()


@pytest.mark.parametrize("name", ["windmill", "cup"])
def test_a_model_s_lesson_ends_when_its_plan_does(name: str) -> None:
    plan = plan_model(Script(SAMPLES / f"{name}.foldscript").model, 10, (Paper("A4", 210, 297),))
    assert [step.number for step in plan.lesson] == list(range(1, plan.steps + 1))
    starts = [step.starts for step in plan.lesson]
    assert starts == sorted(starts)
    assert starts[-1] <= plan.times.teaching
    assert plan.lesson[-1].waits
    rows = dict(model_rows(plan, str))
    hard = {verb for step in plan.lesson for verb in step.hard}
    assert hard == set(plan.hardest)
    assert ("Hard" in rows) is bool(hard)
    label, lines = waiting_row(plan, 30, str)
    assert label == "Wait"
    assert lines[-1] == "at the end, until the last one is done"
    assert len(lines) == sum(step.waits for step in plan.lesson)
    assert all("after step" in line for line in lines[:-1])
