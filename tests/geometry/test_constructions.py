"""Properties of the constructions: every crease does what it was asked, none is missed."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable
from typing import Any

import pytest
import sympy
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from foldscript.geometry.constructions import (
    Crease,
    Lack,
    NoCrease,
    line_to_line,
    nearest,
    perpendicular_through,
    point_to_line_perpendicular,
    point_to_line_through,
    point_to_point,
    points_to_lines,
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
    line_at,
    line_through,
    meet,
    mirrored,
    on_line,
    parallel,
    same_line,
    signed_distance,
)
from foldscript.geometry.tolerance import EPS

from .plane import lines_anywhere, points

CLOSE = 2 * EPS


def level(y: float) -> Line:
    return Line(0.0, 1.0, y)


def upright(x: float) -> Line:
    return Line(1.0, 0.0, x)


def sound(crease: Crease, *moved: Point) -> None:
    """The images are the reflections, and the first that moves lies on the crease's left."""
    assert len(crease.images) == len(moved)
    assert math.hypot(crease.line.nx, crease.line.ny) == pytest.approx(1.0, abs=1e-14)
    for p, image in zip(moved, crease.images, strict=True):
        assert distance(mirrored(crease.line, p), image) <= CLOSE
    way = max(distance(p, image) for p, image in zip(moved, crease.images, strict=True))
    assert crease.idle == (way <= EPS) or EPS / 2 < way < 2 * EPS
    depths = [signed_distance(crease.line, image) for image in crease.images]
    assert next((d for d in depths if abs(d) > EPS), 1.0) > 0


def tried(
    p: Point, line: Line, q: Point, other: Line
) -> tuple[tuple[Crease, ...], NoCrease | None]:
    try:
        return points_to_lines(p, line, q, other), None
    except NoCrease as none:
        return (), none


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


@settings(max_examples=300)
@given(points, lines_anywhere, points, lines_anywhere)
def test_points_to_lines(p: Point, line: Line, q: Point, other: Line) -> None:
    assume(distance(p, q) > 1e-3)
    assume(abs(line.nx * other.ny - line.ny * other.nx) > 1e-3)
    assume(abs(signed_distance(line, p)) > 1e-3)
    creases = points_to_lines(p, line, q, other)
    assert 1 <= len(creases) <= 3
    for crease in creases:
        sound(crease, p, q)
        assert abs(signed_distance(line, crease.images[0])) <= CLOSE
        assert abs(signed_distance(other, crease.images[1])) <= CLOSE
    places = [c.images[0] for c in creases]
    assert all(a < b or abs(a[0] - b[0]) <= 1e-6 for a, b in itertools.pairwise(places))


@given(points, lines_anywhere, points, st.floats(-2, 2))
def test_points_to_parallel_lines(p: Point, line: Line, q: Point, gap: float) -> None:
    """Up to two; where there is none, the gap is what the best crease leaves."""
    assume(distance(p, q) > 1e-3)
    assume(abs(signed_distance(line, p)) > 1e-3)
    other = Line(line.nx, line.ny, line.c + gap)
    height = abs(signed_distance(line, p))
    best = min(
        abs(signed_distance(other, mirrored(_bringing(p, line, height * math.tan(turn)), q)))
        for turn in (math.pi * k / 1000 for k in range(-499, 500))
    )
    creases, none = tried(p, line, q, other)
    if none is not None:
        assert none.lack is Lack.TOO_SHORT
        assert none.mover == 1
        assert 0 <= none.gap <= best + EPS
        assert none.gap == pytest.approx(best, abs=0.02)
        return
    assert 1 <= len(creases) <= 2
    for crease in creases:
        sound(crease, p, q)
        assert abs(signed_distance(line, crease.images[0])) <= CLOSE
        # the further a point lands, the more a rounding of the crease counts
        far = max(1.0, distance(p, crease.images[0]))
        assert abs(signed_distance(other, crease.images[1])) <= CLOSE * far


def _bringing(p: Point, line: Line, t: float) -> Line:
    """The crease that brings p to the place t along the line from its foot."""
    start = foot(line, p)
    image = (start[0] + t * line.direction[0], start[1] + t * line.direction[1])
    return point_to_point(p, image)[0].line


@given(st.floats(-1, 1), lines_anywhere, points, lines_anywhere, st.booleans(), st.floats(-1, 1))
def test_points_on_their_lines(
    t: float, line: Line, q: Point, other: Line, both: bool, u: float
) -> None:
    """The first point, or both, lie there already: the other's creases through it count too."""
    assume(abs(line.nx * other.ny - line.ny * other.nx) > 1e-3)
    p = _along(line, t)
    q = _along(other, u) if both else q
    assume(distance(p, q) > 1e-3)
    assume(both or abs(signed_distance(other, q)) > 1e-3)
    assume(abs(shortfall_through(q, other, p)) > 1e-6)
    creases = points_to_lines(p, line, q, other)
    assert len(creases) <= 3
    for crease in creases:
        sound(crease, p, q)
        assert abs(signed_distance(line, crease.images[0])) <= CLOSE
        assert abs(signed_distance(other, crease.images[1])) <= CLOSE
    assert all(not c.idle for c in creases[:-1])
    swapped = points_to_lines(q, other, p, line)
    assert len(swapped) == len(creases)
    assert all(any(_alike(a.line, b.line) for b in swapped) for a in creases)


