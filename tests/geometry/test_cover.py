"""The boundary of what polygons cover, against shapely's own union of them."""

from __future__ import annotations

import math
from typing import Any

import pytest
import shapely

from foldscript.geometry.cover import common, joined, less, outlines
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


#: The corner at its top right comes twice, the last bit apart, and its side crosses itself there.
SPOILT = shapely.Polygon(
    [
        (0.8333333333333329, -0.1666666666666668),
        (0.833333333333333, 0.1666666666666664),
        (0.8333333333333331, 0.1666666666666664),
        (0.4999999999999997, -0.1666666666666668),
        (0.8333333333333328, -0.5000000000000002),
        (0.8333333333333329, -0.2333333333333336),
    ]
)
OVER = shapely.Polygon(
    [
        (0.6666666666666666, 1.6653345369377348e-16),
        (0.6666666666666661, -0.6666666666666666),
        (0.8333333333333329, -0.5),
        (0.8333333333333335, 0.1666666666666665),
    ]
)


def test_an_area_spoilt_by_rounding_is_cut_and_joined_all_the_same() -> None:
    assert less(SPOILT, OVER).area == pytest.approx(1 / 36)
    assert common(SPOILT, OVER).area == pytest.approx(1 / 12)
    assert joined([SPOILT, OVER]).area == pytest.approx(SPOILT.area + OVER.area - 1 / 12)


def test_areas_come_without_the_lines_where_others_touch_them() -> None:
    square = shapely.Polygon(SQUARE)
    beside = shapely.Polygon(moved(SQUARE, 1.0, 0.0))
    assert common(square, beside).area == 0
    assert common(square, beside).geom_type == "MultiPolygon"
    assert less(square, beside).equals(square)
    assert less(square, square).is_empty
    assert joined([]).is_empty
