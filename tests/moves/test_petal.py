"""Petal folds: bird base, frog base, hinges that do not close."""

from __future__ import annotations

import math

import pytest

from foldscript.paper.signs import Arrow, Sense
from foldscript.paper.vertices import alternate_sum

from ..paper.test_bases import layer_areas
from ..scripts import captions, covered, folded, lies, refused, spot
from .starts import BIRD, DIAMOND, NARROWED, PRELIMINARY, lines, rays_at, signs

ROOT2 = math.sqrt(2)
#: The left flap of a preliminary base squashed; P and Q are the ends of the frog base's hinge.
SQUASHED = (
    *PRELIMINARY,
    "squash line O M onto centre line",
    "mark P where line through M at 135 degrees to horizontal centre line meets "
    "line through O at 67.5 degrees to horizontal centre line; "
    "mark Q where line through M at 45 degrees to horizontal centre line meets "
    "line through O at 112.5 degrees to horizontal centre line",
)


def test_bird_base() -> None:
    """B and D lifted: a rhombus with diagonals 1 and sqrt 2 - 1; flaps exactly 1/2 long (derived)."""
    model = folded(*BIRD, sheet=DIAMOND)
    assert covered(model) == pytest.approx((ROOT2 - 1) / 2)
    assert math.dist(lies(model, "B"), lies(model, "A")) == pytest.approx(100)
    p, q = spot(model, 50, 50 * (ROOT2 - 1)), spot(model, 100 - 50 * (ROOT2 - 1), 50)
    assert math.dist(p, q) == pytest.approx(100 * (ROOT2 - 1))
    areas = layer_areas(model.finished)
    assert sum(n * area for n, area in areas.items()) == pytest.approx(1, abs=1e-6)


def test_one_side_of_a_bird_base() -> None:
    """The point goes up: as far above the hinge as it lay below it (derived)."""
    model = folded(*BIRD[:4], sheet=DIAMOND)
    below, above = lies(model.steps[2].after, "B"), lies(model, "B")
    p = spot(model, 50, 50 * (ROOT2 - 1))
    assert above[0] == pytest.approx(below[0])
    assert above[1] - p[1] == pytest.approx(p[1] - below[1])
    assert lines(model) == {Sense.VALLEY: 3, Sense.MOUNTAIN: 2}
    (arrow,) = [s for s in signs(model) if isinstance(s, Arrow)]
    assert arrow.act == "lift"
    assert captions(model)[-1].startswith("Petal fold corner B (lift the front layer")


def test_bird_base_narrowed_and_on() -> None:
    """Four long points; the crane's wings and neck start here (derived: each flap 1/2 long)."""
    model = folded(*NARROWED, sheet=DIAMOND)
    for corner in ("A", "C"):
        assert lies(model, corner) == pytest.approx((50, 50 - 50 * ROOT2))


def test_frog_base() -> None:
    """The hinge ends at the incentres of the triangles O M A and O M B (derived): 14.64 mm from O M.

    M comes up onto the middle line; the corners A and B stay below, one long point.
    """
    model = folded(*SQUASHED, "petal M through P Q", sheet=DIAMOND)
    inradius = 100 * (1 / 2 + 1 / 2 - ROOT2 / 2) / 2
    assert spot(model, 50 - inradius, inradius) == pytest.approx((50 - inradius, inradius))
    assert spot(model, 50, 0) == pytest.approx((50, 2 * inradius))
    assert lies(model, "A") == lies(model, "B") == (50, round(50 - 50 * ROOT2, 6))
    assert len(rays_at(model, 50 - inradius, inradius)) == 4


LOW = "mark E at 4/5 of O M; mark F at 4/5 of O N"


def test_a_creased_side_is_followed() -> None:
    """Side creases made before lead to the point; B is lifted as a single point (derived)."""
    creases = "crease through B E, moving M; crease through B F, moving N"
    model = folded(*PRELIMINARY, f"{LOW}; {creases}", "petal B through E F", sheet=DIAMOND)
    assert len(rays_at(model, 50, 10)) == 4
    assert alternate_sum(rays_at(model, 50, 10)) == pytest.approx(180)
    towards_b = math.atan2(-10, 50) % (2 * math.pi)
    assert any(angle == pytest.approx(towards_b) for angle in rays_at(model, 50, 10))


def test_a_blunt_petal() -> None:
    """Without such creases: the folded edge lands on the hinge, and the end of the petal is blunt."""
    model = folded(*PRELIMINARY, LOW, "petal B through E F", sheet=DIAMOND)
    assert spot(model, 50, 0)[1] == pytest.approx(spot(model, 50, 10)[1])
    assert alternate_sum(rays_at(model, 50, 10)) == pytest.approx(180)


def test_a_hinge_that_does_not_close() -> None:
    """Higher up the side creases would cross before the point (derived)."""
    told = refused(
        *PRELIMINARY,
        "mark E at 1/3 of O M; mark F at 1/3 of O N",
        "petal B through E F",
        sheet=DIAMOND,
    )
    assert told.code == "hinge-does-not-close"
    assert "meet before they reach the point" in told.message
    assert told.hints


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("petal B through M 1/2 of O B", "petal-hinge"),
        ("petal B through 1/2 of M B and 1/2 of N B", "petal-hinge"),
        ("petal D through P Q", "blocked"),
        ("petal through M N", "which-tip"),
        ("petal M through M N", "on-the-line"),
    ],
)
def test_refused(words: str, code: str) -> None:
    points = "mark P at 2/3 of O M; mark Q at 2/3 of O N"
    told = refused(*PRELIMINARY, f"{points}; {words}", sheet=DIAMOND)
    assert told.code == code
    assert told.hints
