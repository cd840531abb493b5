"""Layers of one shape: on which of their common sides the lower ones are to show.

In: pairs of edges in one place, and the plates they belong to. Out: for each pair which way its
layers are to part. Layers that end together on two opposite sides, such as the strips of a fan or
the two halves of a card, would be drawn as frames within frames if every edge of the upper one lay
inside that of the lower. They are drawn like a pack of cards that was pushed a little to one side:
the lower ones show on one side only, and keep their size. Layers that fan out from a common corner or
hinge need no push, nor do those that also end together on a side without an opposite one.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from ..geometry.lines import Point, Segment
from ..paper.state import State
from .rims import Rim, outward_of

#: Which way a pair parts: the upper edge goes inwards, stays, or outwards.
INWARD, STILL, OUTWARD = 1.0, 0.0, -1.0
Pair = tuple[int, int, Segment, bool]


def ways(state: State, edges: Sequence[Rim], pairs: Sequence[Pair]) -> list[float]:
    """For each pair (upper edge, lower edge, common part, whether one lies over the other) its way."""
    plate = {i: k for k, group in enumerate(state.plates) for i in group}
    sides: dict[tuple[int, int], list[int]] = defaultdict(list)
    normals: list[Point] = []
    for k, (deep, wide, _, _) in enumerate(pairs):
        x, y = outward_of(edges[deep])
        normals.append((round(x, 5) + 0.0, round(y, 5) + 0.0))
        for p in _plates(edges[deep], plate):
            for q in _plates(edges[wide], plate):
                if p != q:
                    sides[(min(p, q), max(p, q))].append(k)
    closed = {pair: _closed(members, normals, edges, pairs) for pair, members in sides.items()}
    closed = {pair: sort for pair, sort in closed.items() if sort.sides}
    packed = {p for pair, sort in closed.items() if not (sort.alone and sort.hinged) for p in pair}
    asked: list[list[float]] = [[] for _ in pairs]
    for pair, sort in closed.items():
        if not packed & set(pair):
            continue  # a door over the wall behind it fans out from its hinge
        pick = None
        if sort.alone and not sort.hinged:
            pick = max(sort.sides, key=lambda n: _liking(n, sort.sides[n], edges, pairs))
        for n, members in sort.sides.items():
            way = STILL
            if pick is not None and n == pick:
                way = INWARD
            elif pick is not None and _is_opposite(n, pick):
                way = OUTWARD
            for k in members:
                asked[k].append(way)
    return [_settled(votes) for votes in asked]


@dataclass(frozen=True)
class _Closed:
    """Sides of two plates that face each other and end together, by their normal.

    hinged : the plates hold together between them; alone : the plates share no other sides
    """

    sides: dict[Point, list[int]]
    hinged: bool
    alone: bool


def _closed(
    members: Sequence[int], normals: Sequence[Point], edges: Sequence[Rim], pairs: Sequence[Pair]
) -> _Closed:
    groups = _by_normal([k for k in members if pairs[k][3]], normals)
    if len(groups) < 2:
        return _Closed({}, False, False)
    joined = {n: _joined(edges, pairs, ks) for n, ks in groups.items()}
    sides: dict[Point, list[int]] = {}
    for n, ks in groups.items():
        facing = next((m for m in groups if _is_opposite(n, m)), None)
        if facing is not None and joined[n] == joined[facing]:
            sides[n] = ks
    return _Closed(sides, any(joined[n] for n in sides), len(sides) == len(groups) > 0)


def _settled(votes: Sequence[float]) -> float:
    """A push counts before a wish to stay, and both before the usual way."""
    pushed = [v for v in votes if v != STILL]
    return pushed[0] if pushed else STILL if votes else INWARD


def _plates(rim: Rim, plate: dict[int, int]) -> set[int]:
    return {plate[rim.facet]} | ({plate[rim.mate]} if rim.mate is not None else set())


def _by_normal(members: Sequence[int], normals: Sequence[Point]) -> dict[Point, list[int]]:
    """Pairs whose edges face the same way."""
    out: dict[Point, list[int]] = defaultdict(list)
    for k in members:
        out[normals[k]].append(k)
    return out


def _is_opposite(n: Point, m: Point) -> bool:
    return abs(n[0] + m[0]) < 1e-4 and abs(n[1] + m[1]) < 1e-4


def _joined(edges: Sequence[Rim], pairs: Sequence[Pair], members: Sequence[int]) -> bool:
    """Whether the edges of some pair have a corner of the sheet in common."""
    for k in members:
        one, two = edges[pairs[k][0]], edges[pairs[k][1]]
        if {one.start, one.end} & {two.start, two.end}:
            return True
    return False


def _liking(
    n: Point, members: Sequence[int], edges: Sequence[Rim], pairs: Sequence[Pair]
) -> tuple[float, float, float]:
    """Where a pack best shows its layers: on folds, on the right, at the bottom."""
    bent = any(edges[i].mate is not None for k in members for i in pairs[k][:2])
    return (float(bent), round(n[0], 3), -n[1])
