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

from ...geometry.lines import Point
from ...paper.state import State
from .half_edges import HalfEdge
from .stacks import Pair

#: Which way a pair parts: the upper edge goes inwards, stays, or outwards.
INWARD, STILL, OUTWARD = 1.0, 0.0, -1.0


def ways(state: State, edges: Sequence[HalfEdge], pairs: Sequence[Pair]) -> list[float]:
    """For each pair (upper edge, lower edge, common part, whether one lies over the other) its way."""
    normal, facing = _normals(edges)
    plate = state.plate_of
    plates = [_plates(half_edge, plate) for half_edge in edges]
    sides: dict[tuple[int, int], dict[int, list[int]]] = defaultdict(dict)
    for k, (deep, wide, _, over) in enumerate(pairs):
        if over:
            for p in plates[deep]:
                for q in plates[wide]:
                    if p != q:
                        groups = sides[(p, q) if p < q else (q, p)]
                        groups.setdefault(normal[deep], []).append(k)
    closed: dict[tuple[int, int], _Closed] = {}
    for both, groups in sides.items():
        if len(groups) > 1 and any(facing.get(n) in groups for n in groups):
            sort = _closed(groups, facing, edges, pairs)
            if sort.sides:
                closed[both] = sort
    packed = {p for both, sort in closed.items() if not (sort.alone and sort.hinged) for p in both}
    asked: list[list[float]] = [[] for _ in pairs]
    for both, sort in closed.items():
        if not packed & set(both):
            continue  # a door over the wall behind it fans out from its hinge
        pick = None
        if sort.alone and not sort.hinged:
            pick = max(sort.sides, key=lambda n: _liking(sort.sides[n], edges, pairs))
        for n, members in sort.sides.items():
            way = STILL
            if pick is not None and n == pick:
                way = INWARD
            elif pick is not None and n == facing.get(pick):
                way = OUTWARD
            for k in members:
                asked[k].append(way)
    return [_settled(votes) for votes in asked]


@dataclass(frozen=True)
class _Closed:
    """Sides of two plates that face each other and end together, by their normal.

    hinged : the plates hold together between them; alone : the plates share no other sides
    """

    sides: dict[int, list[int]]
    hinged: bool
    alone: bool


def _normals(edges: Sequence[HalfEdge]) -> tuple[list[int], dict[int, int]]:
    """For each edge a number for its normal, and for each number that of the opposite normal."""
    known: dict[Point, int] = {}
    out: list[int] = []
    for half_edge in edges:
        x, y = half_edge.outward
        out.append(known.setdefault((round(x, 5) + 0.0, round(y, 5) + 0.0), len(known)))
    facing: dict[int, int] = {}
    for (x, y), n in known.items():
        for (u, v), m in known.items():
            if abs(x + u) < 1e-4 and abs(y + v) < 1e-4:
                facing.setdefault(n, m)
    return out, facing


def _closed(
    groups: dict[int, list[int]],
    facing: dict[int, int],
    edges: Sequence[HalfEdge],
    pairs: Sequence[Pair],
) -> _Closed:
    joined = {n: _joined(edges, pairs, ks) for n, ks in groups.items()}
    sides = {n: ks for n, ks in groups.items() if joined[n] == joined.get(facing.get(n, -1))}
    return _Closed(sides, any(joined[n] for n in sides), len(sides) == len(groups))


def _settled(votes: Sequence[float]) -> float:
    """A push counts before staying, and both before the usual way."""
    pushed = [v for v in votes if v != STILL]
    return pushed[0] if pushed else STILL if votes else INWARD


def _plates(half_edge: HalfEdge, plate: dict[int, int]) -> tuple[int, ...]:
    own = plate[half_edge.facet]
    return (
        (own,)
        if half_edge.mate is None or plate[half_edge.mate] == own
        else (own, plate[half_edge.mate])
    )


def _joined(edges: Sequence[HalfEdge], pairs: Sequence[Pair], members: Sequence[int]) -> bool:
    """Whether the edges of some pair have a corner of the sheet in common."""
    for k in members:
        one, two = edges[pairs[k][0]], edges[pairs[k][1]]
        if one.start in (two.start, two.end) or one.end in (two.start, two.end):
            return True
    return False


def _liking(
    members: Sequence[int], edges: Sequence[HalfEdge], pairs: Sequence[Pair]
) -> tuple[float, float, float]:
    """Where a pack best shows its layers: on folds, on the right, at the bottom."""
    bent = any(edges[i].mate is not None for k in members for i in pairs[k][:2])
    x, y = edges[pairs[members[0]][0]].outward
    return (float(bent), round(x, 3), -round(y, 5))
