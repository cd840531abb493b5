"""Shapes of a fixed form: path data read, put anywhere, turned or upright."""

from __future__ import annotations

import pytest

from foldscript.drawing.scene.outlines import item_box
from foldscript.drawing.scene.scene import Close, Curve, Draw, Move
from foldscript.drawing.scene.shapes import Shape, segments


def test_path_data() -> None:
    found = list(segments("M 0 0 L 1.5 -2 3 4 C 1 1 2 2 -.5 3 Z"))
    assert found == [
        Move((0, 0)),
        Draw((1.5, -2)),
        Draw((3, 4)),
        Curve((1, 1), (2, 2), (-0.5, 3)),
        Close(),
    ]
    with pytest.raises(ValueError, match="M, L, C and Z"):
        list(segments("M 0 0 Q 1 1 2 2"))


@pytest.mark.parametrize("data", ["M 0", "M 0 0 L 1", "M 0 0 C 1 1 2 Z"])
def test_a_shape_with_wrong_path_data_is_refused_when_it_is_made(data: str) -> None:
    with pytest.raises(ValueError, match="lacks a number"):
        Shape((("sign", data),))


def test_shapes_turn_but_for_the_upright_ones() -> None:
    line = (("sign", "M -10 0 L 0 0"),)
    (path,) = Shape(line).at((10.0, 10.0), (0.0, 1.0))
    assert item_box(path) == pytest.approx((10.0, 0.0, 10.0, 10.0))  # aimed down: above its spot
    upright = Shape(line, upright=True)
    assert upright.at((0, 0), (0, 1)) == upright.at((0, 0), (1, 0))
    assert item_box(upright.at((0, 0), size=2.0)[0]) == (-20.0, 0.0, 0.0, 0.0)
