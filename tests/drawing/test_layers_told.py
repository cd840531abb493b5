"""The sign of layers at a fold line: which of them move, as the move found it, and how it is drawn."""

from __future__ import annotations

import math

import pytest

from foldscript.drawing.draw import draw
from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Curve, Path, Text
from foldscript.drawing.signs.layers import layers_sign
from foldscript.drawing.style.styles import load_style
from foldscript.paper.signs import FoldLine, Sense

from ..scripts import folded
from .composed import composed

STYLE = load_style("colour")
FRAME = (160.0, 160.0)
HALVED = "valley the top edge onto the bottom edge"


def told(*steps: str) -> tuple[bool, ...]:
    """The layers at the last fold line of a script, topmost first: whether each moves."""
    signs = folded(*steps).steps[-1].panels[-1].signs
    (line,) = (s for s in signs if isinstance(s, FoldLine))
    return line.layers


@pytest.mark.parametrize(
    ("statement", "layers"),
    [
        ("valley the left edge onto the right edge", (True, True)),
        ("valley the bottom edge onto the top edge, 1 layer", (True, False)),
        ("mountain the left edge onto the right edge", (True, True)),
        ("mountain the bottom edge onto the top edge, 1 layer", (False, True)),
    ],
)
def test_of_a_sheet_folded_in_half_it_is_told_which_layers_move(
    statement: str, layers: tuple[bool, ...]
) -> None:
    """A sheet folded in half lies in two layers: worked out by hand."""
    assert told(HALVED, statement) == layers


def test_of_a_single_layer_there_is_no_sign() -> None:
    model = folded(HALVED, "valley the left edge onto the right edge")
    first, second = draw(model, STYLE, FRAME)
    assert "layers" not in first.scene.signs
    assert "layers" in second.scene.signs


def test_it_stands_at_an_end_of_its_line_clear_of_the_paper() -> None:
    model = folded(HALVED, "valley the left edge onto the right edge")
    _, (_, _, ink), _ = composed(model, STYLE, FRAME)
    (sign,) = (g for g in ink.groups if g.kind == "layers")
    (line,) = (g for g in ink.groups if g.kind == "fold")
    paper = next(g for g in ink.groups if g.kind == "paper")
    assert sign.box is not None
    assert line.box is not None
    assert paper.box is not None
    assert sign.box[3] < paper.box[1] or sign.box[1] > paper.box[3]  # above or below
    gap = min(abs(sign.box[3] - line.box[1]), abs(sign.box[1] - line.box[3]))
    assert gap < 10.0
    middle = (sign.box[0] + sign.box[2]) / 2
    assert middle == pytest.approx(line.box[0], abs=15.0)


def strokes(layers: tuple[bool, ...], sense: Sense) -> tuple[list[float], list[float]]:
    """How high the ends of the strokes that bend and of those that do not stand on the page."""
    paths = [i for i in layers_sign(layers, sense, STYLE) if isinstance(i, Path)]
    bent = [s.to[1] for p in paths for s in p.segments if isinstance(s, Curve)]
    level = [p for p in paths if not any(isinstance(s, Curve) for s in p.segments)]
    boxes = [box for p in level if (box := item_box(p)) is not None]
    return bent, [box[1] for box in boxes]


def test_what_moves_bends_up_in_front_and_down_behind() -> None:
    (up,), (level,) = strokes((True, False), Sense.VALLEY)
    assert up < level
    (down,), (level,) = strokes((False, True), Sense.MOUNTAIN)
    assert down > level


def test_all_bend_where_all_move() -> None:
    assert [len(some) for some in strokes((True, True), Sense.VALLEY)] == [2, 0]


@pytest.mark.parametrize(("moving", "number"), [(1, ""), (2, ""), (3, "3"), (6, "6")])
def test_more_than_two_of_several_are_counted(moving: int, number: str) -> None:
    """A reader sees one or two strokes at once."""
    items = layers_sign((*[True] * moving, False), Sense.VALLEY, STYLE)
    assert "".join(i.text for i in items if isinstance(i, Text)) == number


def test_layers_amid_others_have_no_sign() -> None:
    """A layer between two that stay cannot bend out of the stack."""
    assert not layers_sign((False, True, False), Sense.VALLEY, STYLE)
    assert not layers_sign((True, False), Sense.MOUNTAIN, STYLE)


def test_it_is_small() -> None:
    """No larger than the letters beside it are wide and high twice."""
    boxes = [
        item_box(i) for i in layers_sign((True, True, True, False, False), Sense.VALLEY, STYLE)
    ]
    found = [box for box in boxes if box is not None]
    wide = max(b[2] for b in found) - min(b[0] for b in found)
    assert math.isclose(wide, min(wide, 2.5 * STYLE.label))
