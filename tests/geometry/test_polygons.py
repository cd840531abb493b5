"""Convex polygons, compared with shapely's general clipper."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon as Shape

from foldscript.geometry import polygons
from foldscript.geometry.isometries import Isometry, reflection
from foldscript.geometry.lines import (
    Line,
    Point,
    distance,
    foot,
    line_at,
    line_through,
    signed_distance,
)
from foldscript.geometry.polygons import Polygon
from foldscript.geometry.tolerance import EPS, EPS_AREA

from .plane import convex_polygons, is_convex, isometries, lines_anywhere, points

SQUARE: Polygon = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
TINY = 1e-11


def sound(poly: Polygon) -> None:
    """Convex, counter-clockwise, no corner twice or on its neighbours' line."""
    assert polygons.area(poly) > EPS_AREA
    assert is_convex(poly)
    assert polygons.tidy(poly) == poly


@given(convex_polygons)
def test_area_and_centroid(poly: Polygon) -> None:
    shape = Shape(poly)
    assert polygons.area(poly) == pytest.approx(shape.area, abs=TINY)
    assert polygons.area(poly[::-1]) == pytest.approx(-shape.area, abs=TINY)
    centre = shape.centroid
    assert polygons.centroid(poly) == pytest.approx((centre.x, centre.y), abs=1e-9)
    assert polygons.counter_clockwise(poly[::-1]) == poly
    assert polygons.counter_clockwise(poly) == poly


def test_centroid_of_something_without_area() -> None:
    assert polygons.centroid(((0.0, 0.0), (1.0, 0.0), (0.5, 0.0))) == pytest.approx((0.5, 0.0))


@given(convex_polygons, lines_anywhere)
def test_split(poly: Polygon, line: Line) -> None:
    left, right = polygons.split(poly, line)
    assert left or right
    whole = sum(polygons.area(part) for part in (left, right) if part)
    assert whole == pytest.approx(polygons.area(poly), abs=2 * EPS)
    for part, side in ((left, 1), (right, -1)):
        if part:
            sound(part)
            beyond = [p for p in part if side * signed_distance(line, p) < -EPS]
            assert not beyond or (part == poly and _beyond(poly, line, -side) < EPS_AREA + EPS**2)
            assert all(polygons.inside(poly, p) for p in part)
    lo, hi = polygons.half_plane_extent(poly, line)
    if hi <= EPS:
        assert not left
    elif lo >= -EPS:
        assert not right


def _beyond(poly: Polygon, line: Line, side: int) -> float:
    """Area of the polygon on one side of a line."""
    x, y = foot(line, poly[0])
    (ux, uy), (nx, ny) = line.direction, (side * line.nx, side * line.ny)
    strip = Shape([(x + 9 * (s * ux + t * nx), y + 9 * (s * uy + t * ny)) for s, t in _STRIP])
    return Shape(poly).intersection(strip).area


_STRIP = [(-1, 0), (1, 0), (1, 1), (-1, 1)]


@given(convex_polygons, st.integers(0, 7), st.integers(0, 7), st.floats(-EPS / 2, EPS / 2))
def test_split_through_corners_makes_no_slivers(poly: Polygon, i: int, j: int, off: float) -> None:
    i, j = i % len(poly), j % len(poly)
    assume(i != j)
    line = line_through(poly[i], poly[j])
    left, right = polygons.split(poly, Line(line.nx, line.ny, line.c + off))
    beside = abs(i - j) in (1, len(poly) - 1)
    assert (not left or not right) == beside
    corners = {*left, *right}
    assert corners == set(poly)


@given(convex_polygons, st.integers(0, 7), st.floats(1e-10, 1e-5), st.floats(0, 6.3))
def test_split_near_a_corner_loses_no_paper(
    poly: Polygon, i: int, depth: float, angle: float
) -> None:
    """However small the tip that is cut off, the parts are the whole or the rest stays whole."""
    corner = poly[i % len(poly)]
    line = line_at(
        (corner[0] + depth * math.cos(angle), corner[1] + depth * math.sin(angle)),
        (-math.sin(angle), math.cos(angle)),
    )
    left, right = polygons.split(poly, line)
    whole = sum(polygons.area(part) for part in (left, right) if part)
    assert whole == pytest.approx(polygons.area(poly), abs=2 * EPS)
    for place in poly:
        assert min(distance(place, x) for x in (*left, *right)) <= 4 * EPS


@given(convex_polygons, points, points)
def test_clip_segment(poly: Polygon, p: Point, q: Point) -> None:
    assume(distance(p, q) > 1e-3)
    exact = Shape(poly).intersection(LineString([p, q]))
    part = polygons.clip_segment(poly, (p, q))
    assume(exact.length > 1e-6 or exact.length < EPS / 10)
    if exact.length < EPS / 10:
        # what only grazes the rim may count as on it
        assert part is None or all(abs(polygons.depth(poly, x)) <= 2 * EPS for x in part)
        return
    assert part is not None
    assert distance(*part) == pytest.approx(exact.length, abs=1e-6)
    assert all(polygons.depth(poly, x) >= -2 * EPS for x in part)
    assert (part[1][0] - part[0][0]) * (q[0] - p[0]) + (part[1][1] - part[0][1]) * (q[1] - p[1]) > 0


@given(convex_polygons, st.integers(0, 7))
def test_clip_line_along_a_side(poly: Polygon, i: int) -> None:
    side = polygons.edges(poly)[i % len(poly)]
    part = polygons.clip_line(poly, line_through(*side))
    assert part is not None
    assert part[0] == pytest.approx(side[0], abs=1e-8)
    assert part[1] == pytest.approx(side[1], abs=1e-8)


