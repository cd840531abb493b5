"""Spread sinks: the rectangle in front, Kawasaki at its corners, and points that cannot be spread."""

from __future__ import annotations

import math

import pytest

from foldscript.paper.signs import Arrow, Sense
from foldscript.paper.vertices import alternate_sum, interior_vertices

from ..scripts import captions, covered, folded, refused, spot
from .starts import DIAMOND, PRELIMINARY, UPRIGHT, WATERBOMB, rays_at, signs

ACROSS = "along line through 1/5 of O K perpendicular to line O K"


def test_top_of_a_waterbomb_base() -> None:
    """The line lies 10 mm below O: a square of 20 mm in front, O in its middle (derived)."""
    model = folded(*WATERBOMB, f"spread sink O {ACROSS}", sheet=UPRIGHT)
    state = model.finished
    assert spot(model, 50, 50) == pytest.approx((50, 30))
    front = state.facets[state.top_down(range(len(state.facets)))[0]]
    corners = {(round(x * 100, 6), round(y * 100, 6)) for x, y in front.outline}
    assert corners == {(40, 40), (60, 40), (60, 60), (40, 60)}
    assert front.shows_front
    # the silhouette loses the tip above the line (derived)
    assert covered(model) == pytest.approx(1 / 4 - 0.1 * 0.1)


def test_layers_behind_stay() -> None:
    before = folded(*WATERBOMB, sheet=UPRIGHT)
    model = folded(*WATERBOMB, f"spread sink O {ACROSS}", sheet=UPRIGHT)
    for x, y in ((0, 0), (100, 0), (100, 100), (0, 100), (50, 75), (75, 50), (25, 50), (50, 25)):
        assert spot(model, x, y) == spot(before, x, y)


def test_every_corner_is_flat_foldable() -> None:
    """Kawasaki at each of the eight vertices of the sheet; the point itself has no fold left."""
    model = folded(*WATERBOMB, f"spread sink O {ACROSS}", sheet=UPRIGHT)
    assert rays_at(model, 50, 50) == []
    vertices = list(interior_vertices(model.finished))
    inner = [v for v in vertices if any(model.finished.joints[k].folded for k in v.joints)]
    assert len(inner) == 8
    for v in inner:
        rays = [
            a for k, a in zip(v.joints, v.angles, strict=True) if model.finished.joints[k].folded
        ]
        assert len(rays) == 4
        assert alternate_sum(rays) == pytest.approx(180)


def test_top_of_a_preliminary_base() -> None:
    model = folded(
        *PRELIMINARY,
        "spread sink O along line through 1/6 of O B perpendicular to line O B",
        sheet=DIAMOND,
    )
    depth = 100 * math.sqrt(2) / 2 / 6
    assert spot(model, 50, 50) == pytest.approx((50, 50 - 2 * depth), abs=1e-5)


#: Six folds at O: front and back layer of 120 degrees, gussets of 30 degrees; A in front.
WIDE = (
    "mark O at centre; mark M at midpoint of A B; "
    "crease along line through O at 30 degrees to edge A B, as p; "
    "crease along line through O at 150 degrees to edge A B, as q; "
    "crease along line through O at 0 degrees to edge A B, as r",
    "collapse mountain p and q, valley r, holding A",
)
#: The same of a hexagon, every angle 60 degrees: the gussets of both sides lie over each other.
EVEN = (
    "mark O at the centre; crease A to D as p; crease B to E as q; crease C to F as r",
    "collapse valley p, mountain q and r, holding A, with B over E",
)


def test_a_wide_point() -> None:
    """The rectangle is 2 d wide times tan 60 degrees (derived)."""
    line = "line through 1/10 of O M perpendicular to line O M"
    model = folded(*WIDE, f"spread sink O along {line}", sheet=UPRIGHT)
    state = model.finished
    front = state.facets[state.top_down(range(len(state.facets)))[0]]
    wide = 5 * math.sqrt(3)
    corners = sorted((round(x * 100, 6), round(y * 100, 6)) for x, y in front.outline)
    assert corners == [pytest.approx((50 + x, 50 + y)) for x in (-wide, wide) for y in (-5, 5)]


def test_gussets_that_lie_over_each_other_are_refused() -> None:
    told = refused(
        *EVEN,
        "spread sink O along line through 1/8 of O A perpendicular to line O A",
        sheet="sheet regular hexagon, side 50 mm\n",
    )
    assert told.code == "locked-layers"
    assert "choose a line nearer the point, or try an open sink" in told.hints


def test_signs() -> None:
    model = folded(*WATERBOMB, f"spread sink O {ACROSS}", sheet=UPRIGHT)
    (arrow,) = [s for s in signs(model) if isinstance(s, Arrow)]
    assert arrow.act == "squash"
    assert math.dist(arrow.head, (0.5, 0.3)) == pytest.approx(0, abs=1e-9)
    senses = {getattr(s, "sense", None) for s in signs(model)} - {None}
    assert senses == {Sense.VALLEY, Sense.MOUNTAIN}
    assert "press it down from above" in captions(model)[-1]


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("O along line through 1/3 of O B perpendicular to line O B", "too-deep"),
        ("O along line through 1/6 of O B at 10 degrees to line M N", "line-askew"),
        ("B along line M N", "open-point"),
        ("along line M N", "which-tip"),
    ],
)
def test_refused(words: str, code: str) -> None:
    told = refused(*PRELIMINARY, f"spread sink {words}", sheet=DIAMOND)
    assert told.code == code
    assert told.hints


def test_a_point_of_other_layers_is_refused() -> None:
    """A sheet folded in quarters: four folds meet at the closed corner, not six."""
    told = refused(
        "mark O at centre; valley bottom edge onto top edge; valley left edge onto right edge",
        "spread sink O along line through 1/4 of O A perpendicular to line O A",
    )
    assert told.code == "not-a-point-to-spread"
    assert "4 folds meet there" in told.message
    assert "try an open sink" in told.hints
