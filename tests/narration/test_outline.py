"""Names of corners and edges by where they lie, each name once."""

from __future__ import annotations

from itertools import pairwise
from types import MappingProxyType

import pytest

from foldscript.geometry.isometries import IDENTITY
from foldscript.geometry.lines import Point
from foldscript.narration.outline import Outline, outline_of
from foldscript.narration.shapes import mirrored_sides, shape
from foldscript.paper.sheet import Sheet
from foldscript.paper.state import Facet, State


def lying(*pieces: tuple[Point, ...]) -> Outline:
    """The outline of pieces laid side by side, counter-clockwise, in any units."""
    sheet = Sheet(pieces[0], tuple("ABCDEFGH")[: len(pieces[0])], 100.0)
    facets = tuple(Facet(p, IDENTITY) for p in pieces)
    return outline_of(State(sheet, facets, MappingProxyType({})))


def corners(outline: Outline) -> list[str]:
    return [c.name.render().removeprefix("the ") for c in outline.corners]


def edges(outline: Outline) -> list[str]:
    return [e.name.render().removeprefix("the ") for e in outline.edges]


SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
DIAMOND = ((0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0))
TRIANGLE = ((-1.0, 0.0), (1.0, 0.0), (0.0, 1.0))
KITE = ((0.0, 0.0), (0.4, 1.0), (0.0, 1.3), (-0.4, 1.0))
RECTANGLE = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
HOUSE = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 1.7), (0.0, 1.0))
CUP = ((-0.6, 0.0), (0.6, 0.0), (1.0, 1.0), (-1.0, 1.0))


def test_a_square() -> None:
    """Clockwise from the corner at the left that is nearest."""
    outline = lying(SQUARE)
    assert corners(outline) == [
        "near left corner",
        "far left corner",
        "far right corner",
        "near right corner",
    ]
    assert edges(outline) == ["left edge", "far edge", "right edge", "near edge"]


def test_a_square_on_its_corner() -> None:
    outline = lying(DIAMOND)
    assert corners(outline) == [
        "left corner",
        "farthest corner",
        "right corner",
        "nearest corner",
    ]
    assert edges(outline) == [
        "far left edge",
        "far right edge",
        "near right edge",
        "near left edge",
    ]


def test_a_triangle_has_one_farthest_corner() -> None:
    assert corners(lying(TRIANGLE)) == ["near left corner", "farthest corner", "near right corner"]


def test_an_outline_of_many_corners_is_numbered_clockwise_from_the_left() -> None:
    """A block with two horns at its far side, and a flat piece between them."""
    left = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
    horns = (((0.2, 1.0), (0.8, 1.0), (0.4, 2.0)), ((1.2, 1.0), (1.8, 1.0), (1.6, 2.0)))
    assert corners(lying(left, *horns)) == [
        "corner 1",
        "corner 2",
        "notch 3",
        "corner 4",
        "notch 5",
        "notch 6",
        "corner 7",
        "notch 8",
        "corner 9",
        "corner 10",
    ]


@pytest.mark.parametrize(
    ("pieces", "words"),
    [
        ((SQUARE,), "a square"),
        ((DIAMOND,), "a square standing on one corner"),
        (
            (TRIANGLE,),
            "half a square, cut from corner to corner: a triangle whose longest edge is the near edge",
        ),
        ((KITE,), "a kite shape; its long edges meet at the nearest corner"),
        (
            (CUP,),
            "a trapezium: the far edge and the near edge are parallel, and the far edge is the longer "
            "of the two",
        ),
        ((RECTANGLE,), "a rectangle, its long edges running from left to right"),
        (
            (((0.0, 0.0), (2.0, 0.0), (3.0, 1.0), (1.0, 1.0)),),
            "a parallelogram, a rectangle pushed aslant",
        ),
        ((HOUSE,), "a house shape: a rectangle whose floor is the near edge, with a roof"),
        (
            (((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.0, 2.0), (0.0, 1.5)),),
            "a rectangle with one corner cut off, along the far left edge",
        ),
    ],
)
def test_shapes_by_name(pieces: tuple[tuple[Point, ...], ...], words: str) -> None:
    """School geometry; 'half a square' is common practice at the folding table."""
    assert shape(lying(*pieces)).render() == words


def test_halves_that_mirror_each_other() -> None:
    said = {
        name: (mirror.render() if mirror else "")
        for name, ring in {"kite": KITE, "square": SQUARE}.items()
        for mirror in [mirrored_sides(lying(ring))]
    }
    assert said["kite"] == "Its left half mirrors its right half."
    assert "near half its far half" in said["square"]


def test_going_round_is_clockwise() -> None:
    """From above: from far over right to near (y is away from the folder)."""
    ring = [c.at for c in lying(CUP).corners]
    turns = [
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        for (a, b), (_, c) in pairwise(pairwise([*ring, *ring[:2]]))
    ]
    assert all(t < 0 for t in turns)
