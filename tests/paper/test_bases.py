"""The traditional bases, from their crease patterns: silhouette, layers, number of orders.

Values: derived (closed-form geometry, exact in Q(sqrt 2), confirmed by an independent brute force).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import pytest
import shapely

from foldscript.geometry.cover import union
from foldscript.geometry.lines import Segment, distance, line_through, signed_distance
from foldscript.paper.sheet import Sheet
from foldscript.paper.state import State

from ..conftest import assert_sound
from .orders import count_orders, fold_pattern
from .patterns import pattern
from .sheets import M, V, rectangle, spread, star, strip

ROOT2 = math.sqrt(2)
P = (ROOT2 - 1) / 2
R = 1 - ROOT2 / 2
S = (2 - ROOT2) / 4
T = ROOT2 - 1

A, B, C, D = (0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)
O = (0.5, 0.5)  # noqa: E741
MIDDLES = ((0.5, 0.0), (1.0, 0.5), (0.5, 1.0), (0.0, 0.5))


@dataclass(frozen=True)
class Base:
    """Creases by sense; the silhouette's area; number of layers -> area of that many layers."""

    valleys: Sequence[Segment]
    mountains: Sequence[Segment]
    silhouette: float
    layers: dict[int, float]


I1, I2 = (ROOT2 / 2, R), (R, ROOT2 / 2)
PAB, PBC, PCD, PDA = (0.5, P), (1 - P, 0.5), (0.5, 1 - P), (P, 0.5)
INNER = ((0.25, 0.25), (0.75, 0.25), (0.75, 0.75), (0.25, 0.75))

BASES = {
    "preliminary": Base(star(O, *MIDDLES), star(O, B, D), 1 / 4, {4: 1 / 4}),
    "waterbomb": Base(star(O, A, B, C, D), star(O, (0.5, 0.0), (0.5, 1.0)), 1 / 4, {4: 1 / 4}),
    "kite": Base(star(A, (1.0, T), (T, 1.0)), [], 2 - ROOT2, {1: 3 - 2 * ROOT2, 2: ROOT2 - 1}),
    "fish": Base(
        [*star(I1, A, B, C), *star(I2, A, D, C)],
        [*star(I1, (1.0, R)), *star(I2, (R, 1.0))],
        ROOT2 - 1,
        {2: 2 * ROOT2 - 5 / 2, 4: 3 / 2 - ROOT2},
    ),
    "bird": Base(
        [
            *star(O, PAB, PBC, PCD, PDA),
            *star(PAB, A, B),
            *star(PBC, B, C),
            *star(PCD, C, D),
            *star(PDA, D, A),
        ],
        [*star(O, B, D), *[(p, m) for p, m in zip((PAB, PBC, PCD, PDA), MIDDLES, strict=True)]],
        S,
        {8: (ROOT2 - 1) / 4, 4: (3 - 2 * ROOT2) / 4},
    ),
    "blintz": Base([(MIDDLES[k - 1], MIDDLES[k]) for k in range(4)], [], 1 / 2, {2: 1 / 2}),
    "cupboard": Base([((x, 0.0), (x, 1.0)) for x in (0.25, 0.75)], [], 1 / 2, {2: 1 / 2}),
    "windmill": Base(
        [*[(INNER[k - 1], INNER[k]) for k in range(4)], *zip(INNER, (A, B, C, D), strict=True)],
        [
            ((0.25, 0.25), (0.5, 0.0)),
            ((0.75, 0.25), (1.0, 0.5)),
            ((0.75, 0.75), (0.5, 1.0)),
            ((0.25, 0.75), (0.0, 0.5)),
        ],
        3 / 8,
        {2: 1 / 4, 4: 1 / 8},
    ),
}


