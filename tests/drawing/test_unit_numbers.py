"""Numbers of units stand on their paper, also where hardly any of it is free."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import shapely

from foldscript.drawing.scene.outlines import item_box, union_box
from foldscript.drawing.sheet.unit_numbers import unit_numbers
from foldscript.drawing.style.styles import load_style

SIDE = 60.0


def apart() -> Any:
    """Two squares of one unit's paper, one away from the other, beside another unit."""
    units = [SimpleNamespace(number=n, colours=("red", "white")) for n in (1, 2)]
    sheet = SimpleNamespace(others=units[1:], all=units)
    state = SimpleNamespace(sheet=sheet, sheets={0: 0, 1: 0, 2: 1})
    lows = [(0.0, 0.0), (1.5 * SIDE, SIDE), (3 * SIDE, 0.0)]
    fills = [(k, shapely.box(x, y, x + SIDE, y + SIDE)) for k, (x, y) in enumerate(lows)]
    return SimpleNamespace(state=state, fills=fills)


def test_numbers_stand_on_each_part_of_a_unit_though_signs_cover_them_all() -> None:
    marks = [(2.0 * i, 2.0 * j) for i in range(125) for j in range(65)]
    numbers = unit_numbers(apart(), load_style("colour"), marks)
    assert len(numbers) == 3
    for number, (x, y) in zip(numbers, [(0, 0), (1.5 * SIDE, SIDE), (3 * SIDE, 0)], strict=True):
        box = union_box(item_box(item) for item in number)
        assert box is not None
        assert x <= box[0] < box[2] <= x + SIDE
        assert y <= box[1] < box[3] <= y + SIDE
