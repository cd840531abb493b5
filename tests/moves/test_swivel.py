"""Swivel folds: where the edge lands, Kawasaki at the pivot, and lines that swing nothing."""

from __future__ import annotations

import itertools
import math

import pytest

from foldscript.folding.steps import Model
from foldscript.paper.signs import Arrow, Sense
from foldscript.paper.vertices import alternate_sum

from ..scripts import captions, folded, refused, spot
from .starts import DIAMOND, PRELIMINARY, lines, rays_at, signs

#: P lies on the folded edge O M, 20 mm from M.
PIVOT = (*PRELIMINARY, "mark P at 2/5 of M O")


def swung(words: str) -> Model:
    return folded(*PIVOT, words, sheet=DIAMOND)


def test_the_edge_lands_on_the_line() -> None:
    """M, 20 mm beyond the pivot on the edge, lands on the line from P to B, 20 mm from P (derived)."""
    model = swung("swivel M along line P B")
    p, m, b = spot(model, 50, 20), spot(model, 50, 0), (50.0, -20.710678)
    assert math.dist(p, m) == pytest.approx(20)
    assert (m[0] - p[0]) * (b[1] - p[1]) == pytest.approx((m[1] - p[1]) * (b[0] - p[0]))
    assert lines(model) == {Sense.VALLEY: 2, Sense.MOUNTAIN: 1}


def test_four_folds_meet_at_the_pivot() -> None:
    """Alternate angles sum to 180 degrees (Kawasaki); line and landing edge as named."""
    for goal in ("", ", at P, onto line through P perpendicular to line O M"):
        rays = rays_at(swung(f"swivel M along line P B{goal}"), 50, 20)
        assert len(rays) == 4
        assert alternate_sum(rays) == pytest.approx(180)


def test_landing_elsewhere() -> None:
    model = swung("swivel M along line P B, onto line through P perpendicular to line O M")
    p, m = spot(model, 50, 20), spot(model, 50, 0)
    o = (50.0, 50.0)
    assert (m[0] - p[0]) * (o[0] - p[0]) + (m[1] - p[1]) * (o[1] - p[1]) == pytest.approx(
        0, abs=1e-3
    )


def test_is_a_squash_with_its_hinge_named() -> None:
    """The same paper from the same three rays, in the squash's words."""
    one = swung("swivel M along line P B")
    two = swung("squash line P M onto line P B")
    for x, y in ((50, 0), (50, 20), (36, 0), (63, 0), (100, 0)):
        assert spot(one, x, y) == pytest.approx(spot(two, x, y), abs=1e-4)


#: Doors; the left one swung out, so that its lower end lies on the bottom edge, folded up to P Q.
WINDMILL = (
    "crease left edge onto right edge as v; crease bottom edge onto top edge as h; "
    "mark E where v meets edge A B; mark H where h meets edge A D; crease bottom edge onto h as b; "
    "crease right edge onto v as r; mark Q where r meets b",
    "valley left edge onto v as l; mark P where l meets b",
    "swivel A along line P H, onto l",
)


@pytest.mark.parametrize(
    ("goal", "turned"),
    [
        ("bottom edge", 0),
        *itertools.product(
            (
                "line P Q",
                "line through Q parallel to h",
                "line through Q perpendicular to v",
            ),
            range(4),
        ),
    ],
)
def test_an_edge_that_lands_on_its_own_continuation(goal: str, turned: int) -> None:
    """Half a turn about Q, on the side of the line Q E, by whatever words and however the paper lies.

    The bottom edge lies on the middle line already, so that E lies at (50, 50) and B at (100, 50);
    mirrored in the line from E to Q at (75, 25), B comes to (50, 0). The right edge comes to the middle
    line (derived).
    """
    quarters = ("rotate quarter turn clockwise",) * turned
    before = folded(*WINDMILL, *quarters)
    model = folded(*WINDMILL, *quarters, f"swivel B along line Q E, onto {goal}")
    q, e, b = (spot(before, *at) for at in ((75, 25), (50, 0), (100, 0)))
    assert spot(model, 75, 25) == pytest.approx(q)
    assert spot(model, 50, 0) == spot(model, 100, 50) == pytest.approx(e)
    over = (q[0] + q[0] - b[0], q[1] + q[1] - b[1])  # B, Q and where B lands lie in a line
    assert math.dist(spot(model, 100, 0), e) == pytest.approx(50)
    assert math.dist(spot(model, 100, 0), over) == pytest.approx(0, abs=1e-3)
    assert len(rays_at(model, 75, 25)) == 4


def test_signs() -> None:
    model = swung("swivel M along line P B")
    (arrow,) = [s for s in signs(model) if isinstance(s, Arrow)]
    assert arrow.act == "valley"
    assert arrow.head == pytest.approx(model.finished.where((0.5, 0.0)))  # M
    assert captions(model)[-1] == (
        "Swivel fold: fold point M over along line PB; the layer below is pulled along: "
        "flatten it, so that its folded edge lies on line PB."
    )


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("swivel M", "swivel-what"),
        ("swivel along line P B", "swivel-what"),
        ("swivel A along line P B", "on-the-line"),
        ("swivel B along line M N", "no-spine"),
        ("swivel M along line P B, at O", "no-spine"),
        ("swivel M along line P B, onto line M B", "goal-elsewhere"),
        ("swivel M along line P B, onto line O M", "spine-cannot-land"),
        ("swivel M along line through P parallel to horizontal centre line", "two-pivots"),
        ("swivel M along line through P parallel to horizontal centre line, at P", "blocked"),
    ],
)
def test_refused(words: str, code: str) -> None:
    told = refused(*PIVOT, words, sheet=DIAMOND)
    assert told.code == code
    assert told.hints


def test_a_lower_layer_is_refused() -> None:
    told = refused(*PIVOT, "turn over", "swivel M along line P B", sheet=DIAMOND)
    assert told.code == "blocked"
    assert "lies under" in told.message


def test_of_flaps_side_by_side_one_is_named() -> None:
    """Four flaps meet in the middle, and the left edge passes the folded edges of two of them."""
    blintz = (
        "mark O at centre; valley A to O; valley B to O; valley C to O; valley D to O; turn over"
    )
    corners = "; ".join(
        f"valley {way} corner to centre" for way in ("bottom", "right", "top", "left")
    )
    told = refused(blintz, f"{corners}; turn over", "swivel centre along left edge")
    assert told.code == "which-flap"
    assert told.words == "centre"
