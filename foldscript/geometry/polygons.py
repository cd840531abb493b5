"""Convex polygons: splitting, overlapping, clipping.

A polygon is a tuple of points, counter-clockwise unless a function says otherwise, convex, without
repeated corners. Facets of paper are kept convex (see `foldscript.paper.state`), so these short
routines replace a general clipper where speed and exact shared corners matter.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import hypot

from .lines import Line, Point, Segment, cross, distance, line_through, subtract
from .tolerance import EPS, EPS_AREA

Polygon = tuple[Point, ...]


def area(poly: Polygon) -> float:
    """Signed area: positive when counter-clockwise."""
    total = 0.0
    px, py = poly[-1]
    for x, y in poly:
        total += px * y - x * py
        px, py = x, y
    return total / 2


def centroid(poly: Polygon) -> Point:
    """Centre of mass of the polygon's area."""
    a = cx = cy = 0.0
    ox, oy = poly[0]
    px, py = poly[-1][0] - ox, poly[-1][1] - oy
    for qx, qy in poly:
        x, y = qx - ox, qy - oy
        w = px * y - x * py
        a += w
        cx += (px + x) * w
        cy += (py + y) * w
        px, py = x, y
    if -EPS_AREA * EPS <= a <= EPS_AREA * EPS:
        n = len(poly)
        return (sum(p[0] for p in poly) / n, sum(p[1] for p in poly) / n)
    return (ox + cx / (3 * a), oy + cy / (3 * a))


def counter_clockwise(poly: Polygon) -> Polygon:
    """The polygon turned counter-clockwise (as after a reflection)."""
    return poly if area(poly) >= 0 else poly[::-1]


def tidy(points: Iterable[Point]) -> Polygon:
    """Drops repeated and collinear corners; empty when nothing of area is left."""
    out: list[Point] = []
    for p in points:
        if not out or hypot(out[-1][0] - p[0], out[-1][1] - p[1]) > EPS:
            out.append(p)
    while len(out) > 1 and distance(out[0], out[-1]) <= EPS:
        out.pop()
    changed = True
    while changed and len(out) >= 3:
        changed = False
        ax, ay = out[-1]
        bx, by = out[0]
        for i in range(len(out)):
            cx, cy = out[i + 1 - len(out)]
            x, y = cx - ax, cy - ay
            if abs((bx - ax) * y - (by - ay) * x) <= EPS * max(hypot(x, y), EPS):
                del out[i]
                changed = True
                break
            ax, ay, bx, by = bx, by, cx, cy
    if len(out) < 3 or abs(area(tuple(out))) <= EPS_AREA:
        return ()
    return tuple(out)


def edges(poly: Polygon) -> list[Segment]:
    """Sides in order; side i runs from corner i to corner i+1."""
    return list(zip(poly, poly[1:] + poly[:1], strict=True))


def split(poly: Polygon, line: Line) -> tuple[Polygon, Polygon]:
    """Parts on the left (normal's side) and on the right of a line; () where there is none.

    Corners within tolerance of the line count as on it, so no slivers arise; a tip too small to be a
    polygon stays with the rest.
    """
    nx, ny, c = line
    dist = [nx * x + ny * y - c for x, y in poly]
    if max(dist) <= EPS:
        return (), poly
    if min(dist) >= -EPS:
        return poly, ()
    left: list[Point] = []
    right: list[Point] = []
    for p, dp, q, dq in zip(poly, dist, poly[1:] + poly[:1], dist[1:] + dist[:1], strict=True):
        if dp > EPS:
            left.append(p)
        elif dp < -EPS:
            right.append(p)
        else:
            left.append(p)
            right.append(p)
        if (dp > EPS and dq < -EPS) or (dp < -EPS and dq > EPS):
            t = dp / (dp - dq)
            x = (p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t)
            left.append(x)
            right.append(x)
    parts = tidy(left), tidy(right)
    if not parts[0]:
        return (), poly
    return parts if parts[1] else (poly, ())


def clip_segment(poly: Polygon, seg: Segment) -> Segment | None:
    """Part of a segment inside the closed polygon, if longer than the tolerance."""
    (px, py), (qx, qy) = seg
    n = hypot(px - qx, py - qy)
    if n <= EPS:
        return None
    lo, hi = 0.0, 1.0
    ax, ay = poly[-1]
    for bx, by in poly:
        ex, ey = bx - ax, by - ay
        m = (ex * ex + ey * ey) ** 0.5
        dp = (ex * (py - ay) - ey * (px - ax)) / m
        dq = (ex * (qy - ay) - ey * (qx - ax)) / m
        ax, ay = bx, by
        if dp < -EPS:
            if dq < -EPS:
                return None
            t = dp / (dp - dq)
            if t > lo:
                lo = t
        elif dq < -EPS:
            t = dp / (dp - dq)
            if t < hi:
                hi = t
    if (hi - lo) * n <= EPS:
        return None
    dx, dy = qx - px, qy - py
    return (px + dx * lo, py + dy * lo), (px + dx * hi, py + dy * hi)


