"""The sheet cut into the pieces that may turn against each other.

In: a state, and lines on the sheet along which paper is to turn besides its folds. Out: `Pieces`: polygons
that share their points, and the lines between them with the angle that they are folded by now.

Every facet is cut by the creases that lie flat on it, and by the further lines. Corners are where the lines
themselves meet, to the last bit: the plane subdivision only tells which lines those are.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon
from shapely.ops import polygonize

from ..geometry import polygons
from ..geometry.lines import Point, Segment, distance, point_on_segment
from ..paper.state import State
from ..paper.union_find import UnionFind
from .pose import Line

#: Cell of the grid on which lines are cut by each other (sheet units); corners are put right afterwards.
GRID = 1e-9
#: Points of the subdivision and lines are together within this.
NEAR = 1e-7
#: Smaller pieces (square sheet units) are slips of rounding.
LEAST = 1e-10

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Seam:
    """A line between two pieces; left of start → end lies `left`. `right` is -1 at a free edge.

    `angle` is what it is folded by in the flat state: 0, π (front inside) or -π.
    """

    start: int
    end: int
    left: int
    right: int
    angle: float
    kind: Line


@dataclass(frozen=True)
class Pieces:
    """Pieces of the sheet: `points` (n × 2, sheet units), `rings` of indices, `facets` they are cut from."""

    state: State
    points: Array
    rings: tuple[tuple[int, ...], ...]
    facets: tuple[int, ...]
    seams: tuple[Seam, ...]

    def areas(self) -> list[float]:
        """Area of every piece, square sheet units."""
        return [abs(polygons.area(self.polygon(k))) for k in range(len(self.rings))]

    def polygon(self, k: int) -> tuple[Point, ...]:
        """A piece on the sheet, counter-clockwise."""
        return tuple((float(x), float(y)) for x, y in self.points[list(self.rings[k])])

    def on(self, segments: Sequence[Segment]) -> list[int]:
        """Seams that lie along one of these segments of the sheet, ends included."""
        found: list[int] = []
        for k, seam in enumerate(self.seams):
            p, q = (
                (float(x), float(y)) for x, y in (self.points[seam.start], self.points[seam.end])
            )
            if seam.right >= 0 and any(
                point_on_segment(s, p, NEAR) and point_on_segment(s, q, NEAR) for s in segments
            ):
                found.append(k)
        return found

    def panels(self) -> list[int]:
        """For each piece the number of its smooth surface: pieces that only a bend lies between."""
        joined = UnionFind(len(self.rings))
        for seam in self.seams:
            if seam.kind is Line.BEND and seam.right >= 0:
                joined.unite(seam.left, seam.right)
        number = {k: n for n, some in enumerate(joined.sets()) for k in some}
        return [number[k] for k in range(len(self.rings))]


def cut_up(state: State, bends: Sequence[Segment] = ()) -> Pieces:
    """The sheet's pieces.

    Parameters
    ----------
    bends : further lines on the sheet, each from rim or crease to rim or crease
    """
    outlines = [side for f in state.facets for side in polygons.edges(f.outline)]
    lines = [*outlines, *state.creases, *bends]
    grown = [*outlines, *(_grown(s) for s in (*state.creases, *bends))]
    net = shapely.union_all([LineString(s) for s in grown], grid_size=GRID)
    rings = [p for p in polygonize(net) if p.area > LEAST]
    rings.sort(key=_place)
    exact = _Corners(lines)
    raw = [_corners(ring, exact) for ring in rings]
    facets = [_facet(state, ring) for ring in rings]
    kept = [k for k, f in enumerate(facets) if f is not None]
    return _joined(
        state, [raw[k] for k in kept], [f for f in facets if f is not None], exact.points
    )


def _grown(segment: Segment) -> Segment:
    """A little longer at both ends, so that it reaches the line that it ends on."""
    (ax, ay), (bx, by) = segment
    k = 1e-8 / max(distance(*segment), NEAR)
    return (
        (ax - (bx - ax) * k, ay - (by - ay) * k),
        (bx + (bx - ax) * k, by + (by - ay) * k),
    )


def _place(ring: Polygon) -> tuple[float, float]:
    middle = ring.representative_point()
    return round(middle.x, 7), round(middle.y, 7)


class _Corners:
    """Corners of the subdivision, each where the lines through it meet."""

    def __init__(self, lines: Sequence[Segment]) -> None:
        self._ends = np.array([p for s in lines for p in s], dtype=float).reshape(-1, 2, 2)
        d = self._ends[:, 1] - self._ends[:, 0]
        self._length = np.hypot(d[:, 0], d[:, 1])
        self._along = d / self._length[:, None]
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        self.points: list[Point] = []

    def index(self, p: Point) -> int:
        cx, cy = round(p[0] / NEAR / 4), round(p[1] / NEAR / 4)
        for dx in (0, -1, 1):
            for dy in (0, -1, 1):
                for k in self._cells.get((cx + dx, cy + dy), ()):
                    if distance(p, self.points[k]) < NEAR:
                        return k
        at = self._exact(p)
        self.points.append(at)
        self._cells[(round(at[0] / NEAR / 4), round(at[1] / NEAR / 4))].append(len(self.points) - 1)
        return len(self.points) - 1

    def _exact(self, p: Point) -> Point:
        at = np.array(p)
        ends = self._ends.reshape(-1, 2)
        off = np.abs(ends - at).max(axis=1)
        nearest = int(np.argmin(off))
        if off[nearest] < NEAR:
            return float(ends[nearest, 0]), float(ends[nearest, 1])
        rel = at - self._ends[:, 0]
        t = (rel * self._along).sum(axis=1)
        side = np.abs(rel[:, 0] * self._along[:, 1] - rel[:, 1] * self._along[:, 0])
        near = np.flatnonzero((side < NEAR) & (t > -NEAR) & (t < self._length + NEAR))
        if len(near) < 2:
            return p
        a = self._along[near]
        turn = np.abs(np.outer(a[:, 0], a[:, 1]) - np.outer(a[:, 1], a[:, 0]))
        i, j = divmod(int(np.argmax(turn)), len(near))
        if turn[i, j] < 1e-4:
            return p
        one, two = near[i], near[j]
        n = np.array([[-a[i, 1], a[i, 0]], [-a[j, 1], a[j, 0]]])
        x = np.linalg.solve(n, (n * self._ends[[one, two], 0]).sum(axis=1))
        return float(x[0]), float(x[1])


def _corners(ring: Polygon, exact: _Corners) -> list[int]:
    around = shapely.get_coordinates(shapely.orient_polygons(ring).exterior)[:-1]
    out: list[int] = []
    for x, y in around:
        k = exact.index((float(x), float(y)))
        if not out or out[-1] != k:
            out.append(k)
    while len(out) > 1 and out[0] == out[-1]:
        out.pop()
    low = out.index(min(out))
    return out[low:] + out[:low]


def _facet(state: State, ring: Polygon) -> int | None:
    """The facet that a piece is cut from: the one that its inside lies deepest in."""
    middle = ring.representative_point()
    deep = [polygons.depth(f.outline, (middle.x, middle.y)) for f in state.facets]
    best = max(range(len(deep)), key=lambda k: deep[k])
    return best if deep[best] > 0 else None


def _joined(
    state: State,
    rings: list[list[int]],
    facets: list[int],
    points: Sequence[Point],
) -> Pieces:
    """Pieces with the lines between them; a point on a cut is one for each side of it."""
    sides: dict[tuple[int, int], tuple[int, int]] = {}  # start, end -> piece, corner
    for piece, ring in enumerate(rings):
        for corner, (a, b) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True)):
            sides[(a, b)] = (piece, corner)
    pairs = [
        (piece, corner, *sides[(b, a)])
        for (a, b), (piece, corner) in sides.items()
        if (b, a) in sides and a < b and not _along(points[a], points[b], state.cuts)
    ]
    first = np.cumsum([0, *(len(ring) for ring in rings)])
    same = UnionFind(int(first[-1]))
    for left, i, right, j in pairs:
        same.unite(int(first[left]) + i, int(first[right]) + (j + 1) % len(rings[right]))
        same.unite(int(first[left]) + (i + 1) % len(rings[left]), int(first[right]) + j)
    number: dict[int, int] = {}
    places: list[Point] = []
    new: list[tuple[int, ...]] = []
    for piece, ring in enumerate(rings):
        out: list[int] = []
        for corner, k in enumerate(ring):
            root = same.find(int(first[piece]) + corner)
            if root not in number:
                number[root] = len(places)
                places.append(points[k])
            out.append(number[root])
        new.append(tuple(out))
    inner = {(left, i): right for left, i, right, _ in pairs}
    outer = {(right, j) for _, _, right, j in pairs}
    seams: list[Seam] = []
    for piece, ring in enumerate(new):
        for corner, start in enumerate(ring):
            end = ring[(corner + 1) % len(ring)]
            if (piece, corner) in inner:
                other = inner[(piece, corner)]
                angle, kind = _folded(state, facets[piece], facets[other])
                ends = places[start], places[end]
                if kind is Line.CREASE and not _creased(state, facets, piece, other, ends):
                    kind = Line.BEND
                seams.append(Seam(start, end, piece, other, angle, kind))
            elif (piece, corner) not in outer:
                seams.append(Seam(start, end, piece, -1, 0.0, Line.RIM))
    return Pieces(state, np.array(places), tuple(new), tuple(facets), tuple(seams))


def _along(p: Point, q: Point, segments: Iterable[Segment]) -> bool:
    return any(point_on_segment(s, p, NEAR) and point_on_segment(s, q, NEAR) for s in segments)


def _creased(
    state: State, facets: list[int], piece: int, other: int, ends: tuple[Point, Point]
) -> bool:
    """Whether a flat seam is a crease: one that is kept, or the joint of two facets."""
    return facets[piece] != facets[other] or _along(*ends, state.creases)


def _folded(state: State, left: int, right: int) -> tuple[float, Line]:
    """Angle and kind of a seam between two facets, as they lie now."""
    if state.facets[left].shows_front == state.facets[right].shows_front:
        return 0.0, Line.CREASE
    back, front = (right, left) if state.facets[left].shows_front else (left, right)
    return (math.pi if state.above(back, front) else -math.pi), Line.FOLD
