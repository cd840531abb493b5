"""Two points to two lines with one crease: up to three, from a cubic that may degenerate."""

from __future__ import annotations

import itertools
import math
import random
from typing import Any

import pytest
import sympy
from hypothesis import assume, given
from hypothesis import strategies as st

from foldscript.geometry.constructions import (
    Crease,
    Lack,
    NoCrease,
    point_to_line_through,
    point_to_point,
    points_to_lines,
    shortfall_through,
)
from foldscript.geometry.lines import (
    Line,
    Point,
    distance,
    dot,
    foot,
    line_at,
    mirrored,
    on_line,
    signed_distance,
)
from foldscript.geometry.tolerance import EPS

from ..conftest import examples
from .creases import CLOSE, level, sound, upright
from .plane import lines_anywhere, points


def tried(
    p: Point, line: Line, q: Point, other: Line
) -> tuple[tuple[Crease, ...], NoCrease | None]:
    try:
        return points_to_lines(p, line, q, other), None
    except NoCrease as none:
        return (), none


@examples(300)
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
