"""Where an arrow runs.

In: its ends on the page, the paper's silhouette and what should not be covered. Out: a cubic Bezier
curve. Several arcs are tried, and the one that stays clear of the paper, of fold lines, landmarks
and other arrows is taken; mirrored pairs come out mirrored. An arrow that goes behind the paper is
to be seen going there: it starts in front or outside and ends under the paper.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from itertools import combinations
from typing import TYPE_CHECKING

from ..scene.outlines import Cubic
from ..scene.scene import Point
from .obstacles import Obstacles, near, nearest

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

#: Rise of the arc as a part of the distance between its ends.
_RISES = (0.14, 0.2, 0.28, 0.38, 0.5)
#: Ends closer than this (points) get an arc that swings out, so that the arrow still reads.
SHORT = 17.0
#: Room taken by the start of another arrow (points).
_CLEAR_OF_START = 11.0
#: Room taken by a landmark, a corner, a fold line and another arrow (points).
_CLEAR_OF_MARK, _CLEAR_OF_CORNER, _CLEAR_OF_FOLD, _CLEAR_OF_ARROW = 6.5, 9.0, 2.2, 5.0
#: Nearer than this (points) an arrow looks as if it ran along the paper's edge.
_CLEAR_OF_EDGE = 1.8
#: What it costs to cross a row of lengths.
_OVER_ROW = 0.3
_SAMPLES = 24
#: Two arrows come from one side where the sum of their directions is longer than this; how far to either side
#: their heads then stand (points).
_FROM_ONE_SIDE, _BESIDE = 0.8, 3.7
#: How far arrows from edge to edge that would cross in the middle are moved, as a part of their length.
_ASIDE = 0.2


def route(
    tail: Point,
    head: Point,
    around: Obstacles,
    behind: bool = False,
    highest: float = math.inf,
    given: Sequence[float] = (),
) -> Cubic:
    """The best arc from `tail` to `head`; one that mirrors an earlier arrow bulges as its twin does.

    `highest` is the most that it may rise, as a part of its length; `given` are all rises to choose from.
    """
    rises = list(given) or _rises(tail, head, around)
    rises = [r for r in rises if abs(r) <= highest] or rises
    candidates = [arc_between(tail, head, rise) for rise in rises]
    best = 0
    if len(rises) > 1:
        costs = _costs(candidates, tail, head, around, behind)
        best = min(range(len(candidates)), key=lambda k: (round(float(costs[k]), 4), k))
    around.routed.append((tail, head, rises[best]))
    return candidates[best]


def as_twin(tail: Point, head: Point, around: Obstacles, given: Sequence[float]) -> list[float]:
    """Of given rises the one that an earlier arrow has, turned round, moved or mirrored; all where there is
    none.
    """
    for t, h, r in around.routed:
        turned = math.dist((t[0] + tail[0], t[1] + tail[1]), (h[0] + head[0], h[1] + head[1])) < 3.0
        moved = math.dist((t[0] + head[0], t[1] + head[1]), (h[0] + tail[0], h[1] + tail[1])) < 3.0
        twin = -r if _mirrored(t, h, tail, head) else r if turned or moved else None
        if twin is not None and twin in given:
            return [twin]
    return list(given)


def apart(ways: Sequence[tuple[Point, Point]], around: Obstacles) -> list[tuple[Point, Point]]:
    """The same arrows, or where two cross that lead from edge to edge, nearer to the edges' ends.

    There they leave the ends of each other's fold lines free, and cross where nothing else is. Two that come
    to one place amid the paper from one side end beside each other.
    """
    out = list(ways)
    for j, k in combinations(range(len(ways)), 2):
        if _cross(*ways[j], *ways[k]):
            moved = [_along_edges(ways[i], ways[j + k - i], around) for i in (j, k)]
            if moved[0] is not None and moved[1] is not None:
                out[j], out[k] = moved[0], moved[1]
    for j, k in combinations(range(len(ways)), 2):
        head = out[j][1]
        here = [way for way in out if math.dist(way[1], head) < 3.0]
        if len(here) == 2 and math.dist(out[k][1], head) < 3.0 and around.within(head, 2 * _BESIDE):
            out[j], out[k] = _side_by_side(out[j], out[k])
    return out


def _side_by_side(
    one: tuple[Point, Point], other: tuple[Point, Point]
) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """Two arrows that come to one place from one side, their heads beside each other."""
    (ax, ay), (bx, by) = (_direction(head, tail) for tail, head in (one, other))
    n = math.hypot(ax + bx, ay + by)
    if n < _FROM_ONE_SIDE:
        return one, other
    sx, sy = -(ay + by) / n, (ax + bx) / n  # across the way that both come
    if sx * (ax - bx) + sy * (ay - by) < 0:
        sx, sy = -sx, -sy
    moved = [
        (tail, (x + side * _BESIDE * sx, y + side * _BESIDE * sy))
        for side, (tail, (x, y)) in ((1.0, one), (-1.0, other))
    ]
    return moved[0], moved[1]


def _direction(p: Point, q: Point) -> Point:
    n = math.dist(p, q) or 1.0
    return ((q[0] - p[0]) / n, (q[1] - p[1]) / n)


def _along_edges(
    way: tuple[Point, Point], other: tuple[Point, Point], around: Obstacles
) -> tuple[Point, Point] | None:
    """An arrow moved sideways towards the head of another, as far as both its ends stay on edges."""
    import shapely

    if around.edges is None:
        return None
    (tx, ty), (hx, hy) = way
    n = math.dist(*way)
    if n < SHORT:
        return None
    sx, sy = -(hy - ty) / n, (hx - tx) / n
    if (other[1][0] - tx) * sx + (other[1][1] - ty) * sy < 0:
        sx, sy = -sx, -sy
    for far in (_ASIDE * n, 0.12 * n):
        found = ((tx + far * sx, ty + far * sy), (hx + far * sx, hy + far * sy))
        on = shapely.distance(shapely.points(found), around.edges)
        if bool((on < 2.5).all()):
            return found
    return None


def _rises(tail: Point, head: Point, around: Obstacles) -> list[float]:
    """How far an arrow may rise, to either side; one rise where others settle it."""
    both = [side * rise for rise in _RISES for side in (1.0, -1.0)]
    others = [
        way
        for way in zip(around.starts, around.landings, strict=False)
        if math.dist(way[0], tail) > 3.0
    ]
    together = sum(math.dist(p, head) < 3.0 for p in around.landings) > 2
    if together and _from_all_sides(head, around):  # these turn all the same way
        first = next((r for _, h, r in around.routed if math.dist(h, head) < 3.0), None)
        return both if first is None else [first]
    if sum(_on_way(start, tail, head) for start, _ in others) > 1:  # where it leads, others part
        return [0.0]
    for t, h, r in around.routed:
        if _mirrored(t, h, tail, head):
            return [-r]
        if math.dist(t, head) < 3.0 and math.dist(h, tail) < 3.0:  # there and back: on either side
            aside = [rise for rise in both if rise * r > 0]
            return [rise for rise in aside if _has_room(tail, head, rise, around)] or both
    across = next((r for t, h, r in around.routed if _cross(t, h, tail, head)), None)
    if across is not None:
        return [-across]
    if any(_cross(tail, head, *other) for other in others):  # nearly straight, and outwards
        x, y = tail[0] + head[0], tail[1] + head[1]
        out = x * (head[1] - tail[1]) - y * (head[0] - tail[0])
        return [r for r in both[:4] if abs(out) < 1.0 or r * out > 0]
    if together and not any(_mirrored(tail, head, *other) for other in others):
        return both[:4]  # between others: nearly straight
    return both


def _has_room(tail: Point, head: Point, rise: float, around: Obstacles) -> bool:
    """Whether the paper and an arrow that rises so go into the frame together."""
    import numpy

    if around.edges is None:
        return True
    at = _basis() @ numpy.array(arc_between(tail, head, rise))
    paper, frame = around.edges.bounds, around.box
    low, high = at.min(0), at.max(0)
    return all(
        max(paper[k + 2], high[k]) - min(paper[k], low[k]) <= frame[k + 2] - frame[k]
        for k in range(2)
    )


def _on_way(p: Point, tail: Point, head: Point) -> bool:
    """Whether a place lies on the straight way of an arrow, well within it."""
    n = math.dist(tail, head)
    return max(math.dist(p, tail), math.dist(p, head)) < 0.8 * n and (
        math.dist(p, tail) + math.dist(p, head) < n + 0.5
    )


def _from_all_sides(head: Point, around: Obstacles) -> bool:
    """Whether more than two arrows come to a place, from all round it."""
    tails = [
        start
        for start, end in zip(around.starts, around.landings, strict=False)
        if math.dist(end, head) < 3.0
    ]
    if len(tails) < 3:
        return False
    off = (sum(x for x, _ in tails) / len(tails), sum(y for _, y in tails) / len(tails))
    return math.dist(off, head) < 0.5 * max(math.dist(p, head) for p in tails)


def with_twins_first(ways: Sequence[tuple[Point, Point]]) -> list[int]:
    """The order in which arrows look for their ways: mirrored pairs, then those that stand alone."""

    def alone(k: int) -> bool:
        return not any(_mirrored(*ways[k], *other) for j, other in enumerate(ways) if j != k)

    return sorted(range(len(ways)), key=alone)


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


@cache
def _basis() -> NDArray[numpy.float64]:
    """Weights of the four points of a cubic at evenly spaced parameters."""
    import numpy

    t = numpy.linspace(0.0, 1.0, _SAMPLES + 1)[:, None]
    u = 1 - t
    return numpy.hstack([u**3, 3 * u * u * t, 3 * u * t * t, t**3])


def _costs(
    curves: list[Cubic], tail: Point, head: Point, around: Obstacles, behind: bool
) -> NDArray[numpy.float64]:
    """What speaks against each arc."""
    import numpy

    at = _basis() @ numpy.array(curves)
    middle = at[:, 3:-3]
    covered = around.on_paper(at)
    half = _SAMPLES // 2
    if behind:
        # the first half is to be seen, the second to run under the paper
        hidden = covered[:, half + 1 : -1].mean(1)
        cost = 0.5 * covered[:, 3:half].mean(1) + 1.8 * numpy.maximum(0.0, 0.7 - hidden)
    else:
        cost = covered[:, 3:-3].mean(1)
    for mark in around.marks:
        if math.dist(mark, tail) > 5 and math.dist(mark, head) > 5:
            cost = cost + 0.6 * numpy.maximum(0.0, 1 - nearest(at, mark) / _CLEAR_OF_MARK)
    for start in around.starts:
        if math.dist(start, tail) > 5 and math.dist(start, head) > 5:
            cost = cost + 1.6 * numpy.maximum(0.0, 1 - nearest(at, start) / _CLEAR_OF_START)
    for start, end in zip(around.starts, around.landings, strict=False):
        apart = math.dist(start, tail) > 3 or math.dist(end, head) > 3
        if apart and not _cross(tail, head, start, end):
            cost = cost + 0.5 * _across(at, start, end)
    for row in around.rows:
        cost = cost + _OVER_ROW * _across(at, *row)
    if not behind:
        for corner in around.corners:
            if math.dist(corner, tail) > 8 and math.dist(corner, head) > 8:
                cost = cost + 0.35 * numpy.maximum(0.0, 1 - nearest(at, corner) / _CLEAR_OF_CORNER)
    cost = cost + 1.2 * around.beside_outline(middle, _CLEAR_OF_EDGE).mean(1)
    cost = cost + 1.6 * near(middle, around.folds, _CLEAR_OF_FOLD).mean(1)
    cost = cost + 2.6 * near(middle, around.arrows, _CLEAR_OF_ARROW).mean(1)
    x0, y0, x1, y1 = around.box
    out = numpy.maximum(
        numpy.maximum(x0 - at[..., 0], at[..., 0] - x1),
        numpy.maximum(y0 - at[..., 1], at[..., 1] - y1),
    ).max(1)
    cost = cost + 0.4 * numpy.maximum(0.0, out)
    mid = numpy.array([(tail[0] + head[0]) / 2, (tail[1] + head[1]) / 2])
    n = math.dist(tail, head)
    bulge = at[:, half] - mid
    high = numpy.maximum(1.0, numpy.hypot(bulge[:, 0], bulge[:, 1]))
    for start, end in zip(around.starts, around.landings, strict=False):
        aside = numpy.array([(start[0] + end[0]) / 2, (start[1] + end[1]) / 2]) - mid
        far = float(numpy.hypot(*aside))
        if far > 3 and _mirrored(start, end, tail, head):  # the twin will bulge as far this way
            cost = cost + 1.2 * (bulge @ aside > far * (far / 2 - 3.0))
        between = math.dist(end, head)
        if (
            3.0 < between < 2 * _BESIDE + 1.0 and far > 3
        ):  # heads beside each other: each on its side
            way = numpy.array([end[0] - head[0], end[1] - head[1]]) / between
            past = (at - numpy.array(head)) @ way > between / 2
            cost = cost + 1.6 * past.any(1)
    if n >= SHORT:
        wanted = 0.27 + 0.25 * max(0.0, 1 - n / 42)
        cost = cost + 1.1 * numpy.abs(high / n - wanted)
        cost = cost + 2.0 * numpy.maximum(0.0, high / n - wanted - 0.12)  # no larger than the move
    # a slight liking for arcs away from the figure's middle, then upward, then to the right
    cost = cost - 0.15 * (bulge @ mid) / (high * max(1.0, float(numpy.hypot(*mid))))
    cost = cost + 0.12 * bulge[:, 1] / high - 0.02 * bulge[:, 0] / high
    hinge = _hinge(tail, head, around)
    if hinge is not None and around.within((float(mid[0]), float(mid[1])), 7.0):
        lean = numpy.array(hinge) - mid
        aside = float(numpy.hypot(*lean))
        if aside > 0.14 * n:
            cost = cost - 0.3 * (bulge @ lean) / (high * aside)
    return cost


def _across(at: NDArray[numpy.float64], start: Point, end: Point) -> NDArray[numpy.intp]:
    """How often each row of points changes sides of a straight line."""
    import numpy

    dx, dy = end[0] - start[0], end[1] - start[1]
    n2 = max(1e-9, dx * dx + dy * dy)
    x, y = at[..., 0] - start[0], at[..., 1] - start[1]
    side = numpy.sign(x * dy - y * dx)
    along = (x * dx + y * dy) / n2
    within = (along[:, 1:] > 0.0) & (along[:, 1:] < 1.0)
    return ((side[:, 1:] != side[:, :-1]) & within).sum(1)


def _hinge(tail: Point, head: Point, around: Obstacles) -> Point | None:
    """Middle of the fold line about which the tail lands on the head: there the flap is."""
    x = y = total = 0.0
    for p, q in around.strokes:
        if all(abs(math.dist(e, tail) - math.dist(e, head)) < 3.0 for e in (p, q)):
            n = math.dist(p, q)
            x, y, total = x + n * (p[0] + q[0]) / 2, y + n * (p[1] + q[1]) / 2, total + n
    return (x / total, y / total) if total > 1.0 else None
