"""What the eye sees: corners and edges by direction."""

from __future__ import annotations

import math

import pytest

from foldscript.geometry.isometries import rotation
from foldscript.geometry.lines import Line, Point, dot, line_through
from foldscript.paper.flap import flap, fold_flap
from foldscript.paper.signs import Sense
from foldscript.paper.silhouette import (
    centre,
    corners_toward,
    direction,
    edges_toward,
    extent,
    seen_of,
)
from foldscript.paper.state import State, flat

from ..sample_scripts import sample
from .sheets import rectangle

SQUARE = flat(rectangle())
DIAMOND = SQUARE.moved(rotation(math.pi / 4, (0.5, 0.5)))


def folded(state: State, line: Line) -> State:
    return fold_flap(state, flap(state, line, range(len(state.facets))), Sense.VALLEY)


TRIANGLE = folded(SQUARE, line_through((1.0, 0.0), (0.0, 1.0)))  # A and B D, right angle at A


def test_outline_of_the_sheet() -> None:
    (ring,) = SQUARE.outlines
    assert set(ring) == set(rectangle().outline)


def test_outline_of_a_triangle_has_three_corners() -> None:
    (ring,) = TRIANGLE.outlines
    assert len(ring) == 3


@pytest.mark.parametrize(
    ("words", "corners"),
    [
        (("top", "left"), {(0, 1)}),
        (("bottom", "right"), {(1, 0)}),
        (("top",), {(0, 1), (1, 1)}),
        (("left",), {(0, 0), (0, 1)}),
    ],
)
def test_corners(words: tuple[str, ...], corners: set[Point]) -> None:
    assert set(corners_toward(SQUARE, words)) == corners


def test_corner_of_a_diamond() -> None:
    assert corners_toward(DIAMOND, ("top",)) == (pytest.approx((0.5, 0.5 + math.sqrt(0.5))),)


@pytest.mark.parametrize(
    ("words", "ends"),
    [
        (("top",), {(0, 1), (1, 1)}),
        (("bottom",), {(0, 0), (1, 0)}),
        (("left",), {(0, 0), (0, 1)}),
        (("right",), {(1, 0), (1, 1)}),
    ],
)
def test_edges(words: tuple[str, ...], ends: set[Point]) -> None:
    (edge,) = edges_toward(SQUARE, words)
    assert set(edge) == ends


def test_two_edges_face_a_diamond_s_top() -> None:
    assert len(edges_toward(DIAMOND, ("top",))) in (0, 2)
    assert len(edges_toward(DIAMOND, ("top", "left"))) == 1


def test_the_long_edge_of_a_triangle() -> None:
    words = ("top", "right") if TRIANGLE.where((1.0, 1.0))[0] < 0.5 else ("bottom", "left")
    (edge,) = edges_toward(TRIANGLE, words)
    assert {tuple(round(v, 9) for v in p) for p in edge} == {(1, 0), (0, 1)}


def test_centre_and_extent() -> None:
    assert centre(SQUARE) == (0.5, 0.5)
    assert extent(SQUARE) == (1, 1)
    assert extent(DIAMOND) == pytest.approx((math.sqrt(2), math.sqrt(2)))


def test_corners_that_no_facet_has_are_exact() -> None:
    """Where two edges cross in the outline: not rounded to the grid of the union."""
    state = folded(SQUARE, line_through((0.9, 0.0), (0.55, 1.0)))
    corners = {p for ring in state.placed for p in ring}
    crossings = [p for ring in state.outlines for p in ring if p not in corners]
    assert crossings
    sides = [line_through(ring[k - 1], ring[k]) for ring in state.placed for k in range(len(ring))]
    for x, y in crossings:
        near = sorted(abs(s.nx * x + s.ny * y - s.c) for s in sides)
        assert near[1] < 1e-14


@pytest.mark.parametrize("name", ["hat-to-boat", "helmet", "crane"])
def test_farthest_corners_are_those_of_the_outline(name: str) -> None:
    """They are found without it where they can be; it tells the same."""
    model = sample(name).model
    for step in model.steps:
        points = [p for ring in step.after.outlines for p in ring]
        for words in (("top",), ("bottom",), ("left",), ("right",), ("top", "left")):
            d = direction(words)
            best = max(dot(p, d) for p in points)
            far = {p for p in points if dot(p, d) >= best - 1e-7}
            found = corners_toward(step.after, words)
            assert len(found) == len(far)
            assert all(min(math.dist(p, q) for q in far) < 1e-12 for p in found)


def test_a_place_amid_what_is_seen_of_some_paper() -> None:
    """A corner of the square folded to its middle hides a quarter of what lies under it."""
    sheet = SQUARE.sheet.outline
    (at,) = [seen_of(SQUARE, [sheet])]
    assert at == pytest.approx((0.5, 0.5))
    state = folded(SQUARE, line_through((0.5, 0.0), (0.0, 0.5)))
    under = ((0.5, 0.0), (0.5, 0.5), (0.0, 0.5))  # all of it lies under the flap
    assert seen_of(state, [under]) is None
    right = ((0.5, 0.0), (1.0, 0.0), (1.0, 1.0), (0.5, 1.0))
    assert seen_of(state, [right]) == pytest.approx((0.75, 0.5))
    half = ((0.0, 0.5), (0.5, 0.0), (1.0, 0.0), (1.0, 0.5))  # the flap hides its left part
    found = seen_of(state, [half])
    assert found is not None
    assert found[0] > 0.5
