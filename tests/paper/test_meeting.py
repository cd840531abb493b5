"""Orders that are known in full: `meets` and the solver judge them alike."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from foldscript.geometry.polygons import Polygon, overlap
from foldscript.paper.conditions import Conditions
from foldscript.paper.layers import Collision, Solver
from foldscript.paper.meeting import meets
from foldscript.paper.overlaps import Overlaps

from ..conftest import examples
from .orders import every_pair
from .test_conditions import Order, box, random_conditions


def accepted(placed: list[Polygon], order: Order, found: Conditions) -> bool:
    try:
        return Solver(placed, every_pair(placed), order, found).solve() == order
    except Collision:
        return False


@examples(60)
@given(random_conditions(), st.lists(st.booleans(), min_size=6, max_size=6))
def test_random_conditions_on_four_layers(found: Conditions, above: list[bool]) -> None:
    """Rings, parities and equal orders, on four layers that all share some area."""
    placed = [box(0, 1)] * 4
    order = dict(zip(every_pair(placed), above, strict=True))
    met = meets(order, list(order), found, Overlaps(placed))
    assert met == accepted(placed, order, found)


def test_rings_only_where_three_share_some_area() -> None:
    strips = [box(0, 3, 0, 1), box(2, 3, 0, 3), box(0, 3, 1.5, 3)]
    triangle: list[Polygon] = [box(0, 3, 0, 1), box(2, 3, 0, 3), ((0, 0.5), (2.5, 2.5), (0, 2.5))]
    for placed in (strips, triangle, [box(0, 1), box(0, 2), box(0, 3)]):
        pairs = every_pair(placed)
        for above in itertools.product((False, True), repeat=len(pairs)):
            order = dict(zip(pairs, above, strict=True))
            met = meets(order, pairs, Conditions((), ()), Overlaps(placed))
            assert met == accepted(placed, order, Conditions((), ()))


def test_pairs_of_different_groups_that_share_area() -> None:
    placed = [box(0, 1), box(0, 1), box(0.5, 2), box(1, 2), box(0, 3)]
    for group in itertools.product((-1, 0, 1), repeat=len(placed)):
        wanted = [
            (i, j)
            for i, j in itertools.combinations(range(len(placed)), 2)
            if group[i] != group[j] and overlap(placed[i], placed[j])
        ]
        assert Overlaps(placed).between(group) == wanted
