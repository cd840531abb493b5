"""Which steps of a script stand, and what is warned of."""

from __future__ import annotations

import re
import zlib
from dataclasses import is_dataclass, replace
from enum import Enum
from pathlib import Path
from typing import get_args, get_type_hints

import pytest
from click.testing import CliRunner

from foldscript.building.cache.poses import POSES
from foldscript.building.handout import build, build_options
from foldscript.building.script import Script
from foldscript.building.unposed import said_of
from foldscript.cli import command
from foldscript.paper.state import State
from foldscript.pose.elastic import Work
from foldscript.pose.goals import Raise, Stages
from foldscript.pose.pose import Amiss, Pose, Reached
from foldscript.pose.proof import missed
from foldscript.pose.raising import raised
from foldscript.pose.standing import stood
from foldscript.pose.upright import size, upright
from foldscript.source.diagnostics import Refusal

from ..scripts import folds

SAMPLES = Path(__file__).resolve().parents[2] / "samples"

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
    """Turned round on the table the glider is as wide as it was deep; turned over it is seen from behind."""
    text = GLIDER + "step\n  rotate quarter turn clockwise\nstep\n  hold A\nstep\n  turn over\n"
    poses = script(tmp_path, text).standing.poses
    assert poses[8] is poses[7]
    assert poses[7].space == poses[6].space
    before, after = size(poses[6]), size(poses[7])
    assert (after[1], after[0], after[2]) == pytest.approx(before, abs=1e-6)
    up, front = upright(poses[7])
    assert upright(poses[9])[0] == up
    assert upright(poses[9])[1] == pytest.approx([-v for v in front], abs=1e-6)


def test_what_lies_on_the_table_is_turned_upside_down(tmp_path: Path) -> None:
    text = """sheet rectangle 8 cm by 12 cm
step
  crease along line 4 cm from the top edge as k
step
  raise along k to 100 degrees
step
  turn over
"""
    poses = script(tmp_path, text).standing.poses
    assert upright(poses[2])[0] == pytest.approx((0, 0, 1), abs=1e-6)
    assert upright(poses[3])[0][2] < 0


def test_flaps_rise_to_the_side_to_which_they_were_creased_whichever_is_seen(
    tmp_path: Path,
) -> None:
    """Both ends of a strip are creased as valleys of its front: turned over, the second still rises there."""
    text = """sheet rectangle 4 cm by 12 cm
step
  crease along line 3 cm from the top edge as k
step
  crease along line 3 cm from the bottom edge
step
  raise along k
step
  turn over
step
  raise along line 3 cm from the bottom edge
"""
    found = script(tmp_path, text).standing
    low, high = (v[2] for v in found.poses[5].box)
    assert (low, high) == pytest.approx((0, 30), abs=1e-6)


