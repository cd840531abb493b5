"""What lies around a sign that looks for its place.

In: the paper as drawn, where ink may go, fold lines. Out: questions that arrows and letters ask of
many candidate places at once: what lies on the paper, what comes near which line or sign. Signs that
have found their place are added, so that later ones mind them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from ..scene.outlines import Box
from ..scene.scene import Point

if TYPE_CHECKING:
    import numpy
    from numpy.typing import ArrayLike, NDArray
    from shapely.geometry.base import BaseGeometry

#: How near a place edges are counted (points), and how much of them makes a crowd, in such lengths: an edge
#: that runs through has two, a corner of one layer too.
_CROWD, _CROWDED = 3.0, 4.6
#: Half the width of a crack between flaps that is none of the figure's outline (points).
_CRACK = 0.5
#: Distance of points along edges.
_STEP = 1.4

#: Places where a number may stand, the best first: beside which point, and which way from it.
Places = Sequence[tuple[Point, Point]]


@dataclass
class Obstacles:
    """What signs have to mind, in points about the middle of the figure.

    Attributes
    ----------
    silhouette, edges : the paper as drawn, shapely geometries
    box : where ink may go
    folds : points along fold lines; strokes : the lines themselves
    marks : middles of rings, wide : of those that are larger; arrows : points along arrows and other signs
    ruled : those of them along marks of equal lengths; rows : from where to where these run
        on the paper
    taken : boxes that other signs fill, letters among them
    unwritten : (places, words) of lengths and angles, written when arrows have their ways
    repeats : boxes with the steps that are repeated, which stand level side by side
    creases : points along creases, which letters and signs may lie on, but rather do not
    radius : of the circle about the middle that letters and signs of layers keep within
    landings, starts : where all arrows of the figure lead, and where they begin
    routed : (tail, head, rise) of every arrow
    mouth : the edge that the arrow being drawn goes under, if it is known
    leaves : the edge where it comes out from under the paper
    """

    silhouette: BaseGeometry
    box: Box
    edges: BaseGeometry | None = None
    folds: list[Point] = field(default_factory=list)
    marks: list[Point] = field(default_factory=list)
    wide: list[Point] = field(default_factory=list)
    arrows: list[Point] = field(default_factory=list)
    ruled: list[Point] = field(default_factory=list)
    rows: list[tuple[Point, Point]] = field(default_factory=list)
    routed: list[tuple[Point, Point, float]] = field(default_factory=list)
    strokes: list[tuple[Point, Point]] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)
    unwritten: list[tuple[Places, str]] = field(default_factory=list)
    repeats: list[Box] = field(default_factory=list)
    creases: list[Point] = field(default_factory=list)
    radius: float = math.inf
    landings: list[Point] = field(default_factory=list)
    starts: list[Point] = field(default_factory=list)
    mouth: tuple[Point, Point] | None = None
    leaves: tuple[Point, Point] | None = None

    def __post_init__(self) -> None:
        import shapely

        hull = shapely.get_coordinates(shapely.simplify(self.silhouette, 1.0))
        self.corners: list[Point] = [(float(x), float(y)) for x, y in hull]

    def covers(self, points: Iterable[Point]) -> list[bool]:
        """Whether each point lies on the paper."""
        return [bool(x) for x in self.on_paper(list(points))]

    def on_paper(self, points: ArrayLike) -> NDArray[numpy.bool_]:
        """The same for an array of points, of any shape but for its last axis."""
        import numpy
        import shapely

        at = numpy.asarray(points, dtype=float)
        return shapely.contains_xy(self.silhouette, at[..., 0], at[..., 1])

    def off_paper(self, points: ArrayLike, far: float) -> NDArray[numpy.bool_]:
        """Which of the points (n, 2) lie farther than this from the paper."""
        import numpy
        import shapely

        at = shapely.points(numpy.asarray(points, dtype=float))
        return ~numpy.asarray(shapely.dwithin(self.silhouette, at, far))

    def crowded(self, spot: Point) -> bool:
        """Whether so many edges of layers meet at a place that more ink there would make it a black spot."""
        import shapely

        if self.edges is None:
            return False
        near_by = shapely.Point(spot).buffer(_CROWD)
        return float(shapely.length(shapely.intersection(self.edges, near_by))) > _CROWDED * _CROWD

    def lay_row(self, start: Point, end: Point) -> None:
        """Tells arrows of a row, where it lies on the paper: outside they find their way round it."""
        if self.covers([((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)])[0]:
            self.rows.append((start, end))

    def within(self, spot: Point, depth: float) -> bool:
        """Whether a place lies on the paper, this far from its outline."""
        import shapely

        at = shapely.Point(spot)
        return bool(self._closed.contains(at)) and at.distance(self._closed.boundary) > depth

    def beside_outline(self, points: ArrayLike, reach: float) -> NDArray[numpy.bool_]:
        """Which of the points lie this near to the outline of the paper; an array without its last axis."""
        import numpy
        import shapely

        at = shapely.points(numpy.asarray(points, dtype=float))
        return numpy.asarray(shapely.dwithin(self._outline, at, reach))

    @cached_property
    def _closed(self) -> BaseGeometry:
        """The paper with no cracks: where flaps meet edge to edge, there is paper."""
        import shapely

        return shapely.buffer(shapely.buffer(self.silhouette, _CRACK), -_CRACK)

    @cached_property
    def _outline(self) -> BaseGeometry:
        return self.silhouette.boundary

    @cached_property
    def edge_points(self) -> NDArray[numpy.float64]:
        """Points along the edges of the paper, close to each other; rows of x and y."""
        import numpy
        import shapely

        if self.edges is None:
            return numpy.zeros((0, 2))
        return shapely.get_coordinates(shapely.segmentize(self.edges, _STEP))


def near(points: ArrayLike, others: Sequence[Point], reach: float) -> NDArray[numpy.bool_]:
    """Which of the points lie near any of the others; an array without its last axis."""
    import numpy

    at = numpy.asarray(points, dtype=float)
    if not len(others):
        return numpy.zeros(at.shape[:-1], dtype=bool)
    off = numpy.abs(at[..., None, :] - numpy.asarray(others))
    return numpy.asarray(((off[..., 0] < reach) & (off[..., 1] < reach)).any(-1))


def nearest(points: ArrayLike, spot: Point) -> NDArray[numpy.float64]:
    """Least distance of each row of points from a spot."""
    import numpy

    off = numpy.asarray(points) - numpy.asarray(spot)
    return numpy.sqrt((off * off).sum(-1)).min(-1)


def held(
    boxes: ArrayLike, points: Sequence[Point] | NDArray[numpy.float64], slack: float
) -> NDArray[numpy.intp]:
    """How many of the points lie in each box (rows of left, top, right, bottom)."""
    import numpy

    b = numpy.asarray(boxes)
    if not len(points):
        return numpy.zeros(len(b), dtype=int)
    at = numpy.asarray(points)
    least, most = b[:, :2].min(0) - slack, b[:, 2:].max(0) + slack
    at = at[((at > least) & (at < most)).all(1)]
    x, y = at[None, :, 0], at[None, :, 1]
    inside = (x > b[:, 0, None] - slack) & (x < b[:, 2, None] + slack)
    inside &= (y > b[:, 1, None] - slack) & (y < b[:, 3, None] + slack)
    return inside.sum(1)


def shared(
    boxes: Sequence[Box] | NDArray[numpy.float64], taken: Sequence[Box], slack: float
) -> NDArray[numpy.intp]:
    """How many of the taken boxes each box meets."""
    import numpy

    if not len(taken):
        return numpy.zeros(len(boxes), dtype=int)
    b, t = numpy.asarray(boxes)[:, None, :], numpy.asarray(taken)[None, :, :]
    meet = (b[..., 0] < t[..., 2] + slack) & (t[..., 0] < b[..., 2] + slack)
    meet &= (b[..., 1] < t[..., 3] + slack) & (t[..., 1] < b[..., 3] + slack)
    return meet.sum(1)
