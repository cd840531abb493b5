"""Paper in layers: one net of triangles over the folded plane, the same for every layer above it.

In: a state, lines along which paper may turn or bend. Out: `Layers`: triangular pieces of the sheet; over
each triangle of the folded plane stands a column of them, ordered from the lowest to the uppermost, whose
corners lie over each other. So layers match corner to corner: they can be held together, kept apart, and
asked what opens.

The net is made in the folded plane of all outlines, creases and further lines there, its cells cut into
triangles (sides divided where paper is to bend more finely); its lines are then taken back to the sheet,
layer by layer.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPoint, Polygon
from shapely.geometry.base import BaseGeometry

from ..geometry import polygons
from ..geometry.isometries import inverse
from ..geometry.lines import Point, Segment, distance
from ..paper.state import State
from ..source.diagnostics import Refusal
from .crossing import triangles
from .making import Layer
from .pieces import LEAST, Array, Clusters, Pieces, cut_up, faces

Indices = NDArray[np.int64]

#: Corners of the folded plane nearer than this (sheet units) are one.
SNAP = 3e-5
#: More triangles than this are not solved for.
MOST = 1600


@dataclass(frozen=True)
class Layers:
    """Triangles of the sheet in columns.

    Attributes
    ----------
    pieces : all of them triangles
    flat : n × 2, where each point lies in the folded plane
    node : for each point, which corner of the net it lies over
    columns : for each triangle of the net its pieces, lowest first
    """

    pieces: Pieces
    flat: Array
    node: Indices
    columns: tuple[tuple[int, ...], ...]

    @cached_property
    def corners(self) -> Indices:
        """Triangles × 3: points, counter-clockwise seen from the sheet's front."""
        return np.array(self.pieces.rings, dtype=np.int64)

    @cached_property
    def fronts(self) -> NDArray[np.bool_]:
        """For each triangle whether it shows its front to the reader while flat."""
        facets = self.pieces.state.facets
        return np.array([facets[f].shows_front for f in self.pieces.facets])

    @cached_property
    def place(self) -> tuple[tuple[int, int], ...]:
        """For each triangle its column, and how many layers are below it there."""
        where = {t: (c, k) for c, some in enumerate(self.columns) for k, t in enumerate(some)}
        return tuple(where[t] for t in range(len(self.pieces.rings)))

    @cached_property
    def nodes(self) -> Array:
        """Corners of the net in the folded plane."""
        places = np.zeros((int(self.node.max()) + 1, 2))
        places[self.node] = self.flat
        return places

    @property
    def overlapping(self) -> list[Layer]:
        """Layers over each other, as `Layer` has them: those of one column."""
        found: list[Layer] = []
        for c, some in enumerate(self.columns):
            x, y = self.nodes[list(self.over(c))].mean(axis=0)
            for lower, one in enumerate(some):
                front = bool(self.fronts[one])
                found.extend(
                    (one, other, front, (float(x), float(y))) for other in some[lower + 1 :]
                )
        return found

    def over(self, column: int) -> tuple[int, ...]:
        """The corners of the net that a column stands over, sorted."""
        return tuple(sorted(int(v) for v in self.node[self.corners[self.columns[column][0]]]))

    def at(self, triangle: int, node: int) -> int:
        """The point of a triangle that lies over a corner of the net."""
        return next(int(v) for v in self.corners[triangle] if self.node[v] == node)


def layered(
    state: State,
    creases: Sequence[Segment] = (),
    chords: Sequence[Segment] = (),
    fine: float = 9.0,
    near: Sequence[Point] = (),
    corners: Sequence[Point] = (),
) -> Layers:
    """The layers of a state.

    Parameters
    ----------
    creases : further lines on the sheet
    chords : further lines of the folded plane, through all layers
    fine : longest side of a triangle (sheet units); a number above 1 leaves all as large as the net has
        them
    near : places of the folded plane at which something is done: cells that can be cut either way are cut
        outwards from their corners there
    corners : places of the folded plane at which layers have a corner, whether lines meet there or not

    Raises Refusal, 'too-fine', where there would be more triangles than can be solved for.
    """
    first = cut_up(state, creases)
    lines = [*_placed(first), *chords]
    cells = _cells(_snapped(lines, corners))
    net = [
        side for cell in cells for side in _sides(cell, fine, _first(state, cell, near), corners)
    ]
    lifted: list[Segment] = []
    for some in _lifted(first, net):
        lifted += some
        if (
            2 * len(lifted) > 3 * MOST
        ):  # every line within a piece is a side of two triangles of three
            raise _too_fine()
    pieces = cut_up(state, [*creases, *lifted])
    if len(pieces.rings) > MOST:
        raise _too_fine()
    return _in_columns(pieces)


