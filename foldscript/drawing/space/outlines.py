"""Lines of a pose that the reader sees: edges, creases, and the rims of rounded paper.

In: pieces before the reader, and what is visible of them. Out: lines by role. A line belongs to the pieces on
both sides of it, and is seen wherever one of them is seen right beside it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import combinations

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from ...paper.union_find import UnionFind
from ...pose.pose import Edge, Line
from .seen import Seen, strings

#: A crease folded by less than this in the mean is drawn as one that lies flat.
_SHARP = math.radians(12)
#: Paper that bends by more than this along one line has an edge there.
_BENT = math.radians(40)
#: Cosine between edges of which one goes straight on from the other.
_STRAIGHT_ON = 0.97
#: How far from a line a piece may end that is seen beside it (points).
_BESIDE = 0.07
#: Lines that run within this of one another, at less than this angle, are drawn as one (points, sine).
_ONE, _PARALLEL = 0.55, 0.1
#: Shorter lines are left out (points).
_SPECK = 0.6
_GRID = 1e-3

RAW, FOLDED, CREASE = "edge.raw", "edge.folded", "crease"


def lines(seen: Seen, areas: NDArray[np.object_]) -> dict[str, list[shapely.LineString]]:
    """Lines in sight by role, merged where they go on."""
    roles = _roles(seen)
    drawn = [k for k, role in enumerate(roles) if role and _long(seen, seen.pose.edges[k])]
    if not drawn:
        return {}
    strokes = np.array([_stroke(seen, seen.pose.edges[k]) for k in drawn], dtype=object)
    grown = shapely.buffer(areas, _BESIDE, quad_segs=1, join_style="mitre")
    sight = [_sight(seen, seen.pose.edges[k], grown) for k in drawn]
    found = shapely.intersection(strokes, np.array(sight, dtype=object))
    pieces: list[tuple[int, float, str, shapely.LineString]] = []
    for k, part in zip(drawn, found, strict=True):
        edge = seen.pose.edges[k]
        near = float(seen.points[[edge.start, edge.end], 2].mean())
        rank = 1 if roles[k] == CREASE else 0
        pieces += [(rank, -round(near, 3), roles[k], p) for p in strings(part)]
    pieces.sort(
        key=lambda p: (p[0], p[1], p[2], tuple(np.round(shapely.get_coordinates(p[3])[0], 3)))
    )
    by_role: dict[str, list[shapely.LineString]] = defaultdict(list)
    for role, part in _apart([(role, part) for _, _, role, part in pieces]):
        by_role[role].append(part)
    return {role: _merged(some) for role, some in sorted(by_role.items())}


def _roles(seen: Seen) -> list[str]:
    """What every edge is drawn as, '' for nothing: one answer for all of a line that is straight in space."""
    edges = seen.pose.edges
    sharp: set[int] = set()
    for run in _straight_runs(seen):
        lengths = [_length(seen, edges[k]) for k in run]
        angles = [abs(edges[k].angle) for k in run]
        whole = sum(lengths)
        least = _BENT if edges[run[0]].kind is Line.BEND else _SHARP
        if whole > 0 and sum(a * n for a, n in zip(angles, lengths, strict=True)) / whole > least:
            sharp.update(run)
    return [_role(seen, edge, k in sharp) for k, edge in enumerate(edges)]


def _straight_runs(seen: Seen) -> list[list[int]]:
    """Edges between the same two surfaces, joined where one goes straight on from the other."""
    pieces, edges = seen.pose.pieces, seen.pose.edges
    space = np.array(seen.pose.space, dtype=float)
    joined = UnionFind(len(edges))
    at: dict[tuple[int, int, bool, int], list[int]] = defaultdict(list)
    for k, edge in enumerate(edges):
        if edge.right is not None:
            one, two = sorted((pieces[edge.left].panel, pieces[edge.right].panel))
            for end in (edge.start, edge.end):
                at[(one, two, edge.kind is Line.BEND, end)].append(k)
    for meeting in at.values():
        for j, k in combinations(meeting, 2):
            u, v = (space[edges[n].end] - space[edges[n].start] for n in (j, k))
            size = float(np.sqrt((u @ u) * (v @ v)))
            if size > 0 and abs(float(u @ v)) > _STRAIGHT_ON * size:
                joined.unite(j, k)
    return [list(run) for run in joined.sets() if edges[min(run)].right is not None]


def _role(seen: Seen, edge: Edge, sharp: bool) -> str:
    if edge.right is None:
        return RAW
    turned_away = seen.facing[edge.left] != seen.facing[edge.right]
    if edge.kind is Line.BEND:
        return FOLDED if sharp or turned_away else ""
    return FOLDED if sharp or turned_away else CREASE


def _length(seen: Seen, edge: Edge) -> float:
    return math.dist(seen.pose.space[edge.start], seen.pose.space[edge.end])


def _long(seen: Seen, edge: Edge) -> bool:
    """Whether anything of an edge shows on the page: not when it is seen from its end."""
    return math.dist(seen.points[edge.start, :2], seen.points[edge.end, :2]) > _SPECK / 2


def _stroke(seen: Seen, edge: Edge) -> BaseGeometry:
    return shapely.LineString(seen.points[[edge.start, edge.end], :2])


def _sight(seen: Seen, edge: Edge, grown: NDArray[np.object_]) -> BaseGeometry:
    """Where an edge can be seen: beside the visible parts of its pieces."""
    own = [k for k in (edge.left, edge.right) if k is not None]
    wide = [k for k in own if seen.facing[k] and not shapely.is_empty(grown[k])]
    if len(wide) == 2:
        return shapely.union(grown[wide[0]], grown[wide[1]])
    if wide:
        return grown[wide[0]]
    if any(seen.facing[k] for k in own):
        return shapely.Polygon()
    return _clear(seen, edge, own)


def _clear(seen: Seen, edge: Edge, own: Sequence[int]) -> BaseGeometry:
    """A narrow strip about an edge of pieces that are seen along their edges, without what lies before."""
    stroke = _stroke(seen, edge)
    (ax, ay, az), (bx, by, bz) = seen.points[[edge.start, edge.end]]
    run = np.array([bx - ax, by - ay])
    square = float(run @ run)
    before: list[BaseGeometry] = []
    for k, shape in enumerate(seen.shapes):
        if k in own or not seen.facing[k] or not shapely.intersects(shape, stroke):
            continue
        for part in strings(shapely.intersection(shape, stroke)):
            at = shapely.get_coordinates(shapely.centroid(part))
            t = float((at[0] - (ax, ay)) @ run) / square
            if float(seen.depth(k, at)[0]) > az + t * (bz - az) + _BESIDE:
                before.append(shapely.buffer(part, 2 * _BESIDE, cap_style="flat"))
    strip = shapely.buffer(stroke, _BESIDE, cap_style="flat")
    return shapely.difference(strip, shapely.union_all(before)) if before else strip


def _apart(
    pieces: Sequence[tuple[str, shapely.LineString]],
) -> Iterable[tuple[str, shapely.LineString]]:
    """Lines, nearest first, without what runs along one that is drawn already."""
    strokes = np.array([part for _, part in pieces], dtype=object)
    if not len(strokes):
        return
    tree = shapely.STRtree(strokes)
    for k, (role, part) in enumerate(pieces):
        left = part
        for other in sorted(tree.query(part, predicate="dwithin", distance=_ONE).tolist()):
            if other < k and _parallel(part, pieces[other][1]):
                left = shapely.difference(
                    left, shapely.buffer(pieces[other][1], _ONE, cap_style="flat")
                )
        for some in strings(left):
            if float(shapely.length(some)) > _SPECK / 2:
                yield role, some


def _parallel(one: shapely.LineString, other: shapely.LineString) -> bool:
    u, v = (_way(g) for g in (one, other))
    return abs(u[0] * v[1] - u[1] * v[0]) < _PARALLEL


def _way(line: shapely.LineString) -> tuple[float, float]:
    at = shapely.get_coordinates(line)
    (dx, dy) = at[-1] - at[0]
    n = math.hypot(dx, dy)
    return (float(dx / n), float(dy / n)) if n > 0 else (0.0, 0.0)


def _merged(some: Sequence[shapely.LineString]) -> list[shapely.LineString]:
    """Lines joined where they go on, without specks."""
    whole = shapely.set_precision(shapely.MultiLineString(list(some)), 0.01)
    joined = strings(shapely.line_merge(shapely.node(whole)))
    kept = [shapely.simplify(line, 0.02) for line in joined if float(shapely.length(line)) > _SPECK]
    return sorted(
        kept, key=lambda line: tuple(np.round(shapely.get_coordinates(line), 2).ravel()[:4])
    )