def _alike(a: Line, b: Line) -> bool:
    facing = 1.0 if dot(a[:2], b[:2]) > 0 else -1.0
    return all(abs(x - facing * y) < 1e-6 for x, y in zip(a, b, strict=True))


def _along(line: Line, t: float) -> Point:
    start = foot(line, (0.0, 0.0))
    return (start[0] + t * line.direction[0], start[1] + t * line.direction[1])


def test_infinitely_many() -> None:
    for p, line, q, other in (
        ((0.0, 1.0), level(0), (0.0, 1.0), level(0)),
        ((0.0, 0.0), level(0), (1.0, 1.0), level(1)),
        ((0.0, 0.0), level(0), (0.0, 0.0), upright(0)),
    ):
        with pytest.raises(NoCrease) as none:
            points_to_lines(p, line, q, other)
        assert none.value.lack is Lack.ANY


def test_point_on_its_line_and_the_other_too_far() -> None:
    with pytest.raises(NoCrease) as none:
        points_to_lines((0.0, 0.0), level(0), (0.2, 0.0), level(1))
    assert (none.value.lack, none.value.mover) == (Lack.TOO_SHORT, 1)
    assert none.value.gap == pytest.approx(0.8)


def test_double_root_counts_once() -> None:
    """Focus and directrix give two parabolas; here two of their common tangents are one."""
    # p to y = -1 with p = (0, 1): tangents of x^2 = 4y, y = m x - m^2. q's condition is made from a
    # cubic with roots 1, 1, -2: x^3 - 3x + 2, by points (a,1), (c,b) to y = -1, x = -c.
    a, b, c = 0.0, -3.0, 2.0
    for slip in (-1e-16, 0.0, 1e-16):
        creases = points_to_lines((a, 1.0 + slip), level(-1), (c, b), upright(-c))
        slopes = [k.line.direction[1] / k.line.direction[0] for k in creases]
        assert sorted(slopes) == pytest.approx([-2.0, 1.0], abs=1e-7)


def test_triple_root_counts_once() -> None:
    """(x - 1)^3 = x^3 - 3x^2 + 3x - 1."""
    creases = points_to_lines((-3.0, 1.0), level(-1), (-1.0, 3.0), upright(1))
    (crease,) = creases
    assert crease.line.direction[1] / crease.line.direction[0] == pytest.approx(1.0, abs=1e-4)


@given(points, st.floats(-1e-8, 1e-8), points)
def test_nearly_parallel_lines(p: Point, tilt: float, q: Point) -> None:
    """A vanishing leading coefficient spoils nothing: near solutions stay, far ones may go."""
    assume(abs(p[1]) > 1e-2)
    other = line_at((0.0, 0.3), (math.cos(tilt), math.sin(tilt)))
    assume(distance(p, q) > 1e-2)
    creases, none = tried(p, level(0), q, other)
    assert none is None or none.lack is Lack.TOO_SHORT
    for crease in creases:
        if distance(p, crease.images[0]) < 10:
            sound(crease, p, q)
            assert on_line(level(0), crease.images[0])
            assert abs(signed_distance(other, crease.images[1])) <= CLOSE


def test_against_exact_algebra() -> None:
    """Landing places of both constructions with several creases, from sympy's exact roots."""
    draw = random.Random(20)

    def pick() -> Any:
        return sympy.Rational(draw.randint(-40, 40), 32)

    t: Any = sympy.Symbol("t")
    for _ in range(12):
        p, q, anchor = ((pick(), pick()) for _ in range(3))
        (a, b), height = draw.choice([(3, 4), (5, 12), (-8, 15), (1, 0)]), pick()
        if p[1] == height or p == q:
            continue
        # p lands at (t, height); q's image must lie on a x + b y = c
        c = a * anchor[0] + b * anchor[1]
        wx, wy = t - p[0], height - p[1]
        middle = ((t + p[0]) / 2, (height + p[1]) / 2)
        k = (q[0] - middle[0]) * wx + (q[1] - middle[1]) * wy
        meets = (a * q[0] + b * q[1] - c) * (wx**2 + wy**2) - 2 * k * (a * wx + b * wy)
        exact = _roots(meets, t)
        n = math.hypot(a, b)
        other = Line(a / n, b / n, float(c) / n)
        creases = points_to_lines(_float(p), level(float(height)), _float(q), other)
        assert [x.images[0][0] for x in creases] == pytest.approx(exact, abs=1e-8)

        # p lands on that line, turning about q
        turning = (t - q[0]) ** 2 + (height - q[1]) ** 2 - (p[0] - q[0]) ** 2 - (p[1] - q[1]) ** 2
        exact = _roots(turning, t)
        try:
            turned = point_to_line_through(_float(p), level(float(height)), _float(q))
        except NoCrease:
            turned = ()
        assert [x.images[0][0] for x in turned] == pytest.approx(exact, abs=1e-8)


def _roots(expression: Any, t: Any) -> list[float]:
    polynomial: Any = sympy.Poly(sympy.expand(expression), t)
    return sorted(float(root) for root in set(polynomial.real_roots()))


def _float(p: tuple[Any, Any]) -> Point:
    return (float(p[0]), float(p[1]))


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
