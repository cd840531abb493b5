"""What the reader sees of the paper: visible parts of layers and of their edges.

In: the layers as drawn apart, and the view. Out: areas and lines in points on the page, as shapely
geometries. Each facet is its own shape minus those that lie on it, pair by pair, so that a ring of
layers shows every member; nothing depends on a painting order. Facets of one plate are joined, so
no seam shows between them. A facet that lies wholly under another one hides nothing that the other
does not hide, and is left out of all that follows; the rest is done for all facets at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, cast

from ...geometry.cover import areal
from ...geometry.lines import Point
from ...paper.state import State
from ..offsets.spreads import Spread
from ..scene.view import View
from .edges import Edges, visible_edges

if TYPE_CHECKING:
    import numpy
    import shapely
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

#: Visible specks below this are dropped: square points.
_SPECK_AREA = 0.12
#: An area of which less than this part is left is looked at twice.
_DOUBT = 0.2
#: What a facet shows when it shows nothing: square points.
_NOTHING = 1e-6
#: Corners are drawn to this (points), so that neighbours share theirs exactly.
_GRID = 4
#: Corners drawn to that grid may lie this far from where they are (points).
_HAIR = 2.0 * 10.0**-_GRID
#: A facet that another reaches into by no more than this part of its size is touched, not covered.
_TOUCHING = 1e-4
#: Corners of outlines nearer than this are one (points).
_SAME = 0.004


def across_joints(state: State) -> tuple[tuple[int, int], ...]:
    """(below, above) of facets that only touch, where paper goes on flat from one of them under the other.

    Drawn apart, such a facet may reach a hair's breadth over the joint, under the layer that lies there.
    """
    found: set[tuple[int, int]] = set()
    for joint in state.joints:
        if joint.folded:
            continue
        for here, there in ((joint.a, joint.b), (joint.b, joint.a)):
            for other in state.neighbours[here]:
                if other == there or state.above(other, there) is not None:
                    continue
                over = bool(state.above(other, here))
                found.add((there, other) if over else (other, there))
    return tuple(sorted(pair for pair in found if pair[::-1] not in found))


class Visible:
    """Visible parts of one state; everything is computed when first asked for.

    Attributes
    ----------
    shapes : outline of every facet as drawn
    """

    def __init__(self, spread: Spread, view: View) -> None:
        import numpy
        import shapely

        self._shapely = shapely
        self.spread = spread
        self.state = spread.state
        self.view = view
        corners: list[Point] = []
        owners: list[int] = []
        for i, ring in enumerate(spread.rings):
            drawn = [view(p) for p in spread.shape(i)]
            corners += [(round(x, _GRID), round(y, _GRID)) for x, y in drawn]
            owners += [i] * len(ring)
        at, whose = numpy.array(corners), numpy.array(owners)
        shapes: NDArray[numpy.object_] = numpy.asarray(
            shapely.polygons(shapely.linearrings(at, indices=whose))
        )
        wrong = ~shapely.is_valid(shapes)
        if wrong.any():
            shapes[wrong] = shapely.buffer(shapes[wrong], 0)
        count = numpy.bincount(whose)
        middle = numpy.stack([numpy.bincount(whose, at[:, k]) / count for k in (0, 1)], axis=1)
        inner = at + _TOUCHING * (middle[whose] - at)
        cores: NDArray[numpy.object_] = numpy.asarray(
            shapely.polygons(shapely.linearrings(inner, indices=whose))
        )
        cores[wrong] = shapes[wrong]
        shapely.prepare(shapes)
        shapely.prepare(cores)
        self.shapes, self._cores = shapes, cores
        self._hidden: set[int] = set()

    def without(self, facets: NDArray[numpy.bool_]) -> None:
        """Leaves facets empty (an array that is true for these) before anything is asked."""
        self.shapes[facets] = self._cores[facets] = self._shapely.Polygon()

    @cached_property
    def _boxes(self) -> NDArray[numpy.float64]:
        return self._shapely.bounds(self.shapes)

    @cached_property
    def _over(self) -> tuple[tuple[int, ...], ...]:
        """For every facet those that lie on it, what covers most first.

        Facets that lie wholly under one other are left out, and have () themselves.
        """
        import numpy

        shapely = self._shapely
        above: list[list[int]] = [[] for _ in self.state.facets]
        covers = self.spread.covers
        if covers is None or not len(covers.below):
            return tuple(() for _ in above)
        beside = across_joints(self.state)
        under, over = (
            numpy.concatenate([pairs, numpy.array([pair[k] for pair in beside], dtype=int)])
            for k, pairs in enumerate((covers.below, covers.above))
        )
        low, high = self._boxes[under], self._boxes[over]
        slack = 10.0**-_GRID
        within = (low[:, :2] >= high[:, :2] - slack).all(1)
        within &= (low[:, 2:] <= high[:, 2:] + slack).all(1)
        tried = under[within]
        held = shapely.covers(self.shapes[over[within]], self.shapes[tried])
        self._hidden = set(tried[held].tolist())
        common = numpy.minimum(low[:, 2:], high[:, 2:]) - numpy.maximum(low[:, :2], high[:, :2])
        share = numpy.round(common.clip(0.0).prod(1), 3)
        order = numpy.argsort(-share, kind="stable")
        order = order[share[order] > 0.0]
        for i, j in zip(under[order].tolist(), over[order].tolist(), strict=True):
            if i not in self._hidden and j not in self._hidden:
                above[i].append(j)
        return tuple(tuple(over) for over in above)

    @cached_property
    def _over_in_sight(self) -> tuple[tuple[int, ...], ...]:
        """The same without facets that lie wholly under several others: they hide nothing more."""
        seen = set(self.shown)
        return tuple(tuple(j for j in over if j in seen) for over in self._over)

    @cached_property
    def shown(self) -> tuple[int, ...]:
        """Facets of which anything is seen."""
        areas = self._shapely.area(list(self.parts.values()))
        return tuple(
            i for i, area in zip(self.parts, areas.tolist(), strict=True) if area > _NOTHING
        )

    @cached_property
    def parts(self) -> dict[int, BaseGeometry]:
        """Visible area of each facet; those that lie wholly under one other are left out."""
        over = self._over
        rest = [i for i in range(len(over)) if i not in self._hidden]
        return dict(zip(rest, self._less(rest, self.shapes[rest], over, self._cores), strict=True))

    def seen(
        self, facets: Sequence[int], geometries: NDArray[numpy.object_]
    ) -> NDArray[numpy.object_]:
        """What is visible of areas or lines on the page, each lying on its facet."""
        return self._less(facets, geometries, self._over_in_sight, self.shapes)

    def _less(
        self,
        facets: Sequence[int],
        geometries: NDArray[numpy.object_],
        over: Sequence[Sequence[int]],
        cores: NDArray[numpy.object_],
    ) -> NDArray[numpy.object_]:
        """Geometries without what lies over the facet of each; a top that its core misses is left out."""
        import numpy

        shapely = self._shapely
        left = numpy.array(geometries, dtype=object)
        if not len(left):
            return left
        count = [len(over[i]) for i in facets]
        whose = numpy.repeat(numpy.arange(len(left)), count)
        if not len(whose):
            return left
        tops = numpy.array([j for i in facets for j in over[i]])
        low, high = shapely.bounds(left)[whose], self._boxes[tops]
        meet = (low[:, :2] <= high[:, 2:]).all(1) & (low[:, 2:] >= high[:, :2]).all(1)
        whose, tops = whose[meet], tops[meet]
        meet = shapely.intersects(cores[tops], left[whose])
        whose, tops = whose[meet], tops[meet]
        begins = numpy.flatnonzero(numpy.diff(whose, prepend=-1))
        turn = numpy.arange(len(whose)) - numpy.repeat(
            begins, numpy.diff(begins, append=len(whose))
        )
        order = numpy.argsort(turn, kind="stable")  # the first top of each, then the second ones
        rounds = numpy.flatnonzero(numpy.diff(turn[order], prepend=-1)).tolist()
        nothing, there = shapely.GeometryCollection(), numpy.full(len(left), True)
        for start, end in pairwise([*rounds, len(order)]):
            some = order[start:end]
            some = some[there[whose[some]]]
            picked, top = whose[some], tops[some]
            held = shapely.covers(self.shapes[top], left[picked])
            left[picked[held]], there[picked[held]] = nothing, False
            picked, top = picked[~held], top[~held]
            if start:  # what has been cut may not meet the next one any more
                cut = shapely.intersects(cores[top], left[picked])
                picked, top = picked[cut], top[cut]
            if len(picked):
                left[picked] = less = difference(left[picked], self.shapes[top])
                there[picked] = ~shapely.is_empty(less)
        return left

    @cached_property
    def silhouette(self) -> BaseGeometry:
        """All the paper covers."""
        whole = self._shapely.union_all(self.shapes[list(self.shown)])
        self._shapely.prepare(whole)
        return whole

    @cached_property
    def reach(self) -> BaseGeometry:
        """All the paper covers and a hair beyond, so that what lies along its edge lies on it."""
        return self._shapely.buffer(self.silhouette, _HAIR, join_style="mitre")

    @cached_property
    def fills(self) -> tuple[tuple[int, shapely.MultiPolygon], ...]:
        """(a facet of the plate, visible area) of each plate of which anything is seen."""
        out: list[tuple[int, shapely.MultiPolygon]] = []
        for plate in self.state.plates:
            seen = [self.parts[i] for i in plate if i in self.parts]
            seen = [part for part in seen if self._shapely.area(part) > _SPECK_AREA / 10]
            if not seen:
                continue
            whole = seen[0] if len(seen) == 1 else self._shapely.union_all(seen, grid_size=0.001)
            pieces = _polygons(whole)
            pieces = [p for p in pieces if self._shapely.area(p) > _SPECK_AREA]
            if pieces:
                out.append(
                    (plate[0], cast("shapely.MultiPolygon", self._shapely.multipolygons(pieces)))
                )
        return tuple(out)

    @cached_property
    def edges(self) -> Edges:
        """Visible edges."""
        return visible_edges(self, frozenset(self.shown))

    @cached_property
    def edge_lines(self) -> shapely.MultiLineString:
        """All visible edges as one geometry."""
        lines = [g for edge in self.edges for g in line_strings(edge)]
        return cast("shapely.MultiLineString", self._shapely.multilinestrings(lines))


def difference(
    whole: NDArray[numpy.object_], top: NDArray[numpy.object_]
) -> NDArray[numpy.object_]:
    """Geometries, each without one area that does not cover all of it.

    Where outlines all but touch, floating numbers may lose much of what is left, yield an area that is none,
    or fail: such areas are cut on a grid.
    """
    import numpy
    import shapely

    try:
        left = shapely.difference(whole, top)
    except shapely.errors.GEOSException:
        return _on_grid(whole, top)
    sizes, rest = shapely.area(whole), shapely.area(left)
    wrong = ~shapely.is_valid(left)
    doubtful = numpy.flatnonzero((sizes > _SPECK_AREA) & (rest < _DOUBT * sizes))
    if len(doubtful):
        spots = shapely.point_on_surface(whole[doubtful])
        lost = ~shapely.intersects(top[doubtful], spots)
        lost &= ~shapely.intersects(left[doubtful], spots)
        wrong[doubtful[lost | shapely.is_empty(left[doubtful])]] = True
    if wrong.any():
        left[wrong] = _on_grid(whole[wrong], top[wrong])
    return left


def _on_grid(whole: NDArray[numpy.object_], top: NDArray[numpy.object_]) -> NDArray[numpy.object_]:
    """The difference with every corner on a grid; of areas that come with lines only the areas."""
    import numpy
    import shapely

    plain = numpy.array([areal(g) if shapely.area(g) > 0.0 else g for g in whole], dtype=object)
    return shapely.difference(plain, top, grid_size=10.0**-_GRID)


def _polygons(geometry: BaseGeometry) -> Iterable[BaseGeometry]:
    """Polygons of any geometry."""
    return _parts(geometry, (_POLYGON,))


def line_strings(geometry: BaseGeometry) -> Iterable[BaseGeometry]:
    """Line strings of any geometry."""
    return _parts(geometry, (_LINE, _RING))


#: Sorts of geometries, as shapely numbers them.
_LINE, _RING, _POLYGON, _MANY = 1, 2, 3, 4


def _parts(geometry: BaseGeometry, sorts: tuple[int, ...]) -> tuple[BaseGeometry, ...]:
    """Parts of some sorts, none of them empty."""
    import shapely

    sort = shapely.get_type_id(geometry)
    if sort in sorts:
        return () if shapely.is_empty(geometry) else (geometry,)
    if sort < _MANY:
        return ()
    found = shapely.get_parts(geometry)
    while ((kinds := shapely.get_type_id(found)) >= _MANY).any():
        found = shapely.get_parts(found)
    right = (kinds[:, None] == sorts).any(1)
    return tuple(found[right & ~shapely.is_empty(found)])


def line_points(geometry: BaseGeometry) -> tuple[tuple[Point, ...], ...]:
    """Corners of every line of a geometry, in an order that depends on where they lie alone."""
    out: list[tuple[Point, ...]] = []
    for line in line_strings(geometry):
        points = _apart(_corners(line))
        out.append(tuple(points if points[0] <= points[-1] else points[::-1]))
    return tuple(sorted(out))


def ring_points(geometry: BaseGeometry) -> tuple[tuple[tuple[Point, ...], ...], ...]:
    """For every polygon its outer ring and then its holes, without the repeated last corner.

    Outer rings run one way and holes the other, so that any fill rule leaves the holes open. Each
    starts at its leftmost corner.
    """
    out: list[tuple[tuple[Point, ...], ...]] = []
    for polygon in _polygons(geometry):
        rings = [_turned(ring, k == 0) for k, ring in enumerate(_rings(polygon))]
        out.append(tuple(r for r in rings if len(r) >= 3))
    return tuple(sorted(rings for rings in out if rings))


def _rings(polygon: BaseGeometry) -> Sequence[BaseGeometry]:
    """The outer ring, then those of holes."""
    import shapely

    return list(shapely.get_rings(polygon))


def _corners(line: BaseGeometry) -> list[Point]:
    import shapely

    return [(x, y) for x, y in shapely.get_coordinates(line).tolist()]


def _turned(ring: BaseGeometry, ccw: bool) -> tuple[Point, ...]:
    import shapely

    points = _apart(_corners(ring)[:-1])
    if len(points) < 3:
        return ()
    if bool(shapely.is_ccw(ring)) != ccw:
        points = points[::-1]
    first = min(range(len(points)), key=lambda k: points[k])
    return tuple(points[first:] + points[:first])


def _apart(points: list[Point]) -> list[Point]:
    """Points without those that lie on the one before."""
    out = points[:1]
    for p in points[1:]:
        if abs(p[0] - out[-1][0]) > _SAME or abs(p[1] - out[-1][1]) > _SAME:
            out.append(p)
    return out if len(out) > 1 else points[:1] + points[-1:]
