"""Published and derived values of the seven single-fold constructions.

The list: Justin; Huzita; Hatori; Alperin & Lang. A value without a named source is derived:
closed-form geometry worked out apart from the code and confirmed by brute force.
"""

from __future__ import annotations

import itertools
import math

import pytest

from foldscript.geometry.constructions import (
    Crease,
    Lack,
    NoCrease,
    line_to_line,
    perpendicular_through,
    point_to_line_perpendicular,
    point_to_line_through,
    point_to_point,
    points_to_lines,
    through_points,
)
from foldscript.geometry.isometries import compose, reflection
from foldscript.geometry.lines import (
    Line,
    Point,
    distance,
    line_at,
    line_through,
    meet,
    mirrored,
    same_line,
)

A, B, C, D = (0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)
LEFT, RIGHT, BOTTOM, TOP = (
    line_through(A, D),
    line_through(B, C),
    line_through(A, B),
    line_through(D, C),
)


def upright(x: float) -> Line:
    return Line(1.0, 0.0, x)


def level(y: float) -> Line:
    return Line(0.0, 1.0, y)


def sloped(slope: float, through: Point = A) -> Line:
    return line_at(through, (1.0, slope))


def slope(crease: Crease) -> float:
    x, y = crease.line.direction
    return y / x


def crossing(a: Line, b: Line) -> Point:
    at = meet(a, b)
    assert at is not None
    return at


def test_through_two_points() -> None:
    (crease,) = through_points(A, (1.0, 0.5))
    assert slope(crease) == pytest.approx(0.5, abs=1e-12)


def test_point_to_point() -> None:
    """(0,0) to (1,1/2): 2x + y = 5/4."""
    (crease,) = point_to_point(A, (1.0, 0.5))
    assert same_line(crease.line, line_through((0.0, 1.25), (0.625, 0.0)))
    assert crease.images == ((1.0, 0.5),)


@pytest.mark.parametrize(
    ("steep", "slopes"),
    [
        (2.0, [0.618033988750, -1.618033988750]),
        (1.0, [0.414213562373, -2.414213562373]),
    ],
)
def test_line_to_line(steep: float, slopes: list[float]) -> None:
    """y = 0 to y = 2x and to y = x; the smaller turn first."""
    creases = line_to_line(level(0), sloped(steep))
    assert [slope(c) for c in creases] == pytest.approx(slopes, abs=1e-11)


def test_parallel_line_to_line() -> None:
    (crease,) = line_to_line(BOTTOM, TOP)
    assert same_line(crease.line, level(0.5))


def test_perpendicular_through_point() -> None:
    (crease,) = perpendicular_through((0.25, 1.0), sloped(2.0))
    assert slope(crease) == pytest.approx(-0.5, abs=1e-12)


def test_point_to_line_through_two() -> None:
    """(1,0) to x = 1/2 through (0,0): slopes +-tan 30."""
    creases = point_to_line_through(B, upright(0.5), A)
    assert [slope(c) for c in creases] == pytest.approx(
        [-0.577350269190, 0.577350269190], abs=1e-11
    )
    assert creases[1].images[0] == pytest.approx((0.5, math.sqrt(3) / 2), abs=1e-12)


def test_point_to_line_through_one() -> None:
    """(0,0) to y = 1 through (1,0): the circle only touches the line."""
    (crease,) = point_to_line_through(A, TOP, B)
    assert slope(crease) == pytest.approx(-1.0, abs=1e-9)
    assert crease.images[0] == pytest.approx(C, abs=1e-9)


def test_point_to_line_through_none() -> None:
    """(0,0) to y = 1 through (1/2,0): half a sheet too short."""
    with pytest.raises(NoCrease) as none:
        point_to_line_through(A, TOP, (0.5, 0.0))
    assert none.value.lack is Lack.TOO_SHORT
    assert none.value.gap == pytest.approx(0.5, abs=1e-12)


def test_point_to_line_perpendicular() -> None:
    """(5,3) to y = 3x - 3, crease perpendicular to y = -x + 11: y = x + 1/4."""
    (crease,) = point_to_line_perpendicular(
        (5.0, 3.0), sloped(3.0, (0.0, -3.0)), sloped(-1.0, (0.0, 11.0))
    )
    assert same_line(crease.line, sloped(1.0, (0.0, 0.25)))
    assert crease.images[0] == pytest.approx((2.75, 5.25), abs=1e-12)


def test_two_points_to_two_lines() -> None:
    creases = points_to_lines((0.0, 4.0), level(2), (0.0, -4.0), upright(2))
    assert [slope(c) for c in creases] == pytest.approx(
        [-2.102775049097, -0.146365489033, 3.249140538130], abs=1e-11
    )


def test_cube_root_of_two() -> None:
    """Messer, 1986: the first point divides the edge 1 : cube root of 2."""
    (crease,) = points_to_lines(B, upright(0), (1.0, 1 / 3), level(2 / 3))
    height = crease.images[0][1]
    assert height == pytest.approx(0.442493334024, abs=1e-12)
    assert height == pytest.approx(1 / (1 + 2 ** (1 / 3)), abs=1e-14)