def clip_line(poly: Polygon, line: Line) -> Segment | None:
    """Part of a line inside the closed polygon (also along a side), if longer than the tolerance."""
    nx, ny, c = line
    off = [nx * x + ny * y - c for x, y in poly]
    if min(off) > EPS or max(off) < -EPS:
        return None
    ox, oy = poly[0]
    d = off[0]
    reach = 1.0 + max([hypot(ox - x, oy - y) for x, y in poly]) + abs(d)
    x, y = ox - d * nx, oy - d * ny
    dx, dy = ny * reach, -nx * reach
    return clip_segment(poly, ((x - dx, y - dy), (x + dx, y + dy)))


def inside(poly: Polygon, p: Point, slack: float = EPS) -> bool:
    """Whether p lies in the closed polygon."""
    x, y = p
    ax, ay = poly[-1]
    for bx, by in poly:
        ex, ey = bx - ax, by - ay
        if (ex * (y - ay) - ey * (x - ax)) / (ex * ex + ey * ey) ** 0.5 < -slack:
            return False
        ax, ay = bx, by
    return True


def strictly_inside(poly: Polygon, p: Point) -> bool:
    """Whether p lies in the polygon, off its boundary."""
    return depth(poly, p) > EPS


def depth(poly: Polygon, p: Point) -> float:
    """Signed distance to the nearest side line, positive inside."""
    best = float("inf")
    ax, ay = poly[-1]
    for bx, by in poly:
        ex, ey = bx - ax, by - ay
        d = (ex * (p[1] - ay) - ey * (p[0] - ax)) / (ex * ex + ey * ey) ** 0.5
        if d < best:
            best = d
        ax, ay = bx, by
    return best


def overlap(p: Polygon, q: Polygon) -> bool:
    """Whether two convex polygons share area (more than a touch)."""
    return not (_separated(p, q) or _separated(q, p))


def _separated(p: Polygon, q: Polygon) -> bool:
    ax, ay = p[-1]
    for bx, by in p:
        ex, ey = bx - ax, by - ay
        limit = EPS * (ex * ex + ey * ey) ** 0.5
        for x, y in q:
            if ex * (y - ay) - ey * (x - ax) > limit:
                break
        else:
            return True
        ax, ay = bx, by
    return False


def intersection(p: Polygon, q: Polygon) -> Polygon:
    """Common part of two convex polygons; () when they only touch."""
    if not overlap(p, q):
        return ()
    out = p
    for a, b in edges(q):
        out = split(out, line_through(a, b))[0]
        if not out:
            return ()
    return out


def joined(p: Polygon, q: Polygon) -> Polygon:
    """Union of two convex polygons that share one whole side, if it is convex; else ()."""
    n, m = len(p), len(q)
    for i in range(n):
        a, b = p[i], p[(i + 1) % n]
        for j in range(m):
            if distance(q[j], b) <= EPS and distance(q[(j + 1) % m], a) <= EPS:
                ring = [p[(i + 1 + k) % n] for k in range(n)]
                ring += [q[(j + 2 + k) % m] for k in range(m - 2)]
                return tidy(ring) if _convex(ring) else ()
    return ()


def _convex(ring: list[Point]) -> bool:
    n = len(ring)
    for i in range(n):
        a, b, c = ring[i - 1], ring[i], ring[(i + 1) % n]
        u, v = subtract(b, a), subtract(c, b)
        if cross(u, v) < -EPS * (distance(a, b) + distance(b, c)):
            return False
    return True


def half_plane_extent(poly: Polygon, line: Line) -> tuple[float, float]:
    """Least and greatest signed distance of the polygon's corners from a line."""
    nx, ny, c = line
    dist = [nx * x + ny * y - c for x, y in poly]
    return min(dist), max(dist)


def bounds(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """(least x, least y, greatest x, greatest y)."""
    pts = list(points)
    xs = [p[0] for p in pts]
    ys = [p[1] for p in pts]
    return min(xs), min(ys), max(xs), max(ys)
