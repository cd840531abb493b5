"""Close: the cube of six units, and what does not close."""

from __future__ import annotations

import math
import re
from pathlib import Path

import numpy as np
import pytest

from foldscript.building.standing import PoseCache, standing
from foldscript.paper.signs import Arrow, FoldLine, RaisedAngle, Sense
from foldscript.pose.pose import Pose

from ..scripts import folds, refused_text

#: Where units are placed, as the sample has it: unit, the one whose pocket it comes into, and which pocket.
TAB = "place unit {n}, P of unit {n} to"
FRONT = TAB + " M of unit {to} and Q of unit {n} to N of unit {to}, under D of unit {to}"
BEHIND = TAB + " L of unit {to} and Q of unit {n} to K of unit {to}, over A of unit {to}"
CUBE = ((2, 1, FRONT), (3, 1, BEHIND), (4, 2, FRONT), (5, 2, BEHIND), (6, 4, BEHIND))
CLOSE = "close along k of unit 1 and m of unit 1"


def cube(third: str = "1/3", units: int = 6, turned: bool = True, close: str = CLOSE) -> str:
    """The script; `third` is how far from the left end of its strip a unit has its first crease."""
    over = "step\n  turn over\n" if turned else ""
    placed = "".join(f"step\n  {words.format(n=n, to=to)}\n" for n, to, words in CUBE if n <= units)
    return f"""sheets 6
sheet square 15 cm, coloured side down
step
  mark P at 1/3 of A D
  mark Q at 2/3 of A D
  mark R at 1/3 of B C
  mark S at 2/3 of B C
  valley along line Q S, moving D
  mountain along line P R, moving A
step
  mark K at 1/3 of P R
  mark L at 2/3 of P R
  mark M at 1/3 of Q S
  mark N at 2/3 of Q S
  mark X at {third} of P R
  mark Y at {third} of Q S
  crease along line X Y, all layers, as k
  crease along line L N, all layers, as m
assemble
{placed}{over}step
  {close}
"""


def stands(text: str) -> tuple[Pose | None, str]:
    """How the model stands in the end, or why it does not."""
    model = folds(text)
    found = standing(model, PoseCache())
    return found.poses.get(len(model.steps)), " ".join(w.message for w in found.warnings)


@pytest.mark.parametrize("turned", [True, False])
def test_six_units_close_to_a_cube_as_wide_as_a_third_of_the_sheet(turned: bool) -> None:
    """A sheet of a is three strips, each three squares long: the edge of the cube is a / 3, 50 mm of 150."""
    pose, _ = stands(cube(turned=turned))
    assert pose is not None
    assert pose.proof.holds
    assert pose.size == pytest.approx((50, 50, 50), abs=1e-6)


def test_all_paper_lies_in_the_six_faces() -> None:
    """6 sheets of 150 mm are 9 squares of 50 mm each: 54 squares, 9 in each face (3 layers, 2 tabs of 3)."""
    pose, _ = stands(cube())
    assert pose is not None
    space = np.array(pose.space)
    sides = [
        (axis, round(float(ring[:, axis].mean() - space[:, axis].min())))
        for ring in (space[list(piece.corners)] for piece in pose.pieces)
        for axis in range(3)
        if float(np.ptp(ring[:, axis])) < 1e-6
    ]
    assert {side: sides.count(side) for side in sides} == {
        (axis, at): 9 for axis in range(3) for at in (0, 50)
    }


def test_every_tab_lies_between_layers_of_another_unit() -> None:
    """Of 9 pieces in a face all lie on each other: 36 pairs a face. Each of the two tabs has a layer of the
    face's unit on either side."""
    pose, _ = stands(cube())
    assert pose is not None
    assert len(pose.touching) == 6 * math.comb(9, 2)
    unit = [round(min(pose.sheet[k][0] for k in p.corners) // 300) for p in pose.pieces]
    for face in range(6):
        pieces = {
            k
            for pair in pose.touching
            for k in (pair.one, pair.other)
            if unit[k] == face and _middle_third(pose, k)
        }
        assert len(pieces) == 3
        guests = {
            k
            for pair in pose.touching
            for k in (pair.one, pair.other)
            if {pair.one, pair.other} & pieces and unit[k] != face
        }
        assert len(guests) == 6
        for guest in guests:
            ways = {
                (pair.one == guest)
                for pair in pose.touching
                if guest in (pair.one, pair.other) and {pair.one, pair.other} & pieces
            }
            assert ways == {True, False}


def _middle_third(pose: Pose, piece: int) -> bool:
    x = float(np.mean([pose.sheet[k][0] for k in pose.pieces[piece].corners])) % 300
    return 50 < x < 100


@pytest.mark.parametrize("turned", [True, False])
def test_every_free_end_is_raised_and_every_crease_is_folded(turned: bool) -> None:
    """Six units have twelve creases and as many tabs; five are in pockets, so seven ends are free, each as
    deep as a third of the sheet. All bend to the reader's side."""
    signs = folds(cube(turned=turned)).steps[-1].panels[-1].signs
    raised = [s for s in signs if isinstance(s, Arrow)]
    assert {s.act for s in raised} == {"raise"}
    assert [math.dist(s.tail, s.head) for s in raised] == pytest.approx([1 / 3] * 7)
    (line,) = (s for s in signs if isinstance(s, FoldLine))
    assert line.sense is Sense.VALLEY
    assert len(line.parts) == 12
    assert {s.degrees for s in signs if isinstance(s, RaisedAngle)} == {90}


def test_units_that_hang_together_nowhere_show_what_would_bend() -> None:
    signs = folds(strips(2, "place unit 2, A of unit 2 to B of unit 1")).steps[-1].panels[-1].signs
    assert sum(isinstance(s, Arrow) for s in signs) == 4


def test_a_crease_beside_the_third_does_not_close() -> None:
    """With the crease at 2/5 of the strip the face is 10 mm too short, and the tab 10 mm too long."""
    pose, why = stands(cube("2/5"))
    assert pose is None
    assert "mm" in why


def test_five_units_leave_tabs_without_a_pocket() -> None:
    pose, why = stands(cube(units=5))
    assert pose is None
    assert "comes to no pocket" in why
    assert "mm off" in why


def test_faces_of_the_cube_meet_at_right_angles() -> None:
    pose, _ = stands(cube())
    assert pose is not None
    bent = [abs(e.angle) for e in pose.edges if 0.1 < abs(e.angle) < 3]
    assert len(bent) == 6 * 2 * 3
    assert bent == pytest.approx([math.pi / 2] * len(bent))


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("close along k of unit 1 to 60 degrees", "unexpected-words"),
        ("close along the bottom edge", "close-along"),
        ("close", "sign-where"),
    ],
)
def test_what_cannot_be_said(line: str, code: str) -> None:
    assert refused_text(cube(units=2, close=line)).code == code