def layer_areas(state: State) -> dict[int, float]:
    """Number of layers -> area covered by exactly so many."""
    shapes = [shapely.Polygon(p) for p in state.placed]
    lines = shapely.union_all([s.exterior for s in shapes], grid_size=1e-9)
    found: dict[int, float] = defaultdict(float)
    for cell in shapely.get_parts(shapely.polygonize([lines])):
        spot = cell.representative_point()
        found[sum(s.contains(spot) for s in shapes)] += cell.area
    return {count: area for count, area in found.items() if count and area > 1e-7}


@pytest.mark.parametrize("name", BASES)
def test_base(name: str) -> None:
    base = BASES[name]
    creases, senses = spread([(V, base.valleys), (M, base.mountains)])
    flat = pattern(rectangle(), creases)
    assert count_orders(flat, senses) == 1
    state = fold_pattern(flat, senses)
    assert_sound(state)
    assert union(state.placed).area == pytest.approx(base.silhouette, abs=1e-8)
    areas = layer_areas(state)
    assert areas == pytest.approx(base.layers, abs=1e-7)
    assert sum(n * area for n, area in areas.items()) == pytest.approx(1.0, abs=1e-6)


def test_bird_base_flaps_are_half_an_edge_long() -> None:
    """All four points lie on each other; each reaches 1/2 beyond the hinge of its flap (derived)."""
    base = BASES["bird"]
    creases, senses = spread([(V, base.valleys), (M, base.mountains)])
    state = fold_pattern(pattern(rectangle(), creases), senses)
    tip = state.where(A)
    assert all(distance(tip, state.where(p)) <= 1e-9 for p in (B, C, D))
    around = (PDA, PAB, PBC, PCD, PDA)
    for p, q in pairwise(state.where(p) for p in around):
        away = signed_distance(line_through(p, q), tip) if distance(p, q) > 1e-9 else None
        assert away is None or abs(away) == pytest.approx(1 / 2)


def test_pleat_of_a_strip() -> None:
    """A strip of 2, 1, 3 pleated: the far edge comes from 6 to 4 (derived)."""
    state = fold_pattern(strip([2, 1, 3]), [M, V])
    assert_sound(state)
    assert state.where((1.0, 0.0))[0] * 6 == pytest.approx(4)
    assert count_orders(strip([2, 1, 3]), [M, V]) == 1


def test_inside_reverse_fold() -> None:
    """Square folded on AC, tip C reversed inside between its layers: C lands on (2/5, -1/5) (derived).

    The crease runs from the middle S to (1, 1/4) and (1/4, 1), and A S stays a valley.
    """
    creases = [(O, A), (O, C), (O, (1.0, 0.25)), (O, (0.25, 1.0))]
    flat = pattern(rectangle(), creases, holding=(0.9, 0.1))
    senses = [V, M, V, V]
    assert count_orders(flat, senses) == 1
    state = fold_pattern(flat, senses)
    assert_sound(state)
    assert state.where(C) == pytest.approx((2 / 5, -1 / 5))


def test_rabbit_ear_of_a_3_4_5_triangle() -> None:
    """Incentre (1, 1); area 5/2 afterwards; layers 2: 2 and 4: 1/2 (derived)."""
    sheet = Sheet(((0.0, 0.0), (4 / 4, 0.0), (0.0, 3 / 4)), ("A", "B", "C"), 100.0)
    centre = (1 / 4, 1 / 4)
    creases = [*star(centre, *sheet.outline), (centre, (1 / 4, 0.0))]
    flat = pattern(sheet, creases)
    states = [
        fold_pattern(flat, senses)
        for senses in ([V, V, V, M], [M, M, M, V])
        if count_orders(flat, senses)
    ]
    assert len(states) == 2
    for state in states:
        assert_sound(state)
        assert union(state.placed).area * 16 == pytest.approx(5 / 2, abs=1e-6)
        areas = {n: area * 16 for n, area in layer_areas(state).items()}
        assert areas == pytest.approx({2: 2.0, 4: 0.5}, abs=1e-6)
