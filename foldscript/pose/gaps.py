"""Empty spaces between layers: which of them are one, which open at an edge, which are closed all round.

In: `Layers`. Out: sets of gaps. A gap (c, k) lies under layer k of column c; over n layers it goes from 0
to n, the first and the last being the outside.

Across a side of a column each layer goes on into the next column, is folded to another layer of its own
column, or ends. A fold between two layers shuts in the gaps between them. Every other gap goes on to the
gaps of columns at the same side that have as many layers below them that go on: those are one space. A
space that goes on to the outside is open there.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ..geometry.lines import Point, Segment, point_on_segment
from .layers import Layers
from .pieces import Array

#: (column, number of layers below it)
Gap = tuple[int, int]
#: A side of the net, and how many layers that go on across it lie below.
Passage = tuple[tuple[int, int], int]

#: How far from an edge of the model (sheet units) the net's sides may lie that are on it.
_ON = 4e-3


@dataclass(frozen=True)
class Gaps:
    """The gaps of layers, and how they hang together."""

    layers: Layers

    @cached_property
    def inner(self) -> frozenset[Gap]:
        """Every gap between two layers."""
        return frozenset(
            (c, k) for c, some in enumerate(self.layers.columns) for k in range(1, len(some))
        )

    @cached_property
    def sides(self) -> dict[tuple[int, int], list[int]]:
        """Sides of the net, with the columns at each."""
        found: dict[tuple[int, int], list[int]] = defaultdict(list)
        for c in range(len(self.layers.columns)):
            a, b, d = self.layers.over(c)
            for side in ((a, b), (b, d), (a, d)):
                found[side].append(c)
        return found

    @cached_property
    def _web(self) -> tuple[dict[Passage, list[Gap]], dict[Gap, list[Passage]], set[Passage], set]:
        layers = self.layers
        across: dict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
        for seam in layers.pieces.seams:
            if seam.right >= 0:
                across[(seam.left, seam.right)].append((seam.start, seam.end))
        beyond: dict[tuple[int, tuple[int, int]], int] = {}
        for (left, right), ends in across.items():
            for start, end in ends:
                side = tuple(sorted((int(layers.node[start]), int(layers.node[end]))))
                beyond[(left, (side[0], side[1]))] = right
                beyond[(right, (side[0], side[1]))] = left
        passages: dict[Passage, list[Gap]] = defaultdict(list)
        at: dict[Gap, list[Passage]] = defaultdict(list)
        outside: set[Passage] = set()
        shut: set[tuple[Gap, tuple[int, int]]] = set()
        for side, columns in sorted(self.sides.items()):
            for c in columns:
                some = layers.columns[c]
                below, folds = [0], list[tuple[int, int]]()
                for k, t in enumerate(some):
                    other = beyond.get((t, side))
                    goes_on = other is not None and layers.place[other][0] != c
                    below.append(below[-1] + goes_on)
                    if other is not None and not goes_on and layers.place[other][1] > k:
                        folds.append((k, layers.place[other][1]))
                for k in range(len(some) + 1):
                    if any(p < k <= q for p, q in folds):
                        shut.add(((c, k), side))
                        continue
                    passage = (side, below[k])
                    passages[passage].append((c, k))
                    at[(c, k)].append(passage)
                    if k in (0, len(some)):
                        outside.add(passage)
        return passages, at, outside, shut

    def space(self, start: Iterable[Gap]) -> frozenset[Gap]:
        """The gaps that are one space with these, as far as it does not open."""
        passages, at, outside, _ = self._web
        seen, waiting = set(start), sorted(start)
        while waiting:
            for passage in at[waiting.pop()]:
                if passage not in outside:
                    new = [g for g in passages[passage] if g not in seen]
                    seen.update(new)
                    waiting.extend(new)
        return frozenset(g for g in seen if g in self.inner)

    def spaces(self, among: Iterable[Gap]) -> list[frozenset[Gap]]:
        """Gaps parted into the spaces that they belong to."""
        left, found = set(among), list[frozenset[Gap]]()
        while left:
            one = self.space([min(left)])
            found.append(one)
            left -= one
        return found

    def cavities(self) -> list[frozenset[Gap]]:
        """Spaces that open nowhere."""
        _, at, outside, _ = self._web
        return [
            s for s in self.spaces(self.inner) if not any(p in outside for g in s for p in at[g])
        ]

    def along(self, edge: Segment) -> list[tuple[tuple[int, int], Gap]]:
        """(side of the net, gap) for every gap that opens at an edge of the folded plane."""
        _, _, _, shut = self._web
        found: list[tuple[tuple[int, int], Gap]] = []
        for side, columns in sorted(self.sides.items()):
            if all(point_on_segment(edge, self._node(v), _ON) for v in side):
                found.extend(
                    (side, (c, k))
                    for c in columns
                    for k in range(1, len(self.layers.columns[c]))
                    if ((c, k), side) not in shut
                )
        return found

    def area(self, some: Iterable[Gap]) -> float:
        """How much of the folded plane gaps lie over, each counted."""
        areas = self._areas
        return sum(areas[c] for c, _ in some)

    def skin(self, some: Iterable[Gap]) -> dict[int, set[int]]:
        """Triangles at a space, with the sides that it is on: 1 above, -1 below."""
        found: dict[int, set[int]] = defaultdict(set)
        for c, k in some:
            found[self.layers.columns[c][k - 1]].add(1)
            found[self.layers.columns[c][k]].add(-1)
        return found

    @cached_property
    def middles(self) -> Array:
        """Middles of the columns in the folded plane."""
        nodes, columns = self.layers.nodes, range(len(self.layers.columns))
        return np.array([nodes[list(self.layers.over(c))].mean(axis=0) for c in columns])

    @cached_property
    def _areas(self) -> list[float]:
        nodes = self.layers.nodes
        out: list[float] = []
        for c in range(len(self.layers.columns)):
            a, b, d = (nodes[v] for v in self.layers.over(c))
            out.append(abs((b[0] - a[0]) * (d[1] - a[1]) - (b[1] - a[1]) * (d[0] - a[0])) / 2)
        return out

    def _node(self, v: int) -> Point:
        x, y = self.layers.nodes[v]
        return float(x), float(y)