def test_one_sheet_is_not_closed() -> None:
    text = "step\n  crease bottom edge onto top edge, as k\nstep\n  close along k\n"
    assert refused_text(text).code == "close-units"


STRIP = """sheets {units}
sheet rectangle 15 cm by 5 cm
step
  mark K at 1/3 of A B
  mark M at 1/3 of D C
  mark L at 2/3 of A B
  mark N at 2/3 of D C
  crease along line K M, as k
  crease along line L N, as m
assemble
"""


def strips(units: int, *placed: str, close: str = CLOSE) -> str:
    """Units of one layer with two creases, put together."""
    steps = "".join(f"step\n  {words}\n" for words in (*placed, close))
    return STRIP.format(units=units) + steps


def test_a_unit_that_lies_beside_the_others_hangs_on_none() -> None:
    pose, why = stands(strips(2, "place unit 2, A of unit 2 to B of unit 1"))
    assert pose is None
    assert "unit 2 hangs on none of the others" in why


def test_units_on_each_other_have_their_faces_in_one_place() -> None:
    pose, why = stands(strips(2, "place unit 2, A of unit 2 to A of unit 1"))
    assert pose is None
    assert "the faces of unit 1 and unit 2 come to lie on each other" in why


def test_a_face_of_one_layer_has_no_pocket() -> None:
    """Put together like the cube, with tabs on the faces and not in them."""
    front = "place unit {n}, A of unit {n} to M of unit {to} and D of unit {n} to N of unit {to}"
    behind = "place unit {n}, A of unit {n} to L of unit {to} and D of unit {n} to K of unit {to}, behind"
    ways = {FRONT: front, BEHIND: behind}
    placed = [ways[words].format(n=n, to=to) for n, to, words in CUBE]
    pose, why = stands(strips(6, *placed, "turn over"))
    assert pose is None
    assert "no pocket is open where a tab of unit 1 comes to unit" in why


def test_a_crease_of_one_unit_alone_is_not_closed_along() -> None:
    text = strips(
        2,
        "place unit 2, A of unit 2 to L of unit 1 and D of unit 2 to N of unit 1",
        "crease A of unit 1 to K of unit 1, 1 layer, as n",
        close="close along n",
    )
    fault = refused_text(text)
    assert fault.code == "not-one-kind"
    assert "unit 2 has no crease where" in fault.message


#: A strip slit at one end, half of which is folded back over the middle: one pocket, open above and below.
SLIT = """sheets 6
sheet rectangle 15 cm by 5 cm
step
  mark K at 1/3 of A B
  mark M at 1/3 of D C
  mark L at 2/3 of A B
  mark N at 2/3 of D C
  mark E at midpoint of L N
  mark G at midpoint of B C
  crease along line K M, as k
  cut from G to E
  crease along line L E, moving B, as m
  valley along line E N, moving C
assemble
"""


def test_two_tabs_do_not_go_into_one_pocket() -> None:
    """Put together like the cube, where every face takes up two tabs, from above and from below."""
    ways = "A of unit {n} to {p} of unit {to} and D of unit {n} to {q} of unit {to}"
    tab = f"place unit {{n}}, {ways}, under C of unit {{to}}"
    ends = {FRONT: ("M", "N"), BEHIND: ("L", "K")}
    placed = [tab.format(n=n, to=to, p=ends[w][0], q=ends[w][1]) for n, to, w in CUBE]
    pose, why = stands(SLIT + "".join(f"step\n  {words}\n" for words in (*placed, CLOSE)))
    assert pose is None
    assert re.search(r"tabs of unit \d and unit \d come to one pocket of unit \d", why), why


def test_the_sample_ends_with_the_cube() -> None:
    sample = Path(__file__).parents[2] / "samples" / "six-unit-cube.foldscript"
    pose, why = stands(sample.read_text())
    assert why == ""
    assert pose is not None
    assert pose.size == pytest.approx((50, 50, 50), abs=1e-6)
