"""Where an arrow runs.

In: its ends on the page, the paper's silhouette and what should not be covered. Out: a cubic Bezier
curve. Several arcs are tried, and the one that stays clear of the paper, of fold lines, landmarks
and other arrows is taken; mirrored pairs come out mirrored.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from .outlines import Box, Cubic, samples
from .scene import Point

#: Rise of the arc as a part of the distance between its ends.
_RISES = (0.2, 0.28, 0.38, 0.5)
#: Ends closer than this (points) get an arc that swings out, so that the arrow still reads.
SHORT = 17.0
#: Room taken by a landmark, a fold line and another arrow (points).
_CLEAR_OF_MARK, _CLEAR_OF_CORNER, _CLEAR_OF_FOLD, _CLEAR_OF_ARROW = 6.0, 9.0, 2.2, 5.0


@dataclass
class Surroundings:
    """What an arrow has to mind. `arrows` and `routed` (tail, head, rise) grow as arrows are drawn.

    silhouette, edges : the paper as drawn; box : where ink may go; folds, marks, arrows : points
    """

    silhouette: Any
    box: Box
    edges: Any = None
    folds: list[Point] = field(default_factory=list)
    marks: list[Point] = field(default_factory=list)
    arrows: list[Point] = field(default_factory=list)
    routed: list[tuple[Point, Point, float]] = field(default_factory=list)

    def __post_init__(self) -> None:
        import shapely

        hull = shapely.get_coordinates(shapely.simplify(self.silhouette, 1.0))
        self.corners: list[Point] = [(float(x), float(y)) for x, y in hull]

    def covers(self, points: Iterable[Point]) -> list[bool]:
        """Whether each point lies on the paper."""
        import shapely

        pts = list(points)
        return [
            bool(x)
            for x in shapely.contains_xy(self.silhouette, [p[0] for p in pts], [p[1] for p in pts])
        ]

    def under(self, boxes: Sequence[Box]) -> tuple[list[float], list[bool]]:
        """What part of each box lies on the paper, and whether an edge of the paper crosses it."""
        import shapely

        shapes = [shapely.box(*box) for box in boxes]
        areas = shapely.area(shapely.intersection(shapes, self.silhouette))
        whole = shapely.area(shapes)
        crossed = (
            [False] * len(boxes) if self.edges is None else shapely.intersects(shapes, self.edges)
        )
        return [float(a / w) for a, w in zip(areas, whole, strict=True)], [bool(c) for c in crossed]


def route(tail: Point, head: Point, around: Surroundings) -> Cubic:
    """The best arc from `tail` to `head`; one that mirrors an earlier arrow bulges as its twin does."""
    twin = next((r for t, h, r in around.routed if _mirrored(t, h, tail, head)), None)
    rises = [side * rise for rise in _RISES for side in (1.0, -1.0)] if twin is None else [-twin]
    candidates = [arc_between(tail, head, rise) for rise in rises]
    costs = [_cost(c, tail, head, around) for c in candidates]
    best = min(range(len(candidates)), key=lambda k: (round(costs[k], 4), k))
    around.routed.append((tail, head, rises[best]))
    return candidates[best]


def _mirrored(tail: Point, head: Point, other_tail: Point, other_head: Point) -> bool:
    """Whether a reflection carries one pair of points onto the other (to about a point).

    Arrows that would cross are no pair: two creases across each other, not two flaps.
    """
    if _cross(tail, head, other_tail, other_head):
        return False
    tx, ty = other_tail[0] - tail[0], other_tail[1] - tail[1]
    hx, hy = other_head[0] - head[0], other_head[1] - head[1]
    ax = (other_head[0] + head[0] - other_tail[0] - tail[0]) / 2
    ay = (other_head[1] + head[1] - other_tail[1] - tail[1]) / 2
    n = math.hypot(ax, ay)
    if n < 3.0:  # the axis is then square to what joins the tails
        same = math.hypot(tx - hx, ty - hy) < 1.5 and math.hypot(tx, ty) > 3.0
        along = abs((head[0] - tail[0]) * tx + (head[1] - tail[1]) * ty)
        return same and along < 1.5 * math.hypot(tx, ty)
    return abs(tx * ax + ty * ay) < 1.5 * n and abs(hx * ax + hy * ay) < 1.5 * n


def _cross(p: Point, q: Point, r: Point, s: Point) -> bool:
    """Whether two segments cross well inside both."""

    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    return side(p, q, r) * side(p, q, s) < -1.0 and side(r, s, p) * side(r, s, q) < -1.0


def arc_between(tail: Point, head: Point, rise: float) -> Cubic:
    """An arc that rises to the left of its chord (as seen on the page) for positive `rise`."""
    dx, dy = head[0] - tail[0], head[1] - tail[1]
    n = math.hypot(dx, dy)
    if n < 1e-6:
        dx, dy, n = 1.0, 0.0, 1.0
    ux, uy = dx / n, dy / n
    nx, ny = uy, -ux
    if n >= SHORT:
        lift, ahead = rise * n * 4 / 3, 0.24 * n
    else:  # swing out: arms that leave the ends nearly square to the chord
        lift, ahead = math.copysign((13.0 + 14.0 * abs(rise)), rise), -0.12 * (SHORT - n)
    first = (tail[0] + ahead * ux + lift * nx, tail[1] + ahead * uy + lift * ny)
    second = (head[0] - ahead * ux + lift * nx, head[1] - ahead * uy + lift * ny)
    return tail, first, second, head


def _cost(curve: Cubic, tail: Point, head: Point, around: Surroundings) -> float:
    pts = samples(curve, 24)
    middle = pts[3:-3]
    inside = sum(around.covers(middle)) / len(middle)
    cost = 1.0 * inside
    for mark in around.marks:
        if math.dist(mark, tail) > 5 and math.dist(mark, head) > 5:
            near = min(math.dist(mark, p) for p in pts)
            cost += 0.5 * max(0.0, 1 - near / _CLEAR_OF_MARK)
    for corner in around.corners:
        if math.dist(corner, tail) > 8 and math.dist(corner, head) > 8:
            near = min(math.dist(corner, p) for p in pts)
            cost += 0.35 * max(0.0, 1 - near / _CLEAR_OF_CORNER)
    cost += 1.6 * _near(middle, around.folds, _CLEAR_OF_FOLD)
    cost += 2.6 * _near(middle, around.arrows, _CLEAR_OF_ARROW)
    x0, y0, x1, y1 = around.box
    out = max(max(x0 - p[0], p[0] - x1, y0 - p[1], p[1] - y1, 0.0) for p in pts)
    cost += 0.4 * out
    n = math.dist(tail, head)
    top = pts[len(pts) // 2]
    mid = ((tail[0] + head[0]) / 2, (tail[1] + head[1]) / 2)
    rise = math.dist(top, mid) / max(n, 1.0)
    if n >= SHORT:
        cost += 1.1 * abs(rise - 0.27 - 0.25 * max(0.0, 1 - n / 42))
    # a slight liking for arcs away from the figure's middle, then upward, then to the right
    away = (top[0] - mid[0]) * mid[0] + (top[1] - mid[1]) * mid[1]
    scale = max(1.0, math.dist(top, mid)) * max(1.0, math.hypot(*mid))
    cost -= 0.15 * away / scale
    cost += 0.12 * (top[1] - mid[1]) / max(1.0, math.dist(top, mid))
    cost -= 0.02 * (top[0] - mid[0]) / max(1.0, math.dist(top, mid))
    return cost


def _near(points: list[Point], others: list[Point], reach: float) -> float:
    """Part of the points that lie near any of the others."""
    if not others:
        return 0.0
    hits = sum(
        1 for x, y in points if any(abs(x - p) < reach and abs(y - q) < reach for p, q in others)
    )
    return hits / len(points)
