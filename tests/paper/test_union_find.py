"""Disjoint sets, held to the connected components that networkx finds."""

from __future__ import annotations

import networkx
from hypothesis import given
from hypothesis import strategies as st

from foldscript.paper.union_find import UnionFind

COUNT = 12
numbers = st.integers(0, COUNT - 1)
pairs = st.lists(st.tuples(numbers, numbers), max_size=20)


@given(pairs)
def test_the_sets_are_the_connected_components(united: list[tuple[int, int]]) -> None:
    graph = networkx.Graph(united)
    graph.add_nodes_from(range(COUNT))
    found = UnionFind(COUNT)
    for i, j in united:
        found.unite(i, j)
    assert found.sets() == tuple(
        sorted(tuple(sorted(one)) for one in networkx.connected_components(graph))
    )


@given(pairs)
def test_each_set_goes_by_its_least_member_in_whatever_order_it_grew(
    united: list[tuple[int, int]],
) -> None:
    one, two = UnionFind(COUNT), UnionFind(COUNT)
    for i, j in united:
        one.unite(i, j)
    for i, j in sorted(united, reverse=True):
        two.unite(j, i)
    for some in one.sets():
        assert {one.find(i) for i in some} == {two.find(i) for i in some} == {min(some)}


def test_some_of_the_numbers_only() -> None:
    found = UnionFind(5)
    found.unite(4, 1)
    found.unite(0, 3)
    assert found.sets([1, 2, 4]) == ((1, 4), (2,))
