"""Six of the seven constructions: every crease does what it was asked, none is missed."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from foldscript.geometry.constructions import (
    Lack,
    NoCrease,
    line_to_line,
    nearest,
    perpendicular_through,
    point_to_line_perpendicular,
    point_to_line_through,
    point_to_point,
    shortfall_through,
    through_points,
)
from foldscript.geometry.isometries import map_line, reflection
from foldscript.geometry.lines import (
    Line,
    Point,
    distance,
    dot,
    flipped,
    foot,
    line_through,
    meet,
    on_line,
    parallel,
    same_line,
    signed_distance,
)
from foldscript.geometry.tolerance import EPS

from .creases import CLOSE, level, sound, upright
from .plane import lines_anywhere, points


@given(points, points)
def test_through_points(p: Point, q: Point) -> None:
    assume(distance(p, q) > 1e-6)
    (crease,) = through_points(p, q)
    assert on_line(crease.line, p)
    assert on_line(crease.line, q)


@given(points, points)
def test_point_to_point(p: Point, q: Point) -> None:
    assume(distance(p, q) > 1e-6)
    (crease,) = point_to_point(p, q)
    sound(crease, p)
    assert crease.images == (q,)


@pytest.mark.parametrize("construct", [through_points, point_to_point])
def test_one_point_is_not_two(construct: Callable[[Point, Point], object]) -> None:
    with pytest.raises(NoCrease) as none:
        construct((0.3, 0.4), (0.3, 0.4 + EPS / 2))
    assert none.value.lack is Lack.SAME_POINT


@given(lines_anywhere, lines_anywhere)
def test_line_to_line(a: Line, b: Line) -> None:
    assume(abs(a.nx * b.ny - a.ny * b.nx) > 1e-3)
    near, far = line_to_line(a, b)
    for crease in (near, far):
        assert same_line(map_line(reflection(crease.line), a), b)
    assert abs(dot(near.line[:2], far.line[:2])) <= EPS
    turn = [abs(dot(a.direction, c.line.direction)) for c in (near, far)]
    assert turn[0] >= turn[1] - EPS
    for crease, other in zip((near, far), line_to_line(flipped(a), b), strict=True):
        assert same_line(crease.line, other.line)


@given(lines_anywhere, st.floats(-2, 2).filter(lambda d: abs(d) > 1e-6), st.booleans())
def test_parallel_line_to_line(a: Line, gap: float, turned: bool) -> None:
    b = Line(a.nx, a.ny, a.c + gap)
    (crease,) = line_to_line(a, flipped(b) if turned else b)
    assert same_line(crease.line, Line(a.nx, a.ny, a.c + gap / 2))


def test_crossing_at_right_angles_is_ordered_by_direction() -> None:
    near, far = line_to_line(level(0), upright(0))
    assert near.line.direction == pytest.approx((math.sqrt(0.5), math.sqrt(0.5)))
    assert far.line.direction == pytest.approx((math.sqrt(0.5), -math.sqrt(0.5)))


def test_one_line_is_not_two() -> None:
    with pytest.raises(NoCrease) as none:
        line_to_line(level(0.5), flipped(level(0.5)))
    assert none.value.lack is Lack.SAME_LINE


@given(points, lines_anywhere)
def test_perpendicular_through(p: Point, line: Line) -> None:
    (crease,) = perpendicular_through(p, line)
    assert on_line(crease.line, p)
    assert abs(dot(crease.line[:2], line[:2])) <= EPS


@given(points, lines_anywhere, points)
def test_point_to_line_through(p: Point, line: Line, q: Point) -> None:
    assume(distance(p, q) > 1e-3)
    missing = shortfall_through(p, line, q)
    assume(abs(missing) > 1e-6)
    assume(abs(signed_distance(line, p)) > 1e-6)
    if missing > 0:
        with pytest.raises(NoCrease) as none:
            point_to_line_through(p, line, q)
        assert (none.value.lack, none.value.gap) == (Lack.TOO_SHORT, missing)
        assert none.value.gap == pytest.approx(distance(foot(line, q), q) - distance(p, q))
        return
    creases = point_to_line_through(p, line, q)
    assert len(creases) == 2
    for crease in creases:
        sound(crease, p)
        assert on_line(line, crease.images[0])
        assert abs(signed_distance(crease.line, q)) <= CLOSE
    first, second = (c.images[0] for c in creases)
    assert first < second or abs(first[0] - second[0]) <= EPS
    again = point_to_line_through(p, flipped(line), q)
    assert [c.images[0] for c in again] == [pytest.approx(first), pytest.approx(second)]


@given(points, lines_anywhere)
def test_point_that_just_reaches(q: Point, line: Line) -> None:
    height = abs(signed_distance(line, q))
    assume(height > 1e-3)
    for slip in (-EPS / 2, 0.0, EPS / 2):
        p = (q[0] + height + slip, q[1])
        assume(distance(p, foot(line, q)) > 1e-3)
        (crease,) = point_to_line_through(p, line, q)
        assert distance(crease.images[0], foot(line, q)) <= EPS
        assert abs(signed_distance(crease.line, q)) <= CLOSE


def test_point_already_on_its_line() -> None:
    moving, idle = point_to_line_through((0.2, 0.0), level(0), (0.5, 0.4))
    assert (moving.idle, idle.idle) == (False, True)
    assert moving.images[0] == pytest.approx((0.8, 0.0))
    assert same_line(moving.line, upright(0.5))
    assert same_line(idle.line, line_through((0.2, 0.0), (0.5, 0.4)))
    (only,) = point_to_line_through((0.5, 0.0), level(0), (0.5, 0.4))
    assert only.idle


def test_point_that_turns_about_itself() -> None:
    with pytest.raises(NoCrease) as none:
        point_to_line_through((0.2, 0.1), level(0), (0.2, 0.1))
    assert (none.value.lack, none.value.gap) == (Lack.TOO_SHORT, 0.1)
    with pytest.raises(NoCrease) as none:
        point_to_line_through((0.2, 0.0), level(0), (0.2, 0.0))
    assert none.value.lack is Lack.ANY


@given(points, lines_anywhere, lines_anywhere)
def test_point_to_line_perpendicular(p: Point, line: Line, other: Line) -> None:
    assume(abs(line.nx * other.ny - line.ny * other.nx) > 1e-2)
    (crease,) = point_to_line_perpendicular(p, line, other)
    sound(crease, p)
    assert abs(signed_distance(line, crease.images[0])) <= CLOSE
    if distance(p, crease.images[0]) > 1e-3:
        assert abs(dot(crease.line[:2], other[:2])) <= 1e-9


def test_point_that_moves_alongside_its_line() -> None:
    with pytest.raises(NoCrease) as none:
        point_to_line_perpendicular((0.2, 0.3), level(0), level(1))
    assert (none.value.lack, none.value.gap) == (Lack.PARALLEL, pytest.approx(0.3))
    with pytest.raises(NoCrease) as none:
        point_to_line_perpendicular((0.2, 0.0), level(0), level(1))
    assert none.value.lack is Lack.ANY
    (idle,) = point_to_line_perpendicular((0.2, 0.0), level(0), upright(1))
    assert idle.idle
    assert same_line(idle.line, level(0))


def test_nearest() -> None:
    creases = point_to_line_through((1.0, 0.0), upright(0.5), (0.0, 0.0))
    assert nearest(creases, (1.0, 1.0)) is creases[1]
    assert nearest(creases, (1.0, -1.0)) is creases[0]
    assert nearest(creases, (-5.0, 0.0)) is creases[0]
    with pytest.raises(ValueError, match="no crease"):
        nearest([], (0.0, 0.0))


def test_lines_face_and_cross_as_expected() -> None:
    """The helpers that these tests lean on."""
    assert parallel(level(0), flipped(level(3)))
    assert meet(level(2), upright(3)) == (3.0, 2.0)
