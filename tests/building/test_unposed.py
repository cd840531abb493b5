"""What is tried next where no pose was found: only words that the step's move takes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from foldscript.building.unposed import said_of
from foldscript.pose.raising import raised

from ..scripts import folded


@pytest.mark.parametrize(
    ("line", "takes"), [("raise along k to 60 degrees", True), ("open the top edge", False)]
)
def test_fingers_are_spoken_of_only_where_the_move_takes_the_word(line: str, takes: bool) -> None:
    model = folded("valley top edge onto bottom edge as k", line)
    step = model.steps[-1]
    pose = raised(step.after, [])
    failed = replace(pose, proof=replace(pose.proof, faults=("paper is bent by 90 degrees",)))
    _, hints = said_of(failed, step.after, step, lambda angle: ())
    assert any("opening" in hint.text for hint in hints) == takes
    assert hints
    assert not hints[0].text.startswith("or ")
