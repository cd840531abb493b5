"""Disjoint sets of numbers: which things belong together when pairs of them are known to.

In: pairs to be united. Out: the sets, each known by its least member. It is our own twenty lines
because nothing that foldscript is installed with has them: networkx and scipy would be new
dependencies, slow to load, for this alone.

Source: R. Tarjan and J. van Leeuwen, Worst-case analysis of set union algorithms, J. ACM 31 (1984),
with path halving; the least member as the root keeps what comes out independent of the order of pairs.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable


class UnionFind:
    """The numbers from 0 to count - 1, at first each in a set of its own."""

    def __init__(self, count: int) -> None:
        self._parent = list(range(count))

    def find(self, i: int) -> int:
        """The least member of the set that i is in."""
        parent = self._parent
        up = parent[i]
        while up != i:
            parent[i] = i = parent[up]
            up = parent[i]
        return i

    def unite(self, i: int, j: int) -> None:
        """Makes one set of those that i and j are in."""
        a, b = self.find(i), self.find(j)
        if a < b:
            self._parent[b] = a
        else:
            self._parent[a] = b

    def sets(self, members: Iterable[int] | None = None) -> tuple[tuple[int, ...], ...]:
        """The sets (of some of the numbers, or of all), in the order of their first members."""
        found: dict[int, list[int]] = defaultdict(list)
        for i in range(len(self._parent)) if members is None else members:
            found[self.find(i)].append(i)
        return tuple(tuple(some) for some in found.values())