def _too_fine() -> Refusal:
    return Refusal("too-fine", "there are too many layers to find how they stand")


def _placed(pieces: Pieces) -> list[Segment]:
    out: list[Segment] = []
    for seam in pieces.seams:
        place = pieces.state.facets[pieces.facets[seam.left]].place
        (ax, ay), (bx, by) = pieces.points[seam.start], pieces.points[seam.end]
        out.append((place((float(ax), float(ay))), place((float(bx), float(by)))))
    return out


def _snapped(lines: Sequence[Segment], corners: Sequence[Point]) -> list[Segment]:
    """The lines with corners that are nearly one made one, and broken where they pass a corner closely."""
    known = Clusters(SNAP)
    pairs = {tuple(sorted((known.index(p), known.index(q)))) for p, q in lines}
    for corner in corners:
        known.index(corner)
    points = np.array(known.points)
    out: list[Segment] = []
    for a, b in sorted(pairs):
        if a == b:
            continue
        way = points[b] - points[a]
        length = float(np.hypot(*way))
        along = (points - points[a]) @ (way / length)
        off = (points - points[a]) @ (np.array([-way[1], way[0]]) / length)
        between = np.flatnonzero((np.abs(off) < SNAP) & (along > SNAP) & (along < length - SNAP))
        path = [a, *(int(k) for k in between[np.argsort(along[between])]), b]
        out.extend((known.points[p], known.points[q]) for p, q in itertools.pairwise(path))
    return out


def _cells(lines: Sequence[Segment]) -> list[Polygon]:
    points, rings = faces(lines)
    cells = [Polygon([points[k] for k in ring]) for ring in rings]
    return [c for c in cells if c.area / c.length > SNAP / 4]


def _first(state: State, cell: Polygon, near: Sequence[Point]) -> Callable[[Point], Any]:
    """Which corner of a cell comes first, where it can be cut in several ways.

    It is told from what does not change when the model is turned on the table or turned over: how far off
    something is done, and where the corner lies on the sheet.
    """

    def place(p: Point) -> Any:
        middle = (cell.centroid.x, cell.centroid.y)
        over = (f for f, ring in enumerate(state.placed) if polygons.depth(ring, middle) > 0)
        facet = next(over, None)
        here = p if facet is None else inverse(state.facets[facet].place)(p)
        away = min((distance(p, spot) for spot in near), default=0.0)
        return -round(away, 6), round(here[0], 6), round(here[1], 6)

    return place


def _sides(
    cell: Polygon, fine: float, first: Callable[[Point], Any], corners: Sequence[Point]
) -> list[Segment]:
    """Sides of the triangles that a cell is cut into."""
    ring = shapely.get_coordinates(shapely.orient_polygons(cell).exterior)[:-1]
    points = list(_divided(ring, fine))
    rim = len(points)
    middle = np.array([cell.centroid.x, cell.centroid.y])
    tips = np.array([p for p in ring if _is_corner(p, ring)])
    room = min(cell.exterior.distance(shapely.Point(middle)), 9.0)
    rings = round(room / (0.8 * fine))
    for k in range(1, rings):
        points.extend(_divided(middle + (tips - middle) * (k / rings), fine))
    if rings:
        points.append(middle)
    inner = cell.buffer(-SNAP, join_style="mitre")
    points.extend(np.array(p) for p in corners if inner.contains(shapely.Point(p)))
    placed = np.array(points)
    if rim < len(points):
        found = shapely.delaunay_triangles(MultiPoint(placed))
        inside = [t for t in found.geoms if t.area > LEAST and cell.contains(t.centroid)]
        sides = {_rounded(s) for t in inside for s in _around(t)}
        around = [_segment(placed, k, (k + 1) % rim) for k in range(rim)]
        whole = abs(sum(t.area for t in inside) - cell.area) < LEAST * rim
        if whole and all(_rounded(s) in sides for s in around):
            return [s for t in inside for s in _around(t)]
    faces = triangles(
        range(rim), placed, lambda k: first((float(placed[k][0]), float(placed[k][1])))
    )
    return [_segment(placed, a, b) for t in faces for a, b in zip(t, (*t[1:], t[0]), strict=True)]


