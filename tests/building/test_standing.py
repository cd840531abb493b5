"""Which steps of a script stand, and what is warned of."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script

GLIDER = """sheet square 100 mm
step
  valley the left edge onto the right edge
step
  valley along line 3 cm from the right edge, 1 layer, moving A, as k
step
  turn over
step
  valley along line 3 cm from the left edge, 1 layer, moving B, as m
step
  raise along k
step
  raise along m
"""


def script(folder: Path, text: str) -> Script:
    path = folder / "model.foldscript"
    path.write_text(text, encoding="utf-8")
    return Script(path)


def test_each_step_stands_with_what_was_done_before(tmp_path: Path) -> None:
    found = script(tmp_path, GLIDER).standing
    assert not found.warnings
    assert sorted(found.poses) == [5, 6]
    assert [round(found.poses[n].size[2], 6) for n in (5, 6)] == [30, 60]


def test_a_flat_model_has_no_pose(tmp_path: Path) -> None:
    found = script(tmp_path, GLIDER.split("step\n  raise")[0]).standing
    assert (found.poses, found.warnings) == ({}, ())


def test_a_model_turned_afterwards_stands_turned(tmp_path: Path) -> None:
    text = GLIDER + "step\n  rotate quarter turn clockwise\nstep\n  hold A\n"
    poses = script(tmp_path, text).standing.poses
    assert poses[7].size == pytest.approx((100, 20, 60), abs=1e-6)
    assert poses[8] is poses[7]


def test_what_has_no_pose_is_warned_of_at_its_step(tmp_path: Path) -> None:
    text = "sheet square 100 mm\nstep\n  turn over\nstep\n  inflate at A\n"
    found = script(tmp_path, text).standing
    assert not found.poses
    (warning,) = found.warnings
    assert warning.code == "no-pose"
    assert warning.span is not None
    assert text[warning.span.start : warning.span.end].startswith("step")


def test_a_script_written_on_finds_no_pose_twice(tmp_path: Path) -> None:
    one = script(tmp_path, GLIDER)
    first = one.standing.poses[5]
    one.path.write_text(GLIDER + "step\n  hold A\n", encoding="utf-8")
    assert one.renewed().standing.poses[5] is first
