"""The boundary of what polygons cover, against shapely's own union of them."""

from __future__ import annotations

import math
from typing import Any

import pytest
import shapely

from foldscript.geometry.cover import outlines
from foldscript.geometry.polygons import Polygon, area

SQUARE: Polygon = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def moved(ring: Polygon, x: float, y: float) -> Polygon:
    return tuple((p[0] + x, p[1] + y) for p in ring)


def turned(ring: Polygon, degrees: float) -> Polygon:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return tuple((c * x - s * y, s * x + c * y) for x, y in ring)


def parts_of(whole: Any) -> list[Any]:
    return list(shapely.get_parts(whole))


@pytest.mark.parametrize("degrees", [0.0, 10.0, 45.0, 90.0, 123.4])
def test_against_a_general_union(degrees: float) -> None:
    polygons = [SQUARE, turned(SQUARE, degrees), moved(turned(SQUARE, -degrees), 0.4, 0.3)]
    whole = shapely.union_all([shapely.Polygon(p) for p in polygons])
    known = sum(shapely.Polygon(part.exterior).area for part in parts_of(whole))
    assert sum(area(ring) for ring in outlines(polygons)) == pytest.approx(known, abs=1e-8)


def test_corners_are_those_of_the_polygons_and_crossings_of_their_sides() -> None:
    (ring,) = outlines([SQUARE, moved(SQUARE, 0.5, 0.25)])
    corners = set(SQUARE) | set(moved(SQUARE, 0.5, 0.25)) | {(1.0, 0.25), (0.5, 1.0)}
    assert len(ring) == 8
    assert set(ring) <= corners


def test_a_side_with_a_corner_of_another_on_it_stays_one() -> None:
    (ring,) = outlines([SQUARE, moved(SQUARE, 0.5, 0.0)])
    assert sorted(ring) == [(0.0, 0.0), (0.0, 1.0), (1.5, 0.0), (1.5, 1.0)]


def test_parts_that_lie_apart_are_two() -> None:
    assert len(outlines([SQUARE, moved(SQUARE, 3.0, 0.0)])) == 2