def test_a_second_build_solves_nothing_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another caption, and the pages are made anew, of the pose that was found; another angle is solved."""
    path, out = tmp_path / "model.foldscript", tmp_path / "out"
    solved: list[object] = []

    def counted(state: State, stages: Stages, work: Work | None = None) -> Pose:
        solved.append(stages)
        return stood(state, stages, work)

    monkeypatch.setattr("foldscript.pose.standing.stood", counted)
    options = build_options(("svg",), "A4", "colour")
    found: list[dict[str, Pose]] = []
    for text in (
        GLIDER,
        'model "Glider"\n' + GLIDER,
        GLIDER.replace("along m", "along m to 80 degrees"),
    ):
        path.write_text(text, encoding="utf-8")
        build(path, out, options)
        found.append(POSES.read(out / "model"))
    assert len(solved) == 3
    assert found[1] == found[0]
    assert len(found[0]) == 2
    assert POSES.packed(found[0]) == POSES.packed(found[1])


def test_all_that_poses_are_made_of_can_be_kept() -> None:
    """Also what only one that does not pass has."""
    waiting, kinds = [Pose], set[type]()
    while waiting:
        kind = waiting.pop()
        if get_args(kind):
            waiting += get_args(kind)
        elif (
            isinstance(kind, type)
            and kind not in kinds
            and (is_dataclass(kind) or issubclass(kind, Enum))
        ):
            kinds.add(kind)
            waiting += get_type_hints(kind).values() if is_dataclass(kind) else ()
    assert Amiss in kinds
    assert kinds <= {*POSES.kinds}


def test_a_spoilt_file_of_poses_is_no_fault(tmp_path: Path) -> None:
    for data in (b"", b"no poses", zlib.compress(b"x" * 64 + b"{}")):
        (tmp_path / ".foldscript-poses").write_bytes(data)
        assert POSES.read(tmp_path) == {}


def test_what_has_no_pose_is_warned_of_at_its_step(tmp_path: Path) -> None:
    text = "sheet square 100 mm\nstep\n  turn over\nstep\n  inflate at A\n"
    found = script(tmp_path, text).standing
    assert not found.poses
    (warning,) = found.warnings
    assert warning.code == "no-pose"
    assert warning.span is not None
    assert text[warning.span.start : warning.span.end].startswith("step")


def unnamed(_: float) -> tuple[str, ...]:
    """No crease has a name."""
    return ()


def test_paper_that_stays_flat_is_told_by_its_creases(tmp_path: Path) -> None:
    """Of two creases that cross, none can be raised to a right angle while the other is (common practice)."""
    before = (
        "sheet square 100 mm\nstep\n  crease bottom edge onto top edge as k\n"
        "  crease left edge onto right edge as m\nstep\n"
    )
    (warning,) = script(tmp_path, f"{before}  raise along k and m\n").standing.warnings
    assert "along k and m the paper stays flat" in warning.message
    assert "'valley along k, moving' and a point" in warning.hints[0].text
    followed = f"{before}  valley along k, moving A\nstep\n  raise along k\n"
    assert not script(tmp_path, followed).standing.warnings


def test_it_is_said_where_paper_is_in_the_way() -> None:
    """A strip with corner A lies under the other one, 10 mm of it."""
    model = folds(
        """sheet square 100 mm
step
  valley along line 40 mm from the left edge, moving A, as k
step
  valley along line 45 mm from the left edge, moving B, as m
