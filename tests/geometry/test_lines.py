"""Points, segments and lines: what each function promises, on random input."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint

from foldscript.geometry import lines
from foldscript.geometry.lines import Line, Point
from foldscript.geometry.tolerance import EPS, is_zero, same, same_point, sign

from .plane import lines_anywhere, points

TINY = 1e-12


@given(points, points)
def test_line_through(p: Point, q: Point) -> None:
    assume(lines.distance(p, q) > 1e-3)
    line = lines.line_through(p, q)
    assert lines.on_line(line, p)
    assert lines.on_line(line, q)
    assert lines.dot(line.direction, lines.subtract(q, p)) > 0
    left = lines.add(p, (line.nx, line.ny))
    assert lines.cross(lines.subtract(q, p), lines.subtract(left, p)) > 0
    assert lines.signed_distance(line, left) == pytest.approx(1, abs=TINY)


@pytest.mark.parametrize("build", [lines.line_through, lines.perpendicular_bisector])
def test_one_point_fixes_no_line(build: Callable[[Point, Point], Line]) -> None:
    with pytest.raises(ValueError, match="coinciding"):
        build((0.25, 0.5), (0.25, 0.5 + EPS / 2))


@given(lines_anywhere, points)
def test_distance_foot_and_mirror(line: Line, p: Point) -> None:
    base = lines.foot(line, p)
    assert lines.on_line(line, base)
    d = lines.signed_distance(line, p)
    assert lines.distance(p, base) == pytest.approx(abs(d), abs=TINY)
    image = lines.mirrored(line, p)
    assert lines.midpoint(p, image) == pytest.approx(base, abs=TINY)
    assert lines.mirrored(line, image) == pytest.approx(p, abs=TINY)
    assert lines.signed_distance(line, image) == pytest.approx(-d, abs=TINY)
    assert lines.signed_distance(lines.flipped(line), p) == pytest.approx(-d, abs=TINY)
    far = [lines.add(base, lines.scale(line.direction, t)) for t in (-20.0, 20.0)]
    assert LineString(far).distance(ShapelyPoint(p)) == pytest.approx(abs(d), abs=1e-11)


@given(lines_anywhere, lines_anywhere)
def test_meet(a: Line, b: Line) -> None:
    assume(abs(a.nx * b.ny - a.ny * b.nx) > 1e-2)
    at = lines.meet(a, b)
    assert at is not None
    assert lines.on_line(a, at)
    assert lines.on_line(b, at)
    assert not lines.parallel(a, b)
    assert not lines.same_line(a, b)


@given(lines_anywhere, points)
def test_parallel_and_perpendicular(line: Line, p: Point) -> None:
    beside, across = lines.parallel_at(line, p), lines.perpendicular_at(line, p)
    assert lines.on_line(beside, p)
    assert lines.on_line(across, p)
    assert lines.parallel(line, beside)
    assert lines.parallel(line, lines.flipped(beside))
    assert lines.meet(line, beside) is None
    assert is_zero(lines.dot(line.direction, across.direction))
    assert lines.same_line(line, beside) == lines.on_line(line, p)
    assert lines.same_line(line, lines.flipped(line))


@given(points, points)
def test_perpendicular_bisector(p: Point, q: Point) -> None:
    assume(lines.distance(p, q) > 1e-3)
    line = lines.perpendicular_bisector(p, q)
    assert lines.mirrored(line, p) == pytest.approx(q, abs=TINY)
    assert lines.signed_distance(line, q) > 0


@given(points, points, st.floats(-0.5, 1.5), st.floats(-1, 1))
def test_point_on_segment(p: Point, q: Point, t: float, off: float) -> None:
    n = lines.distance(p, q)
    assume(n > 1e-3)
    line = lines.line_through(p, q)
    at = lines.add(lines.between(p, q, t), lines.scale((line.nx, line.ny), off))
    away = LineString([p, q]).distance(ShapelyPoint(at))
    assume(abs(away - EPS) > EPS / 2)
    assert lines.point_on_segment((p, q), at) == (away < EPS)


def test_point_on_a_segment_without_length() -> None:
    dot = ((0.5, 0.5), (0.5, 0.5))
    assert lines.point_on_segment(dot, (0.5, 0.5))
    assert not lines.point_on_segment(dot, (0.5, 0.5 + 2 * EPS))


@given(points, points, st.floats(-1, 2), st.floats(-1, 2))
def test_overlap_of_collinear_segments(p: Point, q: Point, s: float, t: float) -> None:
    n = lines.distance(p, q)
    assume(n > 1e-2)
    other = (lines.between(p, q, s), lines.between(p, q, t))
    lo, hi = max(0.0, min(s, t)), min(1.0, max(s, t))
    assume(abs((hi - lo) * n - EPS) > EPS / 2)
    common = lines.overlap_of((p, q), other)
    if (hi - lo) * n < EPS:
        assert common is None
        return
    assert common is not None
    assert common[0] == pytest.approx(lines.between(p, q, lo), abs=TINY)
    assert common[1] == pytest.approx(lines.between(p, q, hi), abs=TINY)


@given(points, points, points, points)
def test_overlap_needs_one_line(p: Point, q: Point, r: Point, s: Point) -> None:
    assume(lines.distance(p, q) > 1e-2)
    line = lines.line_through(p, q)
    off = max(abs(lines.signed_distance(line, x)) for x in (r, s))
    assume(off > 2 * EPS)
    assert lines.overlap_of((p, q), (r, s)) is None


@given(st.floats(-3e-9, 3e-9))
def test_tolerance(x: float) -> None:
    near = abs(x) <= EPS
    assert is_zero(x) == near
    assert same(x, 0.0) == near
    assert same_point((x, 0.0), (0.0, 0.0)) == near
    assert sign(x) == (0 if near else math.copysign(1, x))
