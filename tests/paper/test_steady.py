"""Lines that all but pass through corners."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from foldscript.geometry.lines import Line, flipped, line_through, signed_distance
from foldscript.geometry.polygons import area
from foldscript.paper.flap import flap, fold_flap
from foldscript.paper.state import flat
from foldscript.paper.steady import SLACK, steadied

from ..conftest import assert_sound
from .sheets import V, rectangle

SQUARE = flat(rectangle())
DIAGONAL = line_through((0.0, 0.0), (1.0, 1.0))


@pytest.mark.parametrize("off", [2e-9, -3e-8, 9e-8])
@pytest.mark.parametrize("way", [lambda line: line, flipped])
def test_through_two_corners(off: float, way: Callable[[Line], Line]) -> None:
    line = way(Line(DIAGONAL.nx, DIAGONAL.ny, DIAGONAL.c + off))
    found = steadied(SQUARE, line)
    assert all(abs(signed_distance(found, p)) < 1e-15 for p in ((0.0, 0.0), (1.0, 1.0)))
    assert found.nx * line.nx + found.ny * line.ny > 0.999


def test_through_one_corner_the_direction_stays() -> None:
    line = line_through((0.0, 3e-9), (1.0, 0.3))
    found = steadied(SQUARE, line)
    assert abs(signed_distance(found, (0.0, 0.0))) < 1e-15
    assert (found.nx, found.ny) == (line.nx, line.ny)


@pytest.mark.parametrize(
    "line",
    [
        DIAGONAL,
        Line(1.0, 0.0, 0.5),
        Line(1.0, 0.0, 3 * SLACK),
        line_through((0.0, 0.0), (1.0, 0.7)),
    ],
)
def test_other_lines_stay_as_they_are(line: Line) -> None:
    assert steadied(SQUARE, line) is line


@pytest.mark.parametrize("off", [1.5e-9, 4e-9, -2e-8])
def test_a_fold_beside_corners_leaves_no_slivers(off: float) -> None:
    triangle = fold_flap(SQUARE, flap(SQUARE, DIAGONAL, [0]), V)
    across = line_through((0.0, 1.0), (1.0, 0.0))
    line = Line(across.nx, across.ny, across.c + off)
    state = fold_flap(triangle, flap(triangle, line, range(2), whole_stack=True), V)
    assert len(state.facets) == 4
    assert all(area(f.outline) == pytest.approx(1 / 4) for f in state.facets)
    assert_sound(state)
