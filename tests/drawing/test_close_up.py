"""A step that acts in a small place fills its figure with that place, beside the whole model small."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from foldscript.drawing.draw import draw
from foldscript.drawing.framing.close_up import LEAST, SHORT
from foldscript.drawing.framing.framing import Framing, framings, outlined
from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Path
from foldscript.drawing.scene.strokes import polylines
from foldscript.drawing.style.styles import load_style
from foldscript.folding.steps import Panel
from foldscript.geometry.isometries import rotation
from foldscript.paper.signs import Arrow, EqualLengths, Measure, Sense

from . import folded as f
from .seen import items_of
from .test_details import tip

STYLE = load_style("colour")
FRAME = (160.0, 163.0)
MM = 72 / 25.4


def framed(*panels: Panel, anew: tuple[bool, ...] = ()) -> list[Framing]:
    return framings(outlined(panels, anew=anew), STYLE, FRAME)


def test_a_short_fold_is_drawn_two_to_four_times_larger_in_a_window() -> None:
    """The fold of a tip of 0.12 is 0.12 √2 long: so many sheet units, at the window's scale on the page."""
    (found,) = framed(tip(0.12))
    assert found.close_up is not None
    true = 0.12 * math.sqrt(2)
    assert true * found.view.scale < SHORT
    assert LEAST <= found.close_up.view.scale / found.view.scale <= 4.0 + 1e-6
    assert max(found.close_up.size) >= 34 * MM - 1e-6
    (figure,) = draw(f.model(tip(0.12), finished=f.triangle()), STYLE, FRAME)
    assert "close-up" in figure.scene.signs
    assert "inset" not in figure.scene.signs
    lines = [i for i in items_of(figure.scene, "fold.valley") if isinstance(i, Path)]
    (line,) = (points for points in polylines(lines))
    assert math.dist(line[0], line[-1]) == pytest.approx(true * found.close_up.view.scale, abs=1.0)


def test_paper_ends_at_the_window_and_the_small_model_is_whole_beside_it() -> None:
    (found,) = framed(tip(0.12))
    one = found.close_up
    assert one is not None
    (figure,) = draw(f.model(tip(0.12), finished=f.triangle()), STYLE, FRAME)
    boxes = [box for i in items_of(figure.scene, "paper") if (box := item_box(i)) is not None]
    large, small = sorted(boxes, key=lambda box: box[0] - box[2])
    (x, y), (wide, high) = one.at, one.size
    assert large[0] >= x - wide / 2 - 0.01
    assert large[2] <= x + wide / 2 + 0.01
    assert large[3] <= y + high / 2 + 0.01
    assert small[2] < large[0]
    side = math.sqrt(2) * one.small.scale  # a square on its corner
    assert small[2] - small[0] == pytest.approx(side, abs=0.1)
    assert all(box[0] >= 0 and box[2] <= FRAME[0] for box in boxes)


def test_a_long_fold_is_drawn_as_it_is() -> None:
    (found,) = framed(tip(0.6))
    assert found.close_up is None


def test_the_window_stays_while_something_is_done_in_it() -> None:
    first, second, other = framed(tip(0.12), tip(0.1), tip(0.6))
    assert first.close_up is not None
    assert second.close_up == first.close_up
    assert other.close_up is None
    turned = framed(tip(0.12), tip(0.1), anew=(False, True))[1]
    assert turned.close_up != first.close_up


def test_lengths_that_place_the_fold_are_never_left_out() -> None:
    """Marks along whole edges do not fit a window: the figure shows all of the model."""
    marks = EqualLengths(((f.A, f.B), (f.B, f.C)))
    panel = tip(0.12)
    for sign in (marks, Measure(f.A, f.C, "6", "cm")):
        (found,) = framed(replace(panel, signs=(*panel.signs, sign)))
        assert found.close_up is None


def test_a_window_is_as_large_as_what_is_done_in_it() -> None:
    """A tip, where it lands, and 11 points about both."""
    (found,) = framed(tip(0.12))
    one = found.close_up
    assert one is not None
    assert one.size[1] == pytest.approx(0.12 * math.sqrt(2) * one.view.scale + 22.0, abs=0.5)
    assert one.size[0] <= 34 * MM + 1e-6


def corner(size: float) -> Panel:
    """Half a square, twice as wide as high, whose right angle is folded by so much."""
    turn = rotation(math.pi / 4)
    state = f.triangle().moved(turn)
    start, end = turn((1.0 - size, 1.0)), turn((1.0, 1.0 - size))
    line = f.crease_of(state, start, end, Sense.VALLEY)
    return Panel(state, (line, Arrow("valley", turn(f.C), turn((1.0 - size, 1.0 - size)))))


def test_a_window_is_no_higher_than_the_figures_of_its_row_while_its_line_is_long_enough() -> None:
    (found,) = framed(corner(0.12))
    one = found.close_up
    assert one is not None
    high = math.sqrt(2) / 2 * found.view.scale
    assert one.size[1] <= high + 1e-6
    assert 0.12 * math.sqrt(2) * one.view.scale >= SHORT - 1e-6
    assert one.view.scale / found.view.scale < 4.0