"""
    )
    pose = raised(model.finished, [Raise(model.steps[0].records[0].creases, 90)])
    why, hints = said_of(pose, model.finished, model.steps[-1], unnamed)
    assert "under other paper" in why
    assert re.search(r"(mm from|at) corner [ABCD]$", why)
    assert "before" in hints[0].text


_OTHER_SIDE = (
    "pull it to the side on which nothing lies, or say what is held: 'holding' and a point"
)
_HELD = "hold them where the rest can open without them"


@pytest.mark.parametrize(
    ("reached", "said", "hint"),
    [
        (("width", 60.0, 52.0, "mm"), "5.2 cm apart there, not 6.0 cm", "say 'by 4.9 cm'"),
        (("pull", 60.0, 40.0, "mm"), "comes 4.0 cm, not 6.0 cm", "say 'by 3.8 cm'"),
        (("pull", 60.0, 0.0, "mm"), "comes 0.0 cm", _OTHER_SIDE),
        (("hold", 0.0, 12.0, "mm"), "12 mm apart where they are held", _HELD),
        (
            ("raise", 90.0, 54.0, "degrees"),
            "stops at 54 degrees on its way to 90 (0 is folded over",
            "say 'to 55 degrees'",
        ),
    ],
)
def test_the_nearest_that_was_found_is_what_to_try(
    reached: tuple[str, float, float, str], said: str, hint: str
) -> None:
    model = folds(GLIDER)
    pose = stood(model.finished, ((Raise(model.steps[1].records[0].creases, 90),),))
    short = Reached(*reached, enough=False)
    proof = replace(pose.proof, reached=(short,), faults=(missed(short),))
    why, hints = said_of(replace(pose, proof=proof), model.finished, model.steps[-1], unnamed)
    assert said in why
    assert hint in [one.text for one in hints]


def test_a_script_written_on_finds_no_pose_twice(tmp_path: Path) -> None:
    one = script(tmp_path, GLIDER)
    first = one.standing.poses[5]
    one.path.write_text(GLIDER + "step\n  hold A\n", encoding="utf-8")
    assert one.renewed().standing.poses[5] is first


def test_units_put_together_have_no_pose_and_no_figure_half_way() -> None:
    """Nothing tells what holds one sheet to the other, and their colours differ."""
    one = Script(SAMPLES / "throwing-star.foldscript")
    assert (one.standing.poses, one.standing.warnings) == ({}, ())
    assert (one.half_done.found, one.half_done.warnings) == ({}, ())
    paper = one.model.finished
    with pytest.raises(Refusal, match="several sheets"):
        stood(paper, ((Raise((paper.joints[0].segment,), 90),),))


def test_what_fails_inside_is_a_warning(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A handout never fails for a picture that it can do without."""

    def fails(*_: object) -> None:
        raise ValueError("axis 1")

    monkeypatch.setattr("foldscript.pose.standing.stood", fails)
    monkeypatch.setattr("foldscript.pose.halfway.halfway", fails)
    model, warnings = script(tmp_path, GLIDER).said()
    assert (model.poses, model.halves) == ({}, {})
    assert {w.code for w in warnings} == {"no-pose"}
    assert all("ValueError: axis 1" in w.message and w.source is not None for w in warnings)
    assert len(warnings) == 5  # two steps that stand, three that fold


OPENED_NOWHERE = """sheet square 100 mm
step
  valley the left edge onto the right edge
step
  open the left edge by 5 cm
"""


def test_check_tells_what_has_no_pose(tmp_path: Path) -> None:
    path = script(tmp_path, OPENED_NOWHERE).path
    done = CliRunner().invoke(command, ["check", str(path)])
    assert done.exit_code == 0
    assert "model.foldscript:4:1: warning: how the model stands after step 2" in done.stderr


@pytest.mark.parametrize("name", ["svg", "pdf", "slides", "gltf", "words"])
def test_build_tells_it_in_every_format(tmp_path: Path, name: str) -> None:
    """Also when nothing had to be made again."""
    path = script(tmp_path, OPENED_NOWHERE).path
    asked = ["build", str(path), "--format", name, "--out", str(tmp_path / "out")]
    for _ in range(2):
        done = CliRunner().invoke(command, asked)
        assert done.exit_code == 0
        assert done.stderr.count("warning: how the model stands after step 2") == 1


def test_a_booklet_and_states_tell_it_too(tmp_path: Path) -> None:
    path = script(tmp_path, OPENED_NOWHERE).path
    booklet = tmp_path / "club.toml"
    booklet.write_text('title = "Club"\nmodels = ["model.foldscript"]\n', encoding="utf-8")
    for asked in (["booklet", str(booklet), "--out", str(tmp_path)], ["states", str(path)]):
        done = CliRunner().invoke(command, asked)
        assert done.exit_code == 0, done.stderr
        assert done.stderr.count("warning: how the model stands after step 2") == 1


def test_a_door_under_another_is_not_bent_out_of_its_way(tmp_path: Path) -> None:
    """The right door lies on the left one: no finger lifts that alone."""
    doors = (
        "sheet rectangle 16 cm by 10 cm\nstep\n"
        "  valley along line 5 cm from the left edge, moving A, as l\n"
        "  valley along line 5 cm from the right edge, moving B, as r\nstep\n"
    )
    (warning,) = script(tmp_path, f"{doors}  raise along l\n").standing.warnings
    assert "under other paper" in warning.message
    assert not script(tmp_path, f"{doors}  raise along l and r\n").standing.warnings