def _rounded(s: Segment) -> Segment:
    """A segment to be compared, whichever way it runs."""
    a, b = ((round(x, 8), round(y, 8)) for x, y in s)
    return min((a, b), (b, a))


def _divided(ring: Array, fine: float) -> list[Array]:
    out: list[Array] = []
    for p, q in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        parts = max(1, int(np.ceil(np.hypot(*(q - p)) / fine - 1e-3)))
        out.extend(p + (q - p) * (k / parts) for k in range(parts))
    return out


def _is_corner(p: Array, ring: Array) -> bool:
    k = int(np.argmin(((ring - p) ** 2).sum(axis=1)))
    u, v = ring[k] - ring[k - 1], ring[(k + 1) % len(ring)] - ring[k]
    return abs(u[0] * v[1] - u[1] * v[0]) > 1e-4 * float(np.hypot(*u) * np.hypot(*v))


def _segment(points: Array, a: int, b: int) -> Segment:
    (ax, ay), (bx, by) = points[a], points[b]
    return (float(ax), float(ay)), (float(bx), float(by))


def _around(t: BaseGeometry) -> list[Segment]:
    ring = shapely.get_coordinates(t)
    return [_segment(ring, k, k + 1) for k in range(len(ring) - 1)]


def _lifted(pieces: Pieces, net: Sequence[Segment]) -> Iterator[list[Segment]]:
    """The net's lines on the sheet, where they go through the inside of a piece, piece after piece."""
    unique = sorted({(min(s), max(s)) for s in net})
    if not unique:
        return
    strings = shapely.linestrings(unique)
    tree = shapely.STRtree(strings)
    for k, facet in enumerate(pieces.facets):
        place = pieces.state.facets[facet].place
        back = inverse(place)
        flat = Polygon([place(p) for p in pieces.polygon(k)])
        inner = flat.buffer(-SNAP, join_style="mitre")
        shapely.prepare(inner)
        met = np.sort(tree.query(inner, predicate="intersects"))
        through = shapely.length(shapely.intersection(strings[met], inner)) > SNAP
        yield [(back(unique[i][0]), back(unique[i][1])) for i in met[through]]


def _in_columns(pieces: Pieces) -> Layers:
    points = pieces.points
    flat = np.zeros((len(points), 2))
    for ring, facet in zip(pieces.rings, pieces.facets, strict=True):
        place = pieces.state.facets[facet].place
        for v in ring:
            flat[v] = place((float(points[v, 0]), float(points[v, 1])))
    known = Clusters(2 * SNAP)
    node = [known.index((float(x), float(y))) for x, y in flat]
    stacks: dict[tuple[int, ...], list[int]] = defaultdict(list)
    for t, ring in enumerate(pieces.rings):
        if len(ring) != 3:
            raise Refusal("no-net", "the layers do not match well enough to find how they stand")
        stacks[tuple(sorted(node[v] for v in ring))].append(t)
    if any(len(set(over)) < 3 for over in stacks):
        raise Refusal("no-net", "the layers do not match well enough to find how they stand")
    order = pieces.state.above
    columns = tuple(
        tuple(
            sorted(
                some,
                key=lambda t: sum(
                    order(pieces.facets[t], pieces.facets[s]) is True for s in some if s != t
                ),
            )
        )
        for _, some in sorted(stacks.items())
    )
    return Layers(pieces, flat, np.array(node, dtype=np.int64), columns)
