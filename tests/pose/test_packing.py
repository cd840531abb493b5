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

#: Six units cut from squares: a face of 6 cm, four strips folded over it, each under the next all round as
#: a box is shut, and a tab on two sides. A tab goes under the strip that crosses the middle of a side.
WOVEN = """\
sheets 6
sheet square 16 cm, coloured side down
step
  crease through 7/16 of A B and 7/16 of D C as west
  crease through 9/16 of A B and 9/16 of D C as east
  crease through 7/16 of A D and 7/16 of B C as south
  crease through 9/16 of A D and 9/16 of B C as north
  mark E at 1/8 of south
  mark F at 1/8 of north
  mark G at 7/8 of south
  mark H at 7/8 of north
  mark K at 5/16 of south
  mark L at 5/16 of north
  mark M at 11/16 of south
  mark N at 11/16 of north
  mark R at 5/16 of west
  mark P at 11/16 of west
  mark S at 5/16 of east
  mark Q at 11/16 of east
  mark I at 11/16 of B C
  mark J at 5/16 of D C
  mark O at 5/16 of A D
  mark T at 11/16 of A B
  mark U at 6/16 of D C
  mark V at 10/16 of A B
  mark W at 6/16 of A D
  mark X at 10/16 of B C
step
  cut from I to P to upper end of west, 1 layer, discarding C
  cut from J to L to F to E to left end of south, 1 layer, discarding D
  cut from O to S to lower end of east, 1 layer, discarding A
  cut from T to M to G to H to right end of north, 1 layer, discarding B
  cut from E to K, 1 layer
  cut from H to N, 1 layer
step
  valley through K L, moving W
  valley through P Q, moving U
  valley through M N, moving X
step
  tuck V through R S, under W
step
  crease mountain along line K L, all layers, as k
  crease mountain along line M N, all layers, as m
assemble "The cube"
step
  place unit 2, L of unit 2 to P of unit 1 and K of unit 2 to Q of unit 1, under X of unit 1
step
  place unit 3, L of unit 3 to S of unit 1 and K of unit 3 to R of unit 1, under W of unit 1
step
  place unit 4, L of unit 4 to P of unit 2 and K of unit 4 to Q of unit 2, under X of unit 2
step
  place unit 5, L of unit 5 to S of unit 2 and K of unit 5 to R of unit 2, under W of unit 2
step
  place unit 6, L of unit 6 to S of unit 4 and K of unit 6 to R of unit 4, under W of unit 4
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


@pytest.mark.parametrize(("text", "edge"), [(QUARTERS, 50.0), (WOVEN, 60.0)])
def test_units_close_to_a_cube(text: str, edge: float) -> None:
    """Its corners are half its diagonal away from its middle. The faces of woven units are six sixteenths
    of the sheet's edge."""
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
    """However its units lay on the table."""
    model, pose = closed(WOVEN)
    assert size(pose) == pytest.approx((60.0,) * 3, abs=1e-5)
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
    """Where a tab lies, they have one."""
    model = folds(WOVEN)
    (goal,) = (g for step in model.steps for r in step.records for g in r.goals)
    assert isinstance(goal, Close)
    closing = Closing(model.finished, goal)
    face = next(section for section in closing.sections if not section.tab)
    with pytest.raises(Refusal) as error:
        closing.ranks(face, face.outline)
    assert error.value.code == "woven-layers"
