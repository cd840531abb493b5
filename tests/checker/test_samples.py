"""Every state of every sample is a sound flat folding, and every pose one that its sheet can have."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script
from foldscript.output.states import states

from ..conftest import assert_sound
from .poses import pose_faults

SAMPLES = sorted((Path(__file__).parents[2] / "samples").rglob("*.foldscript"))


def test_there_are_samples() -> None:
    assert SAMPLES


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_state_is_sound(path: Path) -> None:
    assert_sound(Script(path).model)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_pose_is_one_of_its_sheet(path: Path) -> None:
    script = Script(path)
    if any(record.goals for step in script.model.steps for record in step.records):
        assert not script.standing.warnings
        assert pose_faults(states(script.standing_model)) == []
