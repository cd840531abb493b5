"""Units closed to a hollow model: of several kinds, also with layers that are woven into each other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from foldscript.building.standing import PoseCache, standing
from foldscript.drawing.draw import finished_figure
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Model
from foldscript.pose.goals import Close
from foldscript.pose.packing import Closing
from foldscript.pose.pose import Pose
from foldscript.pose.proof import lying
from foldscript.pose.upright import size
from foldscript.source.diagnostics import Refusal

from ..checker.poses import pose_faults
from ..scripts import folds, standing_document

#: Six units of quarters; four of the layers of each square lie under the next all round.
WOVEN = """\
sheets 6
sheet square 15 cm, coloured side down
step
  crease bottom edge onto top edge as middle
  crease bottom edge onto middle as low
  crease top edge onto middle as high
  mark V at midpoint of low
  mark X at midpoint of high
  mark W at 1/4 of middle
  mark Y at 3/4 of middle
  mark Z at midpoint of edge A B
  mark U at midpoint of edge C D
step
  valley A onto low, through left end of low
  valley C onto high, through right end of high
step
  valley bottom edge onto middle
  valley top edge onto middle
step
  tuck top left corner to V, all layers, under Z
step
  tuck bottom right corner to X, all layers, under U
step
  crease mountain along line V W, all layers, as k
  crease mountain along line X Y, all layers, as m
assemble "The cube"
step
  place unit 2, W of unit 2 to Y of unit 1 and V of unit 2 to V of unit 1, under U of unit 1
step
  place unit 3, W of unit 3 to W of unit 1 and V of unit 3 to X of unit 1, under Z of unit 1
step
  place unit 4, W of unit 4 to Y of unit 2 and V of unit 4 to V of unit 2, under U of unit 2
step
  place unit 5, W of unit 5 to W of unit 2 and V of unit 5 to X of unit 2, under Z of unit 2
step
  place unit 6, W of unit 6 to W of unit 4 and V of unit 6 to X of unit 4, under Z of unit 4
step
  turn over
step
  close along k of unit 1 and m of unit 1
"""


#: Zigzags whose flaps cover half of each square only: a tab lies on the square before it goes under one.
QUARTERS = """\
sheets 6
sheet rectangle 15 cm by 10 cm, coloured side down
step
  mark P at 1/4 of A D
  mark Q at 3/4 of A D
  mark R at 1/4 of B C
  mark S at 3/4 of B C
  valley along line Q S, moving D
  mountain along line P R, moving A
step
  mark K at 1/3 of P R
  mark L at 2/3 of P R
  mark M at 1/3 of Q S
  mark N at 2/3 of Q S
  crease along line K M, all layers, as k
  crease along line L N, all layers, as m
assemble
step
  place unit 2, P of unit 2 to M of unit 1 and Q of unit 2 to N of unit 1, under D of unit 1
step
  place unit 3, P of unit 3 to L of unit 1 and Q of unit 3 to K of unit 1, over A of unit 1
step
  place unit 4, P of unit 4 to M of unit 2 and Q of unit 4 to N of unit 2, under D of unit 2
step
  place unit 5, P of unit 5 to L of unit 2 and Q of unit 5 to K of unit 2, over A of unit 2
step
  place unit 6, P of unit 6 to L of unit 4 and Q of unit 6 to K of unit 4, over A of unit 4
step
  turn over
step
  close along k of unit 1 and m of unit 1
"""


def closed(text: str) -> tuple[Model, Pose]:
    model = folds(text)
    found = standing(model, PoseCache())
    assert not found.warnings
    (pose,) = found.poses.values()
    return model, pose


@pytest.mark.parametrize(("text", "edge"), [(QUARTERS, 50.0), (WOVEN, 75 / 2**0.5)])
def test_units_close_to_a_cube(text: str, edge: float) -> None:
    """Its corners are half its diagonal away from its middle. The squares of woven units are 75 mm from
    corner to corner, half of the sheet."""
    model, pose = closed(text)
    assert pose.proof.holds, pose.proof
    assert pose_faults(standing_document(model, pose)) == []
    space = np.array(pose.space)
    middle = (space.min(axis=0) + space.max(axis=0)) / 2
    away = np.sqrt(((space - middle) ** 2).sum(axis=1))
    assert away.max() == pytest.approx(edge / 2 * 3**0.5, abs=1e-6)  # the corners of the cube
    heights = {round(float(z), 6) for z in space[:, 2]}
    assert max(heights) - min(heights) == pytest.approx(edge, abs=1e-6)
    bent = {round(abs(np.degrees(e.angle)), 6) for e in pose.edges if e.right is not None}
    assert bent <= {0.0, 90.0, 180.0}
    assert 90.0 in bent


def test_a_closed_cube_is_measured_along_its_sides_and_drawn() -> None:
    """However its units lay on the table. Its faces cover each other in slips a thousandth wide."""
    model, pose = closed(WOVEN)
    assert size(pose) == pytest.approx((75 / 2**0.5,) * 3, abs=1e-5)
    standing_up = replace(model, poses={model.steps[-1].number: pose})
    assert finished_figure(standing_up, load_style(), (200.0, 180.0)).items


def test_layers_that_go_round_at_one_place_are_a_fault() -> None:
    """The same cube with the order of two layers told the other way: at one place they go round."""
    _, pose = closed(WOVEN)
    assert lying(pose.proof, np.array(pose.space), pose.pieces, pose.touching, 0).holds
    for k, pair in enumerate(pose.touching):
        other = replace(pair, on_front=not pair.on_front)
        touching = (*pose.touching[:k], other, *pose.touching[k + 1 :])
        found = lying(pose.proof, np.array(pose.space), pose.pieces, touching, 0)
        if found.tangled:
            break
    else:
        pytest.fail("no order of two layers told the other way is found out")


def test_woven_layers_under_a_whole_face_have_no_order() -> None:
    """In each half of the square, where a tab lies, they have one."""
    model = folds(WOVEN)
    (goal,) = (g for step in model.steps for r in step.records for g in r.goals)
    assert isinstance(goal, Close)
    closing = Closing(model.finished, goal)
    face = next(section for section in closing.sections if not section.tab)
    with pytest.raises(Refusal) as error:
        closing.ranks(face, face.outline)
    assert error.value.code == "woven-layers"
