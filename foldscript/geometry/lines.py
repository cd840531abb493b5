"""Points, segments and lines.

A point is `(x, y)`, a segment a pair of points, a line a unit normal and an offset. Lengths are in
sheet units (see `tolerance`).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from .tolerance import EPS, is_zero, same_point

Point = tuple[float, float]
Segment = tuple[Point, Point]


class Line(NamedTuple):
    """All points p with `nx*px + ny*py = c`; (nx, ny) has length 1 and points to the left side."""

    nx: float
    ny: float
    c: float

    @property
    def direction(self) -> Point:
        """Unit vector along the line, with the normal on its left."""
        return (self.ny, -self.nx)


def add(p: Point, q: Point) -> Point:
    return (p[0] + q[0], p[1] + q[1])


def subtract(p: Point, q: Point) -> Point:
    return (p[0] - q[0], p[1] - q[1])


def scale(p: Point, k: float) -> Point:
    return (p[0] * k, p[1] * k)


def dot(p: Point, q: Point) -> float:
    return p[0] * q[0] + p[1] * q[1]


def cross(p: Point, q: Point) -> float:
    return p[0] * q[1] - p[1] * q[0]


def length(p: Point) -> float:
    return math.hypot(p[0], p[1])


def distance(p: Point, q: Point) -> float:
    return math.hypot(p[0] - q[0], p[1] - q[1])


def unit(p: Point) -> Point:
    """Unit vector along p; p must not be zero."""
    n = math.hypot(p[0], p[1])
    return (p[0] / n, p[1] / n)


def between(p: Point, q: Point, t: float) -> Point:
    """The point at fraction t of the way from p to q."""
    return (p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t)


def midpoint(p: Point, q: Point) -> Point:
    return ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)


def line_through(p: Point, q: Point) -> Line:
    """Line from p to q, its normal on the left; ValueError when the points coincide."""
    if same_point(p, q):
        raise ValueError("two coinciding points do not fix a line")
    dx, dy = unit(subtract(q, p))
    return Line(-dy, dx, -dy * p[0] + dx * p[1])


def line_at(p: Point, direction: Point) -> Line:
    """Line through p along a direction vector."""
    dx, dy = unit(direction)
    return Line(-dy, dx, -dy * p[0] + dx * p[1])


def flipped(line: Line) -> Line:
    """The same line with its sides exchanged."""
    return Line(-line.nx, -line.ny, -line.c)


def signed_distance(line: Line, p: Point) -> float:
    """Positive on the normal's side."""
    return line.nx * p[0] + line.ny * p[1] - line.c


def on_line(line: Line, p: Point) -> bool:
    return is_zero(line.nx * p[0] + line.ny * p[1] - line.c)


def foot(line: Line, p: Point) -> Point:
    """Nearest point of the line."""
    d = signed_distance(line, p)
    return (p[0] - d * line.nx, p[1] - d * line.ny)


def mirrored(line: Line, p: Point) -> Point:
    """Reflection of p in the line."""
    d = 2 * signed_distance(line, p)
    return (p[0] - d * line.nx, p[1] - d * line.ny)


def parallel(a: Line, b: Line) -> bool:
    return is_zero(a.nx * b.ny - a.ny * b.nx)


def same_line(a: Line, b: Line) -> bool:
    """Whether two lines coincide, whichever way they face (for points within a few sheet units)."""
    if not is_zero(a.nx * b.ny - a.ny * b.nx):
        return False
    facing = 1.0 if a.nx * b.nx + a.ny * b.ny > 0 else -1.0
    return is_zero(a.c - facing * b.c)


def meet(a: Line, b: Line) -> Point | None:
    """Where two lines cross; None when they are parallel."""
    det = a.nx * b.ny - a.ny * b.nx
    if is_zero(det):
        return None
    return ((a.c * b.ny - b.c * a.ny) / det, (a.nx * b.c - b.nx * a.c) / det)


def perpendicular_at(line: Line, p: Point) -> Line:
    """Perpendicular to the line through p."""
    return line_at(p, (line.nx, line.ny))


def parallel_at(line: Line, p: Point) -> Line:
    return Line(line.nx, line.ny, line.nx * p[0] + line.ny * p[1])


def perpendicular_bisector(p: Point, q: Point) -> Line:
    """The crease that brings p to q; its left side holds q. ValueError when they coincide."""
    if same_point(p, q):
        raise ValueError("two coinciding points have no bisector")
    nx, ny = unit(subtract(q, p))
    m = midpoint(p, q)
    return Line(nx, ny, nx * m[0] + ny * m[1])


def point_on_segment(seg: Segment, p: Point, slack: float = EPS) -> bool:
    """Whether p lies on the closed segment."""
    a, b = seg
    n = distance(a, b)
    if n <= slack:
        return distance(a, p) <= slack
    ux, uy = (b[0] - a[0]) / n, (b[1] - a[1]) / n
    t = (p[0] - a[0]) * ux + (p[1] - a[1]) * uy
    off = (p[1] - a[1]) * ux - (p[0] - a[0]) * uy
    return -slack <= t <= n + slack and -slack <= off <= slack


def segment_distance(seg: Segment, p: Point) -> float:
    """How far p is from the nearest place of the closed segment."""
    way = subtract(seg[1], seg[0])
    long = dot(way, way)
    t = dot(subtract(p, seg[0]), way) / long if long > 0 else 0.0
    return distance(p, add(seg[0], scale(way, min(1.0, max(0.0, t)))))


def total_length(segments: Iterable[Segment]) -> float:
    """How long all segments are together."""
    return sum(distance(*segment) for segment in segments)


def overlap_of(s: Segment, t: Segment) -> Segment | None:
    """Common part (longer than the tolerance) of two collinear segments, in the direction of s."""
    (a, b), (c, d) = s, t
    n = distance(a, b)
    if n <= EPS:
        return None
    ux, uy = (b[0] - a[0]) / n, (b[1] - a[1]) / n
    if not is_zero((c[1] - a[1]) * ux - (c[0] - a[0]) * uy):
        return None
    if not is_zero((d[1] - a[1]) * ux - (d[0] - a[0]) * uy):
        return None
    tc = (c[0] - a[0]) * ux + (c[1] - a[1]) * uy
    td = (d[0] - a[0]) * ux + (d[1] - a[1]) * uy
    lo, hi = max(0.0, min(tc, td)), min(n, max(tc, td))
    if hi - lo <= EPS:
        return None
    return (a[0] + ux * lo, a[1] + uy * lo), (a[0] + ux * hi, a[1] + uy * hi)
