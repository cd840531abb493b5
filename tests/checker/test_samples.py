"""Every state of every sample is a sound flat folding."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script

from ..conftest import assert_sound

SAMPLES = sorted((Path(__file__).parents[2] / "samples").rglob("*.foldscript"))


def test_there_are_samples() -> None:
    assert SAMPLES


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_state_is_sound(path: Path) -> None:
    assert_sound(Script(path).model)
