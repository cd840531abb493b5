"""The sheet cut into the pieces that may turn against each other.

In: a state, and lines on the sheet along which paper is to turn besides its folds. Out: `Pieces`: polygons
that share their points, and the lines between them with the angle that they are folded by now.

Every facet is cut by the creases that lie flat on it, and by the further lines.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString
from shapely.ops import polygonize

from ..geometry import polygons
from ..geometry.lines import Line as Axis
from ..geometry.lines import Point, Segment, distance, line_through, on_line, point_on_segment
from ..paper.state import State
from ..paper.union_find import UnionFind
from .pose import Line

#: Points and lines nearer than this (sheet units) are together.
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

    @property
    def sides(self) -> tuple[int, int]:
        """The pieces to its left and right."""
        return self.left, self.right


@dataclass(frozen=True)
class Pieces:
    """Pieces of the sheet: `points` (n × 2, sheet units), `rings` of indices, `facets` they are cut from."""

    state: State
    points: Array
    rings: tuple[tuple[int, ...], ...]
    facets: tuple[int, ...]
    seams: tuple[Seam, ...]

    @property
    def rim(self) -> frozenset[int]:
        """Points on a free edge."""
        return frozenset(v for s in self.seams if s.right < 0 for v in (s.start, s.end))

    def areas(self) -> list[float]:
        """Area of every piece, square sheet units."""
        return [abs(polygons.area(self.polygon(k))) for k in range(len(self.rings))]

    def polygon(self, k: int) -> tuple[Point, ...]:
        """A piece on the sheet, counter-clockwise."""
        return tuple([(x, y) for x, y in self.points[list(self.rings[k])].tolist()])

    def folded(self, k: int) -> tuple[Point, ...]:
        """The same piece in the folded plane."""
        place = self.state.facets[self.facets[k]].place
        return tuple(place(p) for p in self.polygon(k))

    def on(self, segments: Sequence[Segment], among: Iterable[int] | None = None) -> list[int]:
        """Seams (of some, or of all) that lie along one of these segments of the sheet, ends included."""
        ks = [
            k
            for k in (range(len(self.seams)) if among is None else among)
            if self.seams[k].right >= 0
        ]
        ends = np.array([(self.seams[k].start, self.seams[k].end) for k in ks], dtype=np.int64)
        spots = self.points[ends.reshape(-1, 2)]
        found = np.zeros(len(ks), dtype=bool)
        for start, end in segments:
            way = np.subtract(end, start)
            long = float(np.hypot(*way))
            away = spots - np.array(start)
            along = np.clip((away @ way) / max(long * long, 1e-300), 0.0, 1.0)
            off = away - along[..., None] * way
            found |= (np.hypot(off[..., 0], off[..., 1]) < NEAR).all(axis=1)
        return [k for k, on in zip(ks, found, strict=True) if on]

    def by_line(self, seams: Iterable[int]) -> list[list[int]]:
        """Seams parted by the lines of the folded plane that they lie on, in the order in which they come."""
        found: list[tuple[Axis, list[int]]] = []
        for k in seams:
            seam = self.seams[k]
            place = self.state.facets[self.facets[seam.left]].place
            p, q = (place((float(x), float(y))) for x, y in self.points[[seam.start, seam.end]])
            own = next((some for on, some in found if on_line(on, p) and on_line(on, q)), None)
            if own is None:
                found.append((line_through(p, q), [k]))
            else:
                own.append(k)
        return [some for _, some in found]

    def panels(self) -> list[int]:
        """For each piece the number of its smooth surface: pieces that only a bend lies between."""
        joined = UnionFind(len(self.rings))
        for seam in self.seams:
            if seam.kind is Line.BEND and seam.right >= 0:
                joined.unite(seam.left, seam.right)
        number = {k: n for n, some in enumerate(joined.sets()) for k in some}
        return [number[k] for k in range(len(self.rings))]


#: So many lines are looked at together.
_AT_ONCE = 64


def cut_up(state: State, bends: Sequence[Segment] = ()) -> Pieces:
    """The sheet's pieces.

    Parameters
    ----------
    bends : further lines on the sheet, each from rim or crease to rim or crease
    """
    outlines = [side for f in state.facets for side in polygons.edges(f.outline)]
    points, rings = faces([*outlines, *state.creases, *bends])
    boxes = np.array(
        [(*np.min(f.outline, axis=0), *np.max(f.outline, axis=0)) for f in state.facets]
    )
    facets = [_facet(state, boxes, [points[k] for k in ring]) for ring in rings]
    kept = [k for k, f in enumerate(facets) if f is not None]
    return _joined(state, [rings[k] for k in kept], [f for f in facets if f is not None], points)


def faces(lines: Sequence[Segment]) -> tuple[list[Point], list[list[int]]]:
    """The faces that lines cut the plane into: points, and rings of them, counter-clockwise, in a fixed
    order.

    Lines that end within `NEAR` of one another or of a line's inside meet there; lines that lie within it
    along one another are one. Corners are ends of lines, else where two lines cross, to the last bit. Ends
    of lines that lead nowhere are left out.
    """
    points, sides = _broken(lines)
    strings = [LineString([points[a], points[b]]) for a, b in sides]
    number = {p: k for k, p in enumerate(points)}
    found: list[tuple[tuple[float, float], list[int]]] = []
    for face in polygonize(strings):
        if face.area < LEAST:
            continue
        around = shapely.get_coordinates(shapely.orient_polygons(face).exterior)[:-1]
        ring = [number[(float(x), float(y))] for x, y in around]
        low = ring.index(min(ring))
        middle = face.representative_point()
        found.append(((round(middle.x, 7), round(middle.y, 7)), ring[low:] + ring[:low]))
    found.sort(key=lambda one: one[0])
    return points, [ring for _, ring in found]


def _broken(lines: Sequence[Segment]) -> tuple[list[Point], list[tuple[int, int]]]:
    """Lines broken where they meet: points, and pairs of them."""
    ends = np.array([s for s in lines if distance(*s) > NEAR], dtype=float).reshape(-1, 2, 2)
    _, first = np.unique(np.round(ends, 9), axis=0, return_index=True)
    ends = ends[np.sort(first)]
    start, way = ends[:, 0], ends[:, 1] - ends[:, 0]
    length = np.hypot(way[:, 0], way[:, 1])
    along = way / length[:, None]
    low, high = ends.min(axis=1) - 2 * NEAR, ends.max(axis=1) + 2 * NEAR
    near = (low[:, None, 0] <= high[None, :, 0]) & (low[None, :, 0] <= high[:, None, 0])
    near &= (low[:, None, 1] <= high[None, :, 1]) & (low[None, :, 1] <= high[:, None, 1])
    one, other = np.nonzero(np.triu(near, 1))
    turn = along[one, 0] * along[other, 1] - along[one, 1] * along[other, 0]
    across = np.abs(turn) > 1e-6
    one, other, turn = one[across], other[across], turn[across]
    gap = start[other] - start[one]
    t = (gap[:, 0] * along[other, 1] - gap[:, 1] * along[other, 0]) / turn
    u = (gap[:, 0] * along[one, 1] - gap[:, 1] * along[one, 0]) / turn
    meet = (t > -NEAR) & (t < length[one] + NEAR) & (u > -NEAR) & (u < length[other] + NEAR)
    crossings = start[one[meet]] + along[one[meet]] * t[meet, None]
    known = Clusters(NEAR)
    for x, y in np.concatenate([ends.reshape(-1, 2), crossings]):
        known.index((float(x), float(y)))
    places = np.array(known.points).reshape(-1, 2)
    sides: set[tuple[int, int]] = set()
    for first in range(0, len(ends), _AT_ONCE):
        some = slice(first, first + _AT_ONCE)
        x, y = (places[None, :, k] - start[some, None, k] for k in (0, 1))
        far = x * along[some, None, 0] + y * along[some, None, 1]
        off = np.abs(x * along[some, None, 1] - y * along[some, None, 0])
        on = (off < NEAR) & (far > -NEAR) & (far < length[some, None] + NEAR)
        line, place = np.nonzero(on)
        order = np.lexsort((far[on], line))
        line, place = line[order], place[order]
        going_on = np.flatnonzero(line[1:] == line[:-1])
        pairs = np.sort(np.stack([place[going_on], place[going_on + 1]], axis=1), axis=1)
        sides.update(map(tuple, pairs.tolist()))
    return known.points, sorted(sides)


class Clusters:
    """Points, of which those nearer than a width are one: the first of them."""

    def __init__(self, width: float) -> None:
        self.points: list[Point] = []
        self._width = width
        self._cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        self._numbers: dict[Point, int] = {}

    def index(self, p: Point) -> int:
        """Number of the point that p is one with; p itself is new when there is none."""
        if p in self._numbers:
            return self._numbers[p]
        cx, cy = round(p[0] / self._width / 4), round(p[1] / self._width / 4)
        for dx in (0, -1, 1):
            for dy in (0, -1, 1):
                for k in self._cells.get((cx + dx, cy + dy), ()):
                    if distance(p, self.points[k]) < self._width:
                        return k
        number = self._numbers[p] = len(self.points)
        self.points.append(p)
        self._cells[(cx, cy)].append(number)
        return number


def _facet(state: State, boxes: Array, ring: Sequence[Point]) -> int | None:
    """The facet that a piece is cut from: the one that its inside lies deepest in; `boxes` are those round
    the facets.
    """
    x, y = middle = polygons.centroid(tuple(ring))
    left, low, right, high = boxes.T
    near = np.flatnonzero((left <= x) & (x <= right) & (low <= y) & (y <= high))
    deep = {int(f): polygons.depth(state.facets[f].outline, middle) for f in near}
    best = max(deep, key=lambda f: (deep[f], -f), default=None)
    return best if best is not None and deep[best] > 0 else None


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
                if kind is Line.CREASE and not _creased(state, ends):
                    kind = Line.BEND
                seams.append(Seam(start, end, piece, other, angle, kind))
            elif (piece, corner) not in outer:
                seams.append(Seam(start, end, piece, -1, 0.0, Line.RIM))
    return Pieces(state, np.array(places), tuple(new), tuple(facets), tuple(seams))


def _along(p: Point, q: Point, segments: Iterable[Segment]) -> bool:
    return any(point_on_segment(s, p, NEAR) and point_on_segment(s, q, NEAR) for s in segments)


def _creased(state: State, ends: tuple[Point, Point]) -> bool:
    """Whether a flat seam is a crease: facets are cut further than paper is creased."""
    return _along(*ends, state.creases)


def _folded(state: State, left: int, right: int) -> tuple[float, Line]:
    """Angle and kind of a seam between two facets, as they lie now."""
    if state.facets[left].shows_front == state.facets[right].shows_front:
        return 0.0, Line.CREASE
    back, front = (right, left) if state.facets[left].shows_front else (left, right)
    return (math.pi if state.above(back, front) else -math.pi), Line.FOLD
