"""Shapes as path segments: polylines, circles, Bezier curves and what one needs to know of them.

In: points on the page (points, y down). Out: `Segment` tuples for a `Path`, and lengths, cuts and
boxes of curves. Nothing here knows of paper or of signs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import pairwise

from ...geometry.lines import between
from ...geometry.remembered import remembered
from .scene import Close, Curve, Draw, Move, Path, Point, Segment, Text

#: Four cubic arcs with handles of this length (for radius 1) stay within 0.03 % of a circle.
_CIRCLE = 0.5522847498

Cubic = tuple[Point, Point, Point, Point]
Box = tuple[float, float, float, float]


def polyline(points: Sequence[Point], closed: bool = False) -> tuple[Segment, ...]:
    """Straight lines through points."""
    head: list[Segment] = [Move(points[0])]
    head.extend(Draw(p) for p in points[1:])
    if closed:
        head.append(Close())
    return tuple(head)


def circle(centre: Point, radius: float) -> tuple[Segment, ...]:
    """A full circle."""
    x, y = centre
    r, k = radius, radius * _CIRCLE
    return (
        Move((x + r, y)),
        Curve((x + r, y + k), (x + k, y + r), (x, y + r)),
        Curve((x - k, y + r), (x - r, y + k), (x - r, y)),
        Curve((x - r, y - k), (x - k, y - r), (x, y - r)),
        Curve((x + k, y - r), (x + r, y - k), (x + r, y)),
        Close(),
    )


def arc(centre: Point, radius: float, start: float, sweep: float) -> tuple[Segment, ...]:
    """Part of a circle from angle `start` over `sweep` (radians, positive turns clockwise here)."""
    pieces = max(1, math.ceil(abs(sweep) / (math.pi / 2) - 1e-9))
    step = sweep / pieces
    k = 4 / 3 * math.tan(step / 4)

    def at(a: float) -> Point:
        return (centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a))

    def ahead(a: float, by: float) -> Point:
        p = at(a)
        return (p[0] - by * radius * math.sin(a), p[1] + by * radius * math.cos(a))

    out: list[Segment] = [Move(at(start))]
    for i in range(pieces):
        a, b = start + i * step, start + (i + 1) * step
        out.append(Curve(ahead(a, k), ahead(b, -k), at(b)))
    return tuple(out)


def toward(p: Point, q: Point) -> Point:
    """Unit vector from one point to another; straight down where they are the same."""
    d = math.dist(p, q)
    return (0.0, 1.0) if d < 1e-6 else ((q[0] - p[0]) / d, (q[1] - p[1]) / d)


def curve_segments(curve: Cubic) -> tuple[Segment, ...]:
    """One Bezier curve as an open path."""
    return (Move(curve[0]), Curve(curve[1], curve[2], curve[3]))


def at(curve: Cubic, t: float) -> Point:
    """Point of a cubic Bezier curve."""
    u = 1 - t
    a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
    p, q, r, s = curve
    return (
        a * p[0] + b * q[0] + c * r[0] + d * s[0],
        a * p[1] + b * q[1] + c * r[1] + d * s[1],
    )


def part(curve: Cubic, start: float, end: float) -> Cubic:
    """The piece of a curve between two parameters."""
    return _before(_after(curve, start), (end - start) / (1 - start)) if start < 1 else curve


def _before(curve: Cubic, t: float) -> Cubic:
    a, b, c, d = curve
    ab, bc, cd = between(a, b, t), between(b, c, t), between(c, d, t)
    abc, bcd = between(ab, bc, t), between(bc, cd, t)
    return a, ab, abc, between(abc, bcd, t)


def _after(curve: Cubic, t: float) -> Cubic:
    d, c, b, a = _before((curve[3], curve[2], curve[1], curve[0]), 1 - t)
    return a, b, c, d


def samples(curve: Cubic, count: int = 24) -> list[Point]:
    """Points along a curve, ends included."""
    (px, py), (qx, qy), (rx, ry), (sx, sy) = curve
    return [
        (a * px + b * qx + c * rx + d * sx, a * py + b * qy + c * ry + d * sy)
        for a, b, c, d in _shares(count)
    ]


@cache
def _shares(count: int) -> tuple[tuple[float, float, float, float], ...]:
    """How much each point of a cubic counts, at evenly spaced parameters."""
    ts = [i / count for i in range(count + 1)]
    us = [1 - t for t in ts]
    return tuple(
        (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t) for t, u in zip(ts, us, strict=True)
    )


def length(curve: Cubic) -> float:
    """Length of a curve, to about a thousandth."""
    pts = samples(curve, 24)
    return sum(math.dist(p, q) for p, q in pairwise(pts))


def parameter_at(curve: Cubic, distance: float) -> float:
    """Parameter at a distance along the curve; negative counts from the end."""
    count = 48
    pts = samples(curve, count)
    steps = [math.dist(p, q) for p, q in pairwise(pts)]
    total = sum(steps)
    want = distance if distance >= 0 else total + distance
    want = max(0.0, min(total, want))
    run = 0.0
    for i, step in enumerate(steps):
        if run + step >= want and step > 0:
            return (i + (want - run) / step) / count
        run += step
    return 1.0


def walk(segments: Sequence[Segment]) -> Iterator[tuple[Segment, Point, Point]]:
    """Each segment with the point it starts from and the start of its subpath."""
    here = start = (0.0, 0.0)
    for s in segments:
        yield s, here, start
        if isinstance(s, Move):
            here = start = s.to
        elif isinstance(s, Close):
            here = start
        else:
            here = s.to


def path_length(segments: Sequence[Segment]) -> float:
    """Length of all strokes of a path."""
    total = 0.0
    for s, here, start in walk(segments):
        if isinstance(s, Draw):
            total += math.dist(here, s.to)
        elif isinstance(s, Curve):
            total += length((here, s.first, s.second, s.to))
        elif isinstance(s, Close):
            total += math.dist(here, start)
    return total


def subpaths(segments: Sequence[Segment]) -> list[tuple[Segment, ...]]:
    """The path cut at its `Move`s."""
    out: list[list[Segment]] = []
    for s in segments:
        if isinstance(s, Move) or not out:
            out.append([])
        out[-1].append(s)
    return [tuple(x) for x in out]


def mapped(segments: Iterable[Segment], to: Affine) -> tuple[Segment, ...]:
    """Segments carried by an affine map (a, b, c, d, e, f): x' = a x + c y + e, y' = b x + d y + f."""
    a, b, c, d, e, f = to

    def go(p: Point) -> Point:
        return (a * p[0] + c * p[1] + e, b * p[0] + d * p[1] + f)

    out: list[Segment] = []
    for s in segments:
        if isinstance(s, Move):
            out.append(Move(go(s.to)))
        elif isinstance(s, Draw):
            out.append(Draw(go(s.to)))
        elif isinstance(s, Curve):
            out.append(Curve(go(s.first), go(s.second), go(s.to)))
        else:
            out.append(s)
    return tuple(out)


Affine = tuple[float, float, float, float, float, float]


def placed_at(p: Point, towards: Point = (1.0, 0.0), size: float = 1.0) -> Affine:
    """The map that puts a glyph's origin at `p` and its x axis along the unit vector `towards`."""
    x, y = towards
    return (size * x, size * y, -size * y, size * x, p[0], p[1])


