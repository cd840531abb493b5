"""Every state of every sample is a sound flat folding, and every pose one that its sheet can have."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.output.states import states

from ..conftest import assert_sound
from ..sample_scripts import SCRIPTS, sample
from .poses import pose_faults


def test_there_are_samples() -> None:
    assert SCRIPTS


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_every_state_is_sound(path: Path) -> None:
    assert_sound(sample(path.stem).model)


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_every_pose_is_one_of_its_sheet(path: Path) -> None:
    script = sample(path.stem)
    if any(record.goals for step in script.model.steps for record in step.records):
        assert not script.standing.warnings
        assert pose_faults(states(script.standing_model)) == []