def test_roots_of_a_cubic() -> None:
    """x^3 + a x^2 + b x + c with a, b, c = 0, -7, -6: points (a,1), (c,b) to y = -1, x = -c."""
    a, b, c = 0.0, -7.0, -6.0
    creases = points_to_lines((a, 1.0), level(-1), (c, b), upright(-c))
    assert sorted(slope(k) for k in creases) == pytest.approx([-2.0, -1.0, 3.0], abs=1e-12)


def test_angle_in_three() -> None:
    """Abe: 60 degrees; the first point's images lie at 20, 80 and 140 degrees."""
    arm = line_at(A, (math.cos(math.pi / 3), math.sin(math.pi / 3)))
    creases = points_to_lines(A, level(0.25), (0.0, 0.5), arm)
    seen = [math.degrees(math.atan2(c.images[0][1], c.images[0][0])) for c in creases]
    assert sorted(seen) == pytest.approx([20.0, 80.0, 140.0], abs=1e-9)


@pytest.mark.parametrize(
    ("along", "right", "left", "edge"),
    [(1 / 2, 5 / 8, 1 / 8, 1 / 3), (2 / 3, 5 / 9, 2 / 9, 1 / 2)],
)
def test_corner_to_a_point_of_the_edge(
    along: float, right: float, left: float, edge: float
) -> None:
    """Haga's first theorem (Haga, Origamics 2008): (1,0) to (1/2,1) gives a third."""
    (crease,) = point_to_point(B, (along, 1.0))
    assert crossing(crease.line, RIGHT)[1] == pytest.approx(right, abs=1e-12)
    assert crossing(crease.line, LEFT)[1] == pytest.approx(left, abs=1e-12)
    bottom = line_through(mirrored(crease.line, B), mirrored(crease.line, A))
    assert crossing(bottom, LEFT)[1] == pytest.approx(edge, abs=1e-12)


@pytest.mark.parametrize(("top", "x"), [(1 / 2, 1 / 3), (1 / 4, 1 / 5)])
def test_crossing_diagonals(top: float, x: float) -> None:
    """x + y = 1 with the line from (0,0) to (1/2,1) and to (1/4,1)."""
    (diagonal,) = through_points(B, D)
    (other,) = through_points(A, (top, 1.0))
    assert crossing(diagonal.line, other.line)[0] == pytest.approx(x, abs=1e-12)


def test_repeated_halving() -> None:
    """Fujimoto: pinching right, left, right, left from 0.4 halves the error of a third each time."""
    pinch: Point = (0.4, 0.0)
    places: list[float] = []
    for edge in (B, A, B, A):
        (crease,) = point_to_point(edge, pinch)
        pinch = crossing(crease.line, BOTTOM)
        places.append(pinch[0])
    assert places == pytest.approx([0.7, 0.35, 0.675, 0.3375], abs=1e-12)
    errors = [abs(x - t) for x, t in zip(places, [2 / 3, 1 / 3, 2 / 3, 1 / 3], strict=True)]
    assert errors[0] == pytest.approx(abs(0.4 - 1 / 3) / 2, abs=1e-12)
    assert all(b == pytest.approx(a / 2, abs=1e-12) for a, b in itertools.pairwise(errors))


def test_largest_equilateral_triangle_in_the_square() -> None:
    """Folded: 30 degrees by bringing a corner to the middle line, then halved against an edge."""
    thirty = point_to_line_through(B, upright(0.5), A)[1].line
    fifteen = line_to_line(BOTTOM, thirty)[0].line
    diagonal = through_points(A, C)[0].line
    right = crossing(fifteen, RIGHT)
    top = mirrored(diagonal, right)
    sides = [distance(A, right), distance(right, top), distance(top, A)]
    assert sides == pytest.approx([1.035276180410] * 3, abs=1e-12)


def test_knotted_strip() -> None:
    """A strip of width 1 tied flat: creases at 72 degrees, each crossing back, close a pentagon."""
    lean = 1 / math.tan(math.radians(72))
    side = 1.051462224238
    # trapezoids along the strip, their short side below and above by turns
    long = side + 2 * lean
    creases: list[tuple[Point, Point]] = []
    low, high = 0.0, -lean
    for k in range(6):
        creases.append(((low, 0.0), (high, 1.0)))
        low, high = (low + side, high + long) if k % 2 == 0 else (low + long, high + side)
    assert all(distance(*c) == pytest.approx(side, abs=1e-12) for c in creases)
    place = reflection(line_through(*creases[0]))
    corners: list[Point] = []
    for p, q in creases:
        place = compose(place, reflection(line_through(p, q)))
        corners += [place(p), place(q)]
    different: list[Point] = []
    for corner in corners:
        if all(distance(corner, d) > 1e-10 for d in different):
            different.append(corner)
    assert len(different) == 5
    middle = (sum(x for x, _ in different) / 5, sum(y for _, y in different) / 5)
    radius = side / (2 * math.sin(math.pi / 5))
    assert [distance(middle, d) for d in different] == pytest.approx([radius] * 5, abs=1e-10)
    around = sorted(different, key=lambda d: math.atan2(d[1] - middle[1], d[0] - middle[0]))
    gaps = [distance(a, b) for a, b in zip(around, [*around[1:], around[0]], strict=True)]
    assert gaps == pytest.approx([side] * 5, abs=1e-10)