@given(convex_polygons, lines_anywhere)
def test_clip_line(poly: Polygon, line: Line) -> None:
    left, right = polygons.split(poly, line)
    part = polygons.clip_line(poly, line)
    if left and right:
        assert part is not None
        assert all(abs(signed_distance(line, x)) <= EPS for x in part)
        assert all(abs(polygons.depth(poly, x)) <= 2 * EPS for x in part)
    lo, hi = polygons.half_plane_extent(poly, line)
    if lo > EPS or hi < -EPS:
        assert part is None


@given(convex_polygons, points)
def test_inside(poly: Polygon, p: Point) -> None:
    shape = Shape(poly)
    away = shape.exterior.distance(ShapelyPoint(p))
    within = shape.contains(ShapelyPoint(p))
    assert polygons.strictly_inside(poly, p) == (within and away > EPS)
    assert polygons.inside(poly, p) == (within or polygons.depth(poly, p) >= -EPS)
    if within:
        assert polygons.depth(poly, p) == pytest.approx(away, abs=TINY)
    elif away > 1e-6:
        assert not polygons.inside(poly, p)


@given(convex_polygons, convex_polygons)
def test_overlap_and_intersection(p: Polygon, q: Polygon) -> None:
    exact = Shape(p).intersection(Shape(q))
    common = polygons.intersection(p, q)
    assert polygons.overlap(p, q) == polygons.overlap(q, p)
    if exact.area > 1e-8:
        assert polygons.overlap(p, q)
        sound(common)
        assert polygons.area(common) == pytest.approx(exact.area, abs=1e-8)
    elif exact.area <= 0:
        assert not polygons.overlap(p, q)
        assert common == ()


@given(convex_polygons, st.integers(0, 7), isometries)
def test_polygons_side_by_side_do_not_overlap(poly: Polygon, i: int, m: Isometry) -> None:
    side = polygons.edges(poly)[i % len(poly)]
    mirror = reflection(line_through(*side))
    p = tuple(m(x) for x in poly)
    q = tuple(m(mirror(x)) for x in poly)
    p, q = polygons.counter_clockwise(p), polygons.counter_clockwise(q)
    assert not polygons.overlap(p, q)
    assert polygons.intersection(p, q) == ()
    assert polygons.overlap(p, p)
    assert polygons.intersection(p, p) == p


@given(convex_polygons, st.floats(0, math.pi), st.floats(-0.02, 0.02))
def test_joining_undoes_a_split(poly: Polygon, angle: float, off: float) -> None:
    centre = polygons.centroid(poly)
    line = line_at((centre[0] + off, centre[1]), (math.cos(angle), math.sin(angle)))
    left, right = polygons.split(poly, line)
    assume(left and right)
    both = polygons.joined(left, right)
    assert polygons.area(both) == pytest.approx(polygons.area(poly), abs=1e-12)
    assert len(both) == len(poly)
    for corner in poly:
        assert min(distance(corner, x) for x in both) <= 2 * EPS


def test_joining_only_along_a_whole_side() -> None:
    half = ((1.0, 0.0), (2.0, 0.0), (2.0, 0.5), (1.0, 0.5))
    assert polygons.joined(SQUARE, half) == ()
    whole = ((1.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 1.0))
    both = polygons.joined(SQUARE, whole)
    assert set(both) == {(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)}
    sound(both)


def test_joining_only_to_something_convex() -> None:
    wide = ((1.0, 0.0), (2.0, -1.0), (2.0, 2.0), (1.0, 1.0))
    assert polygons.joined(SQUARE, wide) == ()


@given(convex_polygons, st.lists(st.tuples(st.integers(0, 7), st.floats(0, 1)), max_size=6))
def test_tidy_drops_what_adds_nothing(poly: Polygon, extra: list[tuple[int, float]]) -> None:
    """Points along the sides and repeated corners go, the corners stay."""
    rich: list[Point] = []
    for k, (a, b) in enumerate(polygons.edges(poly)):
        rich.append(a)
        for i, t in sorted(extra):
            if i == k:
                rich.append((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t))
    clean = polygons.tidy(rich)
    assert len(clean) == len(poly)
    for corner in poly:
        assert min(distance(corner, x) for x in clean) <= 2 * EPS


@pytest.mark.parametrize(
    "ring",
    [
        [],
        [(0.0, 0.0)],
        [(0.0, 0.0), (1.0, 0.0)],
        [(0.0, 0.0), (1.0, 0.0), (0.5, 1e-10)],
        [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (1.0, 0.0)],
        [(0.0, 0.0), (1e-7, 0.0), (0.0, 1e-7)],
    ],
)
def test_tidy_leaves_nothing_without_area(ring: list[Point]) -> None:
    assert polygons.tidy(ring) == ()


def test_tidy_takes_off_spikes() -> None:
    ring = [*SQUARE[:2], (1.0, 3.0), *SQUARE[2:]]
    assert polygons.tidy(ring) == SQUARE


@given(st.lists(points, min_size=1, max_size=5))
def test_bounds(pts: list[Point]) -> None:
    x0, y0, x1, y1 = polygons.bounds(pts)
    assert all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in pts)
    assert (x0, y0, x1, y1) == (
        min(x for x, _ in pts),
        min(y for _, y in pts),
        max(x for x, _ in pts),
        max(y for _, y in pts),
    )
