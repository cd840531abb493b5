"""Which facets lie over each other: pairs that share area, and triples that share area.

In: facets in folded coordinates. Out: yes or no, worked out when it is asked for and remembered.
Facets of one shape in one place (the cells of a folded map) are looked at once.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..geometry.lines import Point
from ..geometry.polygons import Polygon, centroid, intersection, overlap
from ..geometry.tolerance import EPS

Pair = tuple[int, int]
Box = tuple[float, float, float, float]


def box(poly: Polygon) -> Box:
    """(least x, least y, greatest x, greatest y)."""
    xs = [p[0] for p in poly]
    ys = [p[1] for p in poly]
    return min(xs), min(ys), max(xs), max(ys)


def apart(a: Box, b: Box) -> bool:
    """Whether two boxes share no area."""
    return a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3]


class Overlaps:
    """Answers about one arrangement of facets.

    Attributes
    ----------
    shape : a number for every facet, the same for facets that cover the same area
    outline, box : the polygon of each shape, and the box around it
    """

    def __init__(self, placed: Sequence[Polygon]) -> None:
        self.shape: list[int] = []
        self.outline: list[Polygon] = []
        self.box: list[Box] = []
        known: dict[tuple[int, int], list[int]] = {}
        for poly in placed:
            around = box(poly)
            home = known.setdefault((round(around[0] * 1e6), round(around[3] * 1e6)), [])
            for s in home:
                if same_area(poly, self.outline[s]):
                    break
            else:
                s = len(self.outline)
                home.append(s)
                self.outline.append(poly)
                self.box.append(around)
            self.shape.append(s)
        self._pairs: dict[Pair, bool] = {}
        self._common: dict[Pair, Polygon] = {}
        self._triples: dict[tuple[int, int, int], bool] = {}

    def pair(self, i: int, j: int) -> bool:
        """Whether facets i and j share area."""
        s, t = self.shape[i], self.shape[j]
        if s == t:
            return True
        if apart(self.box[s], self.box[t]):
            return False
        key = (s, t) if s < t else (t, s)
        found = self._pairs.get(key)
        if found is None:
            found = self._pairs[key] = overlap(self.outline[s], self.outline[t])
        return found

    def between(self, group: Sequence[int]) -> list[Pair]:
        """The pairs of facets of different groups that share area, in order; `group` has each facet's."""
        members: list[list[int]] = [[] for _ in self.outline]
        for i, s in enumerate(self.shape):
            members[s].append(i)
        kinds = [{group[i] for i in some} for some in members]
        first = [some[0] for some in members]
        near: list[list[int]] = [list(some) for some in members]
        for s, mine in enumerate(kinds):
            only = next(iter(mine)) if len(mine) == 1 else None
            for t in range(s + 1, len(kinds)):
                if only is not None and len(kinds[t]) == 1 and only in kinds[t]:
                    continue
                if self.pair(first[s], first[t]):
                    near[s] += members[t]
                    near[t] += members[s]
        beside = [sorted(some) for some in near]
        return [
            (i, j)
            for i, s in enumerate(self.shape)
            for j in beside[s]
            if j > i and group[i] != group[j]
        ]

    def triple(self, i: int, j: int, k: int) -> bool:
        """Whether facets i, j and k, each two of which overlap, all share some area."""
        s, t, u = self.shape[i], self.shape[j], self.shape[k]
        if s == t or t == u or u == s:
            return True
        if s > t:
            s, t = t, s
        if t > u:
            t, u = u, t
            if s > t:
                s, t = t, s
        found = self._triples.get((s, t, u))
        if found is None:
            found = self._triples[s, t, u] = self._share(s, t, u)
        return found

    def _share(self, s: int, t: int, u: int) -> bool:
        ways = ((s, t, u), (s, u, t), (t, u, s))
        a, b, c = next((way for way in ways if way[:2] in self._common), ways[0])
        common = self._shared(a, b)
        return bool(common) and overlap(common, self.outline[c])

    def _shared(self, s: int, t: int) -> Polygon:
        common = self._common.get((s, t))
        if common is None:
            common = self._common[s, t] = intersection(self.outline[s], self.outline[t])
        return common

    def common(self, i: int, j: int) -> Polygon:
        """The area that facets i and j share."""
        s, t = self.shape[i], self.shape[j]
        if s == t:
            return self.outline[s]
        return self._shared(s, t) if s < t else self._shared(t, s)

    def spot(self, i: int, j: int) -> Point:
        """A point in the area that facets i and j share."""
        one, two = self.outline[self.shape[i]], self.outline[self.shape[j]]
        return centroid(intersection(one, two) or one)


def same_area(p: Polygon, q: Polygon) -> bool:
    """Whether two counter-clockwise polygons have the same corners, wherever they start."""
    if len(p) != len(q):
        return False
    x, y = p[0]
    for turn, (qx, qy) in enumerate(q):
        if abs(qx - x) <= EPS and abs(qy - y) <= EPS:
            return all(
                abs(a[0] - b[0]) <= EPS and abs(a[1] - b[1]) <= EPS
                for a, b in zip(p, q[turn:] + q[:turn], strict=True)
            )
    return False
