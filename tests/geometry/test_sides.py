"""Polygons that a side parts: what is said of them beside what cutting them says."""

from __future__ import annotations

import itertools

import numpy as np
import shapely
from hypothesis import given
from hypothesis import strategies as st

from foldscript.geometry.sides import parted

from ..conftest import examples

SQUARE = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]


def apart(one: list[tuple[float, float]], other: list[tuple[float, float]], width: float) -> bool:
    return bool(parted([one, other], np.array([0]), np.array([1]), width)[0])


def test_what_only_touches_is_parted() -> None:
    beside = [(x + 1.0, y) for x, y in SQUARE]
    assert apart(SQUARE, beside, 0.0)
    assert apart(SQUARE[::-1], beside, 0.0)
    assert apart(SQUARE, [(1.0, 1.0), (2.0, 1.0), (2.0, 2.0)], 0.0)


def test_a_strip_within_the_width_does_not_count() -> None:
    near = [(x + 0.95, y) for x, y in SQUARE]
    assert not apart(SQUARE, near, 0.04)
    assert apart(SQUARE, near, 0.06)


def test_a_side_in_a_hollow_parts_nothing() -> None:
    """What lies in the hollow of a polygon is not beyond all of it, though beyond a side."""
    hollow = [(0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (2.0, 3.0), (2.0, 1.0), (0.0, 1.0)]
    across = [(1.0, 0.5), (2.5, 0.5), (2.5, 2.0)]
    assert not apart(hollow, across, 0.0)


corner = st.tuples(st.integers(0, 6).map(float), st.integers(0, 6).map(float))


@examples(150)
@given(st.lists(st.lists(corner, min_size=3, max_size=3, unique=True), min_size=2, max_size=4))
def test_triangles(rings: list[list[tuple[float, float]]]) -> None:
    """Two triangles with an area are parted just where they share none."""
    areas = [shapely.Polygon(ring) for ring in rings]
    pairs = [
        (i, j)
        for i, j in itertools.combinations(range(len(rings)), 2)
        if areas[i].area > 0 and areas[j].area > 0
    ]
    one, other = np.array(pairs, dtype=np.int64).reshape(-1, 2).T
    found = parted(rings, one, other, 1e-9)
    wanted = [areas[i].intersection(areas[j]).area < 1e-6 for i, j in pairs]
    assert found.tolist() == wanted
