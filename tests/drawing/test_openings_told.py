"""Which opening paper goes into, and what goes behind all: signs that are unlike each other."""

from __future__ import annotations

import pytest

from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Curve, Path
from foldscript.drawing.signs.mark_opening import opening_sign
from foldscript.drawing.style.styles import load_style
from foldscript.paper.signs import Opening

from ..sample_scripts import sample
from ..scripts import folds
from .composed import composed

STYLE = load_style("colour")
FRAME = (160.0, 160.0)
UNITS = """
sheets 2
sheet square 90 mm, coloured side down
step
  valley A to C
assemble
step
  place unit 2, B of unit 2 to B of unit 1{behind}
"""


def test_every_tab_of_the_cube_has_its_opening_beside_it() -> None:
    """A unit is a zigzag of three layers, with an opening on either side of the middle one."""
    figures = composed(sample("six-unit-cube").model, STYLE, FRAME)
    shown = [label for label, _, ink in figures if any(g.kind == "opening" for g in ink.groups)]
    joined = [
        label
        for label, panel, _ in figures
        if any(isinstance(sign, Opening) for sign in panel.signs)
    ]
    assert len(joined) == 5
    assert shown == joined


@pytest.mark.parametrize(("above", "below"), [(1, 2), (2, 1), (3, 3)])
@pytest.mark.parametrize("way", [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0)])
def test_the_arrow_goes_in_between_the_layers(
    above: int, below: int, way: tuple[float, float]
) -> None:
    items = opening_sign(Opening((0.0, 0.0), way, above, below, ((0, 1, True),)), STYLE)
    paths = [i for i in items if isinstance(i, Path)]
    (arrow,) = (p for p in paths if p.role == "sign.moving")
    box = item_box(arrow)
    assert box is not None
    level = [
        box[1]
        for p in paths
        if p.role == "sign.staying" and not any(isinstance(s, Curve) for s in p.segments)
        for box in [item_box(p)]
        if box is not None
    ]
    assert sum(y < box[1] for y in level) == above
    assert sum(y > box[1] for y in level) == below
    assert sum(any(isinstance(s, Curve) for s in p.segments) for p in paths) == 1


@pytest.mark.parametrize("behind", ["", ", behind"])
def test_half_a_head_where_a_unit_goes_behind_all(behind: str) -> None:
    """A whole head ends in four strokes, half a head in three."""
    *_, (_, _, ink), _ = composed(folds(UNITS.format(behind=behind)), STYLE, FRAME)
    items = [i for g in ink.groups for i in g.items if isinstance(i, Path)]
    heads = [i for i in items if i.role == "arrow.head"]
    assert len(heads) == 1
    assert len(heads[0].segments) == (4 if behind else 5)
