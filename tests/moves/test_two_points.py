"""Two points onto two lines in one fold: every crease of the geometry can be said and folded."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

import numpy
import pytest

from ..scripts import captions, folded, lies, outcome, refused, spot

MIDDLE = "mark M at midpoint of A B"
THIRD = "valley C onto edge A D and M onto edge B C"


def test_the_right_edge_runs_through_a_point_of_the_bottom_edge() -> None:
    """C lands on the left edge at 2/3 of its height, and the right edge runs through M (derived)."""
    model = folded(MIDDLE, f"{THIRD}, second")
    x, y = lies(model, "C")
    assert (x, y) == pytest.approx((0, 200 / 3))
    bx, by = lies(model, "B")
    assert (bx - x) * (0 - y) - (by - y) * (50 - x) == pytest.approx(0, abs=1e-4)
    assert spot(model, 50, 0) == pytest.approx((50, 0))
    assert captions(model)[-1].endswith("onto edge AD and at the same time edge BC onto point M.")


def test_the_folds_that_fit_are_told_and_reached() -> None:
    told = refused(MIDDLE, THIRD)
    assert told.code == "several-folds"
    assert lies(folded(MIDDLE, f"{THIRD}, first"), "C") == pytest.approx((0, 0))
    assert lies(folded(MIDDLE, f"{THIRD}, second"), "C") == pytest.approx((0, 200 / 3))


def test_both_points_move_where_they_can() -> None:
    """Said of two points that one flap carries, both move, whatever else the geometry would allow."""
    model = folded(
        "mark P at 1/10 of A D; mark Q at 1/5 of A B",
        "valley P onto edge C D and Q onto edge B C, near C",
    )
    assert spot(model, 0, 10)[1] == pytest.approx(100)
    assert spot(model, 20, 0)[0] == pytest.approx(100)


Spot = tuple[int, int]
Ends = Sequence[Spot]


def _creases(at: Spot, line: Ends, onto: Spot, other: Ends) -> list[tuple[float, float, float]]:
    """All creases as (nx, ny, c): a cubic in p's way along its line, solved by numpy's companion matrix.

    Lines are pairs of points. q's image in the crease of p to a + t (b - a) is on `other` when
    |d|^2 (n.q - c) = 2 (d.(q - m)) (n.d), with d = image - p, m the middle of the two.
    """
    a, b = (numpy.array(x, float) for x in line)
    p, q = numpy.array(at, float), numpy.array(onto, float)
    u = (b - a) / numpy.linalg.norm(b - a)
    along = numpy.array(other[1], float) - other[0]
    n = numpy.array((-along[1], along[0])) / numpy.linalg.norm(along)
    c = n @ numpy.array(other[0], float)

    def miss(t: float) -> float:
        d = a + t * u - p
        return float((d @ d) * (n @ q - c) - 2 * (d @ (q - p - d / 2)) * (n @ d))

    ways = numpy.array((-1.0, 0.0, 1.0, 2.0))
    cubic = numpy.linalg.solve(numpy.vander(ways, 4), [miss(t) for t in ways])
    found = []
    for root in numpy.roots(cubic):
        if abs(root.imag) < 1e-9:
            d = a + root.real * u - p
            d = d / numpy.linalg.norm(d)
            found.append((d[0], d[1], float(d @ (p + a + root.real * u) / 2)))
    return found


def _cases() -> list[tuple[Spot, Spot, str, str]]:
    rnd = random.Random(12)
    sides = ("A B", "B C", "C D", "A D")

    def spot() -> Spot:
        return rnd.randrange(5, 96), rnd.randrange(5, 96)

    cases = []
    for _ in range(40):
        p, q = spot(), spot()
        one, two = rnd.sample(sides, 2)
        cases.append((p, q, one, two))
    return cases


@pytest.mark.parametrize(("p", "q", "one", "two"), _cases())
def test_every_crease_of_the_geometry(p: Spot, q: Spot, one: str, two: str) -> None:
    """As many as the cubic has roots whose crease crosses the sheet, each reached by its number."""
    ends = {"A": (0, 0), "B": (100, 0), "C": (100, 100), "D": (0, 100)}
    lines = [tuple(ends[name] for name in side.split()) for side in (one, two)]
    real = []
    for nx, ny, c in _creases(p, lines[0], q, lines[1]):
        away = [nx * x + ny * y - c for x, y in ends.values()]
        if min(away) < -0.5 and max(away) > 0.5:  # bends paper, and no sliver of it
            real.append((nx, ny, c))
    marks = "; ".join(
        f"mark {name} where line through {x} mm from A on edge A B perpendicular to edge A B "
        f"meets line through {y} mm from A on edge A D perpendicular to edge A D"
        for name, (x, y) in (("P", p), ("Q", q))
    )
    reached = []
    for which in ("first", "second", "third"):
        words = f"valley P onto edge {one} and Q onto edge {two}, {which}"
        if outcome(marks, words):
            break
        model = folded(marks, words)
        x, y = spot(model, *p)
        d = math.dist((x, y), p)
        nx, ny = (x - p[0]) / d, (y - p[1]) / d
        reached.append((nx, ny, nx * (x + p[0]) / 2 + ny * (y + p[1]) / 2))
    assert len(reached) >= len(real)
    for crease in real:
        assert any(
            max(abs(s * a - b) for a, b in zip(crease, other, strict=True)) < 1e-4
            for other in reached
            for s in (1, -1)
        )
