"""A newspaper box, folded as anyone folds it and stood up in several words: it stands, or the one thing to
change is told, and with that it stands.

The sheet is 40 by 28 cm; its sides are folded to the middle, its corners and its rims are 6 cm. So the box is
20 cm wide, 28 - 12 cm long and 6 cm high.
"""

from __future__ import annotations

import pytest

from foldscript.building.standing import PoseCache, Standing, standing
from foldscript.pose.upright import size

from ..scripts import folds, script

SHEET = "sheet rectangle 40 cm by 28 cm, coloured side down\n"
BOX = (
    "crease left edge onto right edge as middle",
    "valley left edge onto middle as west; valley right edge onto middle as east",
    "mark P at 6 cm from bottom left corner on the left edge; "
    "mark Q at 6 cm from top left corner on the left edge; "
    "mark R at 6 cm from bottom right corner on the right edge; "
    "mark S at 6 cm from top right corner on the right edge; "
    "mark P1 at 6 cm from bottom left corner on the bottom edge; "
    "mark Q1 at 6 cm from top left corner on the top edge; "
    "mark R1 at 6 cm from bottom right corner on the bottom edge; "
    "mark S1 at 6 cm from top right corner on the top edge; mark O at centre",
    "valley through P P1, all layers, moving bottom left corner; "
    "valley through Q Q1, all layers, moving top left corner; "
    "valley through R R1, all layers, moving bottom right corner; "
    "valley through S S1, all layers, moving top right corner",
    "valley through P1 Q1, moving D; valley through R1 S1, moving C",
)
ENDS = "crease through P R, all layers, as low; crease through Q S, all layers, as high"
ALL = "raise along west and east and low and high"


def stood(*steps: str) -> Standing:
    return standing(folds(script(*BOX, *steps, sheet=SHEET)), PoseCache())


def hints(*steps: str) -> list[str]:
    (warning,) = stood(*steps).warnings
    return [hint.text for hint in warning.hints]


@pytest.mark.parametrize("walls", ["west and east", "the left edge and the right edge"])
def test_the_box_stands(walls: str) -> None:
    """The ends of the folds `west` and `east` lie in the corners that were folded in, and stay there."""
    found = stood(ENDS, f"raise along {walls} and low and high")
    assert not found.warnings
    (pose,) = found.poses.values()
    assert size(pose) == pytest.approx((200, 160, 60), abs=1e-6)


def test_ends_that_rise_with_the_walls_are_creased_before() -> None:
    (said,) = hints("raise along west and east")
    assert "'crease through P R, all layers' and 'crease through Q S, all layers'" in said
    assert not stood(ENDS, ALL).warnings


def test_what_rises_together_is_raised_in_one_statement() -> None:
    (said,) = hints(ENDS, "raise along low and high", "raise along west and east")[:1]
    assert said.startswith("raise all of it in one statement")


def test_fingers_that_open_no_pocket_are_left_out() -> None:
    turn, said = hints(ENDS, f"{ALL}, opening O")
    assert turn.startswith("turn the model over first, where the pocket is behind")
    assert said.startswith("or leave out 'opening'")


def test_fingers_go_under_loose_flaps_though_no_pocket_opens() -> None:
    """Single flaps whose points meet in the middle, on paper that bends across their folds: in the pose they
    lie on it, in hands they gape. So it is not said that no fingers go there."""
    fox = (
        "mark O at centre; valley A to O; valley B to O; valley C to O; valley D to O",
        "crease bottom left edge onto top right edge, all layers, as p; "
        "crease bottom right edge onto top left edge, all layers, as q",
    )
    words = "raise along p and q to 60 degrees"
    (warning,) = standing(folds(script(*fox, f"{words}, opening O")), PoseCache()).warnings
    assert [hint.text for hint in warning.hints] == [
        "turn the model over first, where the pocket is behind, or name another place",
        "or leave out 'opening': it stands so, with the layers there lying together",
    ]
    assert not standing(folds(script(*fox, words)), PoseCache()).warnings


GOLDFISH = """\
sheet square 20 cm, coloured side down, corner A at the bottom
step
  mark O at the centre
  valley C to A
step
  valley B to A
  valley D to A
step
  mark L at the left corner
  mark R at the right corner
  valley B to O
  valley D to O
step
  mark M at the centre
  valley B along line through M and 1/3 of O R
  valley D along line through M and 1/3 of O L
step
  valley C to 3/4 of M O as strip
step
  valley along line L R, moving strip
step
  tuck A along line L R, inside
step
  open out L and R
step
  mark Z at the left corner
  mark N at 2/3 of line L Z
  cut from L to N, all layers
step
  turn inside out A along line N Z
step
  {words}
"""


@pytest.mark.parametrize(
    "words", ["open the bottom left edge by 2 cm", "spread midpoint of line O L by 1 cm"]
)
def test_two_sides_that_do_not_open_as_said_are_pulled_apart(words: str) -> None:
    """A helmet opened out, and its tail: its two sides hang together along the upper edges and there."""
    (warning,) = standing(folds(GOLDFISH.format(words=words)), PoseCache()).warnings
    (hint,) = warning.hints
    said = hint.text.removeprefix("say '").removesuffix("' instead")
    assert said.startswith("pull ")
    assert not standing(folds(GOLDFISH.format(words=said)), PoseCache()).warnings
