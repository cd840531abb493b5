"""What the reader sees of the paper: visible parts of layers and of their edges.

In: the layers as drawn apart, and the view. Out: areas and lines in points on the page, as shapely
geometries. Each facet is its own shape minus those that lie on it, pair by pair, so that a ring of
layers shows every member; nothing depends on a painting order. Facets of one plate are joined, so
no seam shows between them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import Any

from ..geometry.lines import Point
from .layers import Spread
from .rims import Rim, is_upper
from .view import View

#: Visible specks below this are dropped: square points, points.
_SPECK_AREA, _SPECK_LENGTH = 0.12, 0.5


class Visible:
    """Visible parts of one state; everything is computed when first asked for."""

    def __init__(self, spread: Spread, view: View) -> None:
        import shapely

        self._shapely = shapely
        self.spread = spread
        self.state = spread.state
        self.view = view
        shapes = [
            shapely.Polygon([view(p) for p in spread.shape(i)])
            for i in range(len(self.state.facets))
        ]
        self.shapes: list[Any] = [s if s.is_valid else s.buffer(0) for s in shapes]
        self._covers: dict[int, Any] = {}
        self.plate_of = {i: k for k, plate in enumerate(self.state.plates) for i in plate}

    def cover(self, facet: int) -> Any | None:
        """Union of the facets that lie on a facet, as drawn; None when there are none."""
        if facet not in self._covers:
            over = [
                self.shapes[j]
                for j in sorted(self.state.neighbours[facet])
                if self.state.above(j, facet)
            ]
            joined = None
            if len(over) == 1:
                joined = over[0]
            elif over:
                joined = self._shapely.union_all(over)
            if joined is not None:
                self._shapely.prepare(joined)
            self._covers[facet] = joined
        return self._covers[facet]

    @cached_property
    def silhouette(self) -> Any:
        """All the paper covers."""
        whole = self._shapely.union_all(self.shapes)
        self._shapely.prepare(whole)
        return whole

    @cached_property
    def parts(self) -> tuple[Any, ...]:
        """Visible area of each facet; empty where it is hidden."""
        out: list[Any] = []
        for i, shape in enumerate(self.shapes):
            cover = self.cover(i)
            if cover is not None:
                shape = (
                    self._shapely.Polygon()
                    if cover.covers(shape)
                    else self._shapely.difference(shape, cover)
                )
            out.append(shape)
        return tuple(out)

    @cached_property
    def fills(self) -> tuple[tuple[int, Any], ...]:
        """(a facet of the plate, visible area) of each plate of which anything is seen."""
        out: list[tuple[int, Any]] = []
        for plate in self.state.plates:
            seen = [self.parts[i] for i in plate if not self.parts[i].is_empty]
            if not seen:
                continue
            whole = seen[0] if len(seen) == 1 else self._shapely.union_all(seen, grid_size=0.001)
            pieces = [p for p in _polygons(whole) if p.area > _SPECK_AREA]
            if pieces:
                out.append((plate[0], self._shapely.multipolygons(pieces)))
        return tuple(out)

    def seen(self, facet: int, lines: Any) -> Any:
        """Visible part of lines (on the page) that lie on a facet."""
        cover = self.cover(facet)
        return lines if cover is None else self._shapely.difference(lines, cover)

    @cached_property
    def edges(self) -> tuple[Any, Any]:
        """Visible raw edges and visible folded edges, each as merged lines."""
        raw: list[Any] = []
        bent: list[Any] = []
        for rim in self.spread.rims:
            if rim.mate is not None and not is_upper(self.state, rim):
                continue
            line = self._shapely.LineString([self.view(p) for p in self._ends(rim)])
            seen = self.seen(rim.facet, line)
            if not seen.is_empty:
                (raw if rim.mate is None else bent).append(seen)
        return self._merged(raw), self._merged(bent)

    @cached_property
    def rim(self) -> Any:
        """All visible edges as one geometry."""
        return self._shapely.union_all(list(self.edges))

    def _ends(self, rim: Rim) -> tuple[Point, Point]:
        moves = self.spread.moves
        (p, q), v, w = rim.segment, moves[rim.start], moves[rim.end]
        return (p[0] + v[0], p[1] + v[1]), (q[0] + w[0], q[1] + w[1])

    def _merged(self, found: Sequence[Any]) -> Any:
        if not found:
            return self._shapely.MultiLineString()
        pieces = [line for geometry in found for line in _lines(geometry)]
        merged = self._shapely.line_merge(self._shapely.multilinestrings(pieces))
        kept = [line for line in _lines(merged) if line.length > _SPECK_LENGTH]
        return self._shapely.multilinestrings(kept) if kept else self._shapely.MultiLineString()


def _polygons(geometry: Any) -> Iterable[Any]:
    """Polygons of any geometry."""
    if geometry.geom_type == "Polygon":
        return () if geometry.is_empty else (geometry,)
    parts = getattr(geometry, "geoms", ())
    return tuple(p for g in parts for p in _polygons(g))


def _lines(geometry: Any) -> Iterable[Any]:
    """Line strings of any geometry."""
    if geometry.geom_type in ("LineString", "LinearRing"):
        return () if geometry.is_empty else (geometry,)
    parts = getattr(geometry, "geoms", ())
    return tuple(p for g in parts for p in _lines(g))


def line_points(geometry: Any) -> tuple[tuple[Point, ...], ...]:
    """Corners of every line of a geometry."""
    return tuple(
        tuple((float(x), float(y)) for x, y, *_ in line.coords) for line in _lines(geometry)
    )


def ring_points(geometry: Any) -> tuple[tuple[tuple[Point, ...], ...], ...]:
    """For every polygon its outer ring and then its holes, without the repeated last corner.

    Outer rings run one way and holes the other, so that any fill rule leaves the holes open.
    """
    out: list[tuple[tuple[Point, ...], ...]] = []
    for polygon in _polygons(geometry):
        rings = [_turned(polygon.exterior, True), *(_turned(h, False) for h in polygon.interiors)]
        out.append(tuple(r for r in rings if len(r) >= 3))
    return tuple(out)


def _turned(ring: Any, ccw: bool) -> tuple[Point, ...]:
    points = [(float(x), float(y)) for x, y, *_ in ring.coords][:-1]
    return tuple(points if ring.is_ccw == ccw else points[::-1])