def box_of(segments: Iterable[Segment]) -> Box | None:
    """Box around a path; None for an empty one."""
    xs: list[float] = []
    ys: list[float] = []
    here = start = (0.0, 0.0)
    for s in segments:
        if isinstance(s, Close):
            here = start
            continue
        if isinstance(s, Curve):
            for k in (0, 1):  # a curve leaves the box of its ends only where a handle does
                least, most = min(here[k], s.to[k]), max(here[k], s.to[k])
                if not (least <= s.first[k] <= most and least <= s.second[k] <= most):
                    points = list(_turns((here, s.first, s.second, s.to)))
                    xs.extend(p[0] for p in points)
                    ys.extend(p[1] for p in points)
                    break
        here = s.to
        if isinstance(s, Move):
            start = here
        xs.append(here[0])
        ys.append(here[1])
    return (min(xs), min(ys), max(xs), max(ys)) if xs else None


def _turns(curve: Cubic) -> Iterator[Point]:
    """Points of a curve where it runs level or upright, and so may reach farthest."""
    for axis in (0, 1):
        p, q, r, s = (v[axis] for v in curve)
        a, b, c = s - p + 3 * (q - r), 2 * (p - 2 * q + r), q - p
        if abs(a) < 1e-9:
            roots = [-c / b] if abs(b) > 1e-9 else []
        else:
            under = b * b - 4 * a * c
            root = math.sqrt(under) if under >= 0 else None
            roots = [] if root is None else [(-b - root) / (2 * a), (-b + root) / (2 * a)]
        yield from (at(curve, t) for t in roots if 0 < t < 1)


def text_box(text: Text) -> Box:
    """Generous box around a line of text, for placing (the page measures real widths)."""
    wide = 0.58 * text.size * max(1, len(text.text))
    left = text.at[0] - {"start": 0.0, "middle": wide / 2, "end": wide}[text.anchor]
    return (left, text.at[1] - 0.78 * text.size, left + wide, text.at[1] + 0.22 * text.size)


def item_box(item: Path | Text) -> Box | None:
    """Box around an item."""
    return text_box(item) if isinstance(item, Text) else _path_box(item)


@remembered
def _path_box(path: Path) -> Box | None:
    return box_of(path.segments)


def union_box(boxes: Iterable[Box | None]) -> Box | None:
    """Box around boxes."""
    found = [b for b in boxes if b is not None]
    if not found:
        return None
    return (
        min(b[0] for b in found),
        min(b[1] for b in found),
        max(b[2] for b in found),
        max(b[3] for b in found),
    )


def shifted_box(box: Box, dx: float, dy: float) -> Box:
    """A box moved over the page."""
    return (box[0] + dx, box[1] + dy, box[2] + dx, box[3] + dy)


def shifted(item: Path | Text, dx: float, dy: float) -> Path | Text:
    """An item moved over the page."""
    if isinstance(item, Text):
        return Text(
            item.role,
            (item.at[0] + dx, item.at[1] + dy),
            item.text,
            item.size,
            item.anchor,
            item.bold,
            item.span,
        )
    moved: list[Segment] = []
    for s in item.segments:
        if isinstance(s, Move | Draw):
            moved.append(type(s)((s.to[0] + dx, s.to[1] + dy)))
        elif isinstance(s, Curve):
            (ax, ay), (bx, by), (cx, cy) = s.first, s.second, s.to
            moved.append(Curve((ax + dx, ay + dy), (bx + dx, by + dy), (cx + dx, cy + dy)))
        else:
            moved.append(s)
    return Path(item.role, tuple(moved), item.span)
