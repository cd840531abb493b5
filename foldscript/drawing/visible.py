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
from typing import Any

from ..geometry.lines import Point
from .edges import Edges, visible_edges
from .layers import Spread
from .rims import lying_on
from .view import View

#: Visible specks below this are dropped: square points.
_SPECK_AREA = 0.12
#: Corners are drawn to this (points), so that neighbours share theirs exactly.
_GRID = 4
#: Corners of outlines nearer than this are one (points).
_SAME = 0.004


class Visible:
    """Visible parts of one state; everything is computed when first asked for.

    Attributes
    ----------
    shapes : outline of every facet as drawn
    plate_of : the plate of every facet
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
        rings = shapely.linearrings(numpy.array(corners), indices=numpy.array(owners))
        shapes: Any = shapely.polygons(rings)
        wrong = ~shapely.is_valid(shapes)
        if wrong.any():
            shapes[wrong] = shapely.buffer(shapes[wrong], 0)
        shapely.prepare(shapes)
        self.shapes = shapes
        self.plate_of = {i: k for k, plate in enumerate(self.state.plates) for i in plate}

    @cached_property
    def _boxes(self) -> Any:
        return self._shapely.bounds(self.shapes)

    @cached_property
    def _over(self) -> tuple[tuple[int, ...], ...]:
        """For every facet the facets that lie on it and are not hidden, the largest first."""
        state, shapely = self.state, self._shapely
        under = lying_on(state)
        above: list[list[int]] = [[] for _ in state.facets]
        for i, j in under:
            above[i].append(j)
        hidden = set[int]()
        if under:
            low, high = (self._boxes[[pair[k] for pair in under]] for k in (0, 1))
            slack = 10.0**-_GRID
            within = (low[:, :2] >= high[:, :2] - slack).all(1)
            within &= (low[:, 2:] <= high[:, 2:] + slack).all(1)
            tried = [pair for pair, ok in zip(under, within, strict=True) if ok]
            found = shapely.covers(
                self.shapes[[j for _, j in tried]], self.shapes[[i for i, _ in tried]]
            )
            hidden = {i for (i, _), is_hidden in zip(tried, found, strict=True) if is_hidden}
        self._hidden = hidden
        area = shapely.area(self.shapes)
        return tuple(
            tuple(sorted((j for j in over if j not in hidden), key=lambda j: (-area[j], j)))
            for over in above
        )

    @cached_property
    def shown(self) -> tuple[int, ...]:
        """Facets that do not lie wholly under another one."""
        assert self._over is not None
        return tuple(i for i in range(len(self.state.facets)) if i not in self._hidden)

    def seen(self, facets: Sequence[int], geometries: Any) -> Any:
        """What is visible of areas or lines on the page, each lying on its facet."""
        import numpy

        shapely = self._shapely
        left = numpy.array(geometries, dtype=object)
        if not len(left):
            return left
        boxes = shapely.bounds(left)
        left_over = [(k, list(self._over[i])) for k, i in enumerate(facets)]
        for turn in range(max((len(over) for _, over in left_over), default=0)):
            left_over = [(k, over) for k, over in left_over if turn < len(over)]
            if not left_over:
                break
            some = numpy.array([k for k, _ in left_over])
            tops = numpy.array([over[turn] for _, over in left_over])
            low, high = boxes[some], self._boxes[tops]
            meet = (low[:, :2] <= high[:, 2:]).all(1) & (low[:, 2:] >= high[:, :2]).all(1)
            if not meet.any():
                continue
            picked, over = some[meet], self.shapes[tops[meet]]
            held = shapely.covers(over, left[picked])
            left[picked[held]] = shapely.GeometryCollection()
            part = ~held & shapely.intersects(over, left[picked])
            left[picked[part]] = shapely.difference(left[picked[part]], over[part])
            gone = set(picked[shapely.is_empty(left[picked])].tolist())
            if gone:
                left_over = [(k, rest) for k, rest in left_over if k not in gone]
        return left

    @cached_property
    def silhouette(self) -> Any:
        """All the paper covers."""
        whole = self._shapely.union_all(self.shapes[list(self.shown)])
        self._shapely.prepare(whole)
        return whole

    @cached_property
    def parts(self) -> dict[int, Any]:
        """Visible area of each facet that is not hidden; some are empty."""
        shown = self.shown
        return dict(zip(shown, self.seen(shown, self.shapes[list(shown)]), strict=True))

    @cached_property
    def fills(self) -> tuple[tuple[int, Any], ...]:
        """(a facet of the plate, visible area) of each plate of which anything is seen."""
        out: list[tuple[int, Any]] = []
        for plate in self.state.plates:
            seen = [self.parts[i] for i in plate if i in self.parts]
            seen = [part for part in seen if part.area > _SPECK_AREA / 10]
            if not seen:
                continue
            whole = seen[0] if len(seen) == 1 else self._shapely.union_all(seen, grid_size=0.001)
            pieces = [p for p in _polygons(whole) if p.area > _SPECK_AREA]
            if pieces:
                out.append((plate[0], self._shapely.multipolygons(pieces)))
        return tuple(out)

    @cached_property
    def edges(self) -> Edges:
        """Visible edges."""
        return visible_edges(self, frozenset(self.shown))

    @cached_property
    def rim(self) -> Any:
        """All visible edges as one geometry."""
        lines = [g for edge in self.edges for g in line_strings(edge)]
        return self._shapely.multilinestrings(lines)


def _polygons(geometry: Any) -> Iterable[Any]:
    """Polygons of any geometry."""
    if geometry.geom_type == "Polygon":
        return () if geometry.is_empty else (geometry,)
    parts = getattr(geometry, "geoms", ())
    return tuple(p for g in parts for p in _polygons(g))


def line_strings(geometry: Any) -> Iterable[Any]:
    """Line strings of any geometry."""
    if geometry.geom_type in ("LineString", "LinearRing"):
        return () if geometry.is_empty else (geometry,)
    parts = getattr(geometry, "geoms", ())
    return tuple(p for g in parts for p in line_strings(g))


def line_points(geometry: Any) -> tuple[tuple[Point, ...], ...]:
    """Corners of every line of a geometry, in an order that depends on where they lie alone."""
    out: list[tuple[Point, ...]] = []
    for line in line_strings(geometry):
        points = _apart([(float(x), float(y)) for x, y, *_ in line.coords])
        out.append(tuple(points if points[0] <= points[-1] else points[::-1]))
    return tuple(sorted(out))


def ring_points(geometry: Any) -> tuple[tuple[tuple[Point, ...], ...], ...]:
    """For every polygon its outer ring and then its holes, without the repeated last corner.

    Outer rings run one way and holes the other, so that any fill rule leaves the holes open. Each
    starts at its leftmost corner.
    """
    out: list[tuple[tuple[Point, ...], ...]] = []
    for polygon in _polygons(geometry):
        rings = [_turned(polygon.exterior, True), *(_turned(h, False) for h in polygon.interiors)]
        out.append(tuple(r for r in rings if len(r) >= 3))
    return tuple(sorted(rings for rings in out if rings))


def _turned(ring: Any, ccw: bool) -> tuple[Point, ...]:
    points = _apart([(float(x), float(y)) for x, y, *_ in ring.coords][:-1])
    if len(points) < 3:
        return ()
    if ring.is_ccw != ccw:
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
