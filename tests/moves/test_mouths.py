"""Where what is tucked disappears under other layers, and where it comes out again."""

from __future__ import annotations

import math

from foldscript.folding.steps import Model
from foldscript.geometry.lines import Segment
from foldscript.paper.signs import Arrow

from ..scripts import folds

SAIL = """\
sheet square 150 mm, coloured side down, corner A at the bottom
step
  crease A to C as d1
  crease B to D as d2
step
  turn over
step
  crease edge A B onto edge C D, as h
  crease edge B C onto edge D A, as v
  mark O at the centre
step
  collapse mountain d2, valley h, valley v, holding A
step
  rotate half turn
step
  valley B to O as deck
step
  mountain D to O
step
  tuck C along deck, under B
step
  tuck C to 3/4 of O A, under B
"""
PINWHEEL = """\
sheets 2
sheet square 150 mm, coloured side down
step
  mark P at 1/3 of A D
  mark Q at 2/3 of A D
  valley A to Q
  valley D to P
step
  mark K at 1/3 of the bottom edge
  mark L at 2/3 of the bottom edge
  mark M at 1/3 of the top edge
  mark N at 2/3 of the top edge
  valley line K bottom left corner onto line K M, all layers
  valley line N top right corner onto line N L, all layers
  mark G at the left corner
  mark H at the right corner
assemble "The square"
step
  place unit 2, K of unit 2 to L of unit 1 and L of unit 2 to N of unit 1
step
  valley G of unit 1 along line K of unit 1 M of unit 1
step
  valley G of unit 2 along line K of unit 2 M of unit 2
step
  valley H of unit 1 along line L of unit 1 N of unit 1
step
  tuck H of unit 2 along line L of unit 2 N of unit 2, under G of unit 1
"""


def arrow(model: Model, step: int) -> Arrow:
    signs = [s for record in model.steps[step - 1].records for s in record.signs]
    (found,) = (s for s in signs if isinstance(s, Arrow))
    return found


def way(side: Segment) -> tuple[float, float]:
    """How a side runs: to the right and up, without its length."""
    (x, y), (u, v) = sorted(side)
    return round((u - x) / math.dist(*side), 6), round((v - y) / math.dist(*side), 6)


def test_a_flap_goes_into_the_pocket_at_the_edge_before_it() -> None:
    """The hull's upper edge is level."""
    tucked = arrow(folds(SAIL), 8)
    assert tucked.mouth is not None
    assert tucked.leaves is None
    assert way(tucked.mouth) == (1, 0)


def test_a_hidden_tip_comes_out_at_the_edge_that_it_passes() -> None:
    """It lies in the hull, and is brought up to the mast."""
    out = arrow(folds(SAIL), 9)
    assert out.mouth is None
    assert out.leaves is not None
    assert way(out.leaves) == (1, 0)


def test_a_flap_that_passes_under_another_goes_in_at_one_edge_and_comes_out_at_the_other() -> None:
    """The last of four flaps that lie each on the next, as in a pinwheel, goes in under the
    first at an edge of the square, and its tip lies on the third."""
    last = arrow(folds(PINWHEEL), 7)
    assert last.mouth is not None
    assert last.leaves is not None
    assert way(last.mouth) == (1, 0)
    assert abs(way(last.leaves)[1]) == round(math.sqrt(0.5), 6)
