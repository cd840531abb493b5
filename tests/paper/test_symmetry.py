"""Symmetries of folded states: how many there are, and that each really lays the paper onto itself."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.geometry.isometries import IDENTITY, Isometry, compose, inverse, same_isometry
from foldscript.geometry.lines import Line, distance
from foldscript.geometry.polygons import Polygon
from foldscript.paper.leaves import leaf_round, turn_leaf
from foldscript.paper.sheet import Sheet
from foldscript.paper.state import State, flat
from foldscript.paper.symmetry import (
    Symmetry,
    congruences,
    differences,
    outline_isometries,
    symmetries,
)

from ..conftest import assert_sound, examples
from ..scripts import folded


def regular(n: int, first: float = 0.0) -> Polygon:
    return tuple(
        (math.cos(first + 2 * math.pi * k / n) / 2, math.sin(first + 2 * math.pi * k / n) / 2)
        for k in range(n)
    )


# The group of a regular n-gon has 2n elements; a rectangle's four, a rhombus's four, an isosceles
# trapezoid's and a kite's two (school geometry).
OUTLINES: list[tuple[str, Polygon, int]] = [
    ("square", ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)), 8),
    ("turned square", regular(4, 0.3), 8),
    ("rectangle", ((0.0, 0.0), (1.0, 0.0), (1.0, 0.7), (0.0, 0.7)), 4),
    ("triangle", regular(3), 6),
    ("pentagon", regular(5, 0.1), 10),
    ("hexagon", regular(6), 12),
    ("dodecagon", regular(12), 24),
    ("isosceles trapezoid", ((0.0, 0.0), (1.0, 0.0), (0.8, 0.5), (0.2, 0.5)), 2),
    ("parallelogram", ((0.0, 0.0), (0.8, 0.0), (1.0, 0.5), (0.2, 0.5)), 2),
    ("rhombus", ((0.5, 0.0), (1.0, 0.3), (0.5, 0.6), (0.0, 0.3)), 4),
    ("kite", ((0.5, 0.0), (1.0, 0.7), (0.5, 1.0), (0.0, 0.7)), 2),
    ("scalene", ((0.0, 0.0), (1.0, 0.0), (0.3, 0.6)), 1),
    ("house", ((0.0, 0.0), (1.0, 0.0), (1.0, 0.5), (0.5, 0.9), (0.0, 0.5)), 2),
]


@pytest.mark.parametrize(("name", "outline", "count"), OUTLINES, ids=[o[0] for o in OUTLINES])
def test_isometries_of_an_outline(name: str, outline: Polygon, count: int) -> None:
    found = outline_isometries(outline)
    assert len(found) == count
    assert same_isometry(found[0], IDENTITY)
    for m in found:  # each corner lands on a corner
        for p in outline:
            assert min(distance(m(p), q) for q in outline) < 1e-9
    for m in found:  # a group: products and inverses are in it
        assert any(same_isometry(inverse(m), n) for n in found)
        for n in found:
            assert any(same_isometry(compose(m, n), k) for k in found)


def test_a_corner_on_a_straight_edge_is_none() -> None:
    square = ((0.0, 0.0), (0.4, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
    assert len(outline_isometries(square)) == 8


def holds(state: State, symmetry: Symmetry, other: State | None = None) -> None:
    """Checks the definition on many places of the sheet, layer by layer, with no use of facets."""
    after = state if other is None else other
    spots = [((i + 0.37) / 11, (j + 0.61) / 13) for i in range(11) for j in range(13)]
    inside = [p for p in spots if state.facets_on_sheet(p)]
    for p in inside:
        assert distance(after.where(symmetry.sheet(p)), symmetry.motion(state.where(p))) < 1e-9
    for p in inside[::3]:
        stack = state.facets_at(state.where(p))
        mapped = []
        for f in stack:
            back = inverse(state.facets[f].place)(state.where(p))
            (k,) = set(after.facets_on_sheet(symmetry.sheet(back))) or {None}
            mapped.append(k)
        want = mapped[::-1] if symmetry.behind else mapped
        assert list(after.facets_at(symmetry.motion(state.where(p)))) == want


# From school geometry: what is left of the square's eight after these folds; 'behind' counts those
# that turn the layers round.
FOLDED = [
    ("book", ["valley bottom edge onto top edge"], 2, 2),
    ("triangle", ["valley A to C"], 2, 2),
    ("one corner in", ["mark O at the centre", "valley A to O"], 2, 0),
    ("two corners in", ["mark O at the centre", "valley A to O", "valley B to O"], 2, 0),
    ("opposite corners in", ["mark O at the centre", "valley A to O", "valley C to O"], 4, 0),
    ("blintz", ["mark O at the centre", *(f"valley {p} to O" for p in "ABCD")], 8, 0),
    ("door", ["crease left edge onto right edge as v", "valley left edge onto v"], 2, 0),
    ("off the middle", ["valley bottom edge onto top edge", "valley A to 1/3 of A B"], 1, 0),
]


@pytest.mark.parametrize(("name", "steps", "front", "behind"), FOLDED, ids=[f[0] for f in FOLDED])
def test_symmetries_of_a_state(name: str, steps: list[str], front: int, behind: int) -> None:
    state = folded(*steps).finished
    found = symmetries(state)
    assert found[0].is_identity
    assert (len([s for s in found if not s.behind]), len([s for s in found if s.behind])) == (
        front,
        behind,
    )
    for symmetry in found:
        holds(state, symmetry)


def test_a_flat_sheet_has_each_on_both_faces() -> None:
    square = Sheet(OUTLINES[0][1], ("A", "B", "C", "D"), 100.0)
    found = symmetries(flat(square))
    assert len(found) == 16
    assert sum(s.behind for s in found) == 8


def preliminary() -> State:
    return folded("turn over", sheet="start from preliminary base\n").finished


def test_the_preliminary_base_has_four_and_its_pages_give_the_others() -> None:
    """Derived: left for right, turned over, and both; a quarter turn of the sheet needs its flaps
    turned like pages, and four such turns bring the first flap back."""
    state = preliminary()
    found = symmetries(state)
    assert len(found) == 4
    assert {(s.behind, s.mirrors) for s in found} == {
        (False, False),
        (False, True),
        (True, False),
        (True, True),
    }
    (spine,) = {s.axis for s in found if s.axis is not None and not s.behind}
    assert spine is not None
    now = state
    seen: list[Isometry] = []
    for _ in range(4):
        turned = leaf_round(now, spine)
        assert turned is not None
        assert_sound([turned[0].after, turned[1].after])
        now = turned[1].after
        alike = congruences(state, now)
        assert len(alike) == 4
        for symmetry in alike:
            holds(state, symmetry, now)
        (same_place,) = [s for s in alike if not s.behind and not s.motion.flips]
        seen.append(same_place.sheet)
    assert len({tuple(round(v, 6) + 0.0 for v in m) for m in seen}) == 4
    assert same_isometry(seen[-1], IDENTITY)


def test_no_page_turns_without_a_crease() -> None:
    state = folded("valley bottom edge onto top edge").finished
    assert turn_leaf(state, Line(1.0, 0.0, 0.5), front=True) is None


def test_creases_that_lie_flat_need_not_match() -> None:
    plain = folded("valley bottom edge onto top edge").finished
    creased = folded("crease A to C", "valley bottom edge onto top edge").finished
    assert len(symmetries(plain)) == len(symmetries(creased)) == 4


def test_cuts_have_to_match() -> None:
    state = flat(Sheet(OUTLINES[0][1], ("A", "B", "C", "D"), 100.0))
    cut = replace(state, cuts=(((0.0, 0.5), (0.2, 0.5)),))
    found = symmetries(cut)
    assert len([s for s in found if not s.behind]) == 2
    (first, *_) = differences(cut, cut, outline_isometries(state.sheet.outline)[1], False)
    assert first.kind == "cut"


def test_what_differs() -> None:
    state = folded("mark O at the centre", "valley A to O").finished
    quarter = next(m for m in outline_isometries(state.sheet.outline)[1:2])
    found = differences(state, state, quarter, False)
    assert {d.kind for d in found} == {"fold"}
    assert all(d.amount == pytest.approx(math.sqrt(0.5)) for d in found)
    # behind, the folds match and the layers do not
    (order,) = differences(state, state, IDENTITY, True)
    assert order.kind == "order"
    assert differences(state, state, IDENTITY, False) == []


MIRRORED: dict[str, str] = {"A": "B", "B": "A", "C": "D", "D": "C"}


@examples(25)
@given(st.permutations(["A", "D"]), st.integers(3, 9), st.integers(3, 9), st.integers(0, 2))
def test_folds_made_on_both_sides_keep_the_mirror(
    corners: list[str], first: int, second: int, count: int
) -> None:
    """A fold and its mirror image leave the mirror image of the whole where it was."""
    steps = []
    for corner, part in list(zip(corners, (first, second), strict=True))[:count]:
        other = MIRRORED[corner]
        goal = "C" if corner == "A" else "B"
        steps.append(f"valley {corner} to 1/{part} of {corner} {goal}")
        steps.append(f"valley {other} to 1/{part} of {other} {MIRRORED[goal]}")
    state = folded(*steps).finished if steps else folded("turn over").finished
    upright = Isometry(-1.0, 0.0, 1.0, 0.0, 1.0, 0.0)
    assert any(same_isometry(s.sheet, upright) and not s.behind for s in symmetries(state))
