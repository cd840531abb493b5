"""The way of an arrow over the page, and what any arrow is made of along it.

In: where an arrow begins and ends, and what lies around. Out: a `Way`: the routed curve, cut short of the
points that it speaks of, and `Path`s along it. A shaft is dotted where the paper lies in front of it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..scene.heads import LENGTH, half_head, solid_head
from ..scene.outlines import (
    Cubic,
    at,
    curve_segments,
    length,
    parameter_at,
    part,
    samples,
)
from ..scene.scene import Path, Point
from ..scene.shafts import heading, shortened
from .obstacles import Obstacles
from .routes import arc_between, route

#: Clearance between an arrow and the points it speaks of; where many edges meet, more.
_TAIL_GAP, _HEAD_GAP, _RING_GAP = 1.6, 1.6, 4.0
_CROWDED, _WIDE_RING_GAP = 3.4, 5.6
#: How much farther a head stays off its landing place because others come there too; and where nothing else
#: tells two creases apart, with how far such arrows rise, as a part of their length.
_MEETING, _CLEAR, _FLAT = 2.6, 4.8, (0.14, 0.2)


@dataclass(frozen=True)
class Way:
    """A routed arrow: the curve, whether it bulges to the left as seen on the page, what lies around."""

    curve: Cubic
    left: bool
    around: Obstacles

    @property
    def size(self) -> float:
        """Of its head: heads of short arrows are a little smaller."""
        return min(1.0, max(0.68, length(self.curve) / 24))

    @property
    def tip(self) -> Point:
        """Where its head ends."""
        return self.curve[3]

    @property
    def heading(self) -> Point:
        """Direction of its head."""
        return heading(self.curve, LENGTH * self.size)

    @property
    def solid_head(self) -> Path:
        """A two-sided solid head at its end."""
        return solid_head(self.tip, self.heading, self.size)

    @property
    def half_head(self) -> Path:
        """A one-sided head at its end."""
        return half_head(self.tip, self.heading, self.left, self.size)

    @property
    def solid_arrow(self) -> list[Path]:
        """A plain shaft with a solid head."""
        return [stroke(shortened(self.curve, 5.6 * self.size)), self.solid_head]


def way(
    tail: Point,
    head: Point,
    around: Obstacles,
    behind: bool = False,
    highest: float = math.inf,
    clear: bool = False,
    given: Sequence[float] = (),
) -> Way:
    """The best way for an arrow; `around.arrows` learns where it runs.

    behind : whether it ends behind the paper; highest : the most that it may rise, as a part of its length;
    clear : whether its head keeps well clear of others that lead to the same place, and comes in flat there;
    given : all rises to choose from, where the arrow itself says
    """
    here = sum(math.dist(p, head) < 3.0 for p in around.landings)
    given = given or (_flat(tail, head, around) if clear and here == 2 else ())
    whole = route(tail, head, around, behind=behind, highest=highest, given=given)
    curve = trimmed(
        whole,
        _gap(tail, around, _TAIL_GAP),
        _gap(head, around, _CROWDED if around.crowded(head) else _HEAD_GAP)
        + (here > 1) * (_CLEAR if clear else _MEETING),
    )
    around.arrows.extend(points_along(curve))
    return Way(curve, _bulges_left(curve), around)


def _gap(end: Point, around: Obstacles, without_ring: float) -> float:
    """How far an arrow keeps off a point that it leaves or comes to."""
    if any(math.dist(m, end) < 2 for m in around.wide):
        return _WIDE_RING_GAP
    return _RING_GAP if any(math.dist(m, end) < 2 for m in around.marks) else without_ring


def _flat(tail: Point, head: Point, around: Obstacles) -> tuple[float, ...]:
    """How far an arrow may rise whose head is to face that of another, rather than to lie beside it."""
    others = [
        start
        for start, end in zip(around.starts, around.landings, strict=False)
        if math.dist(end, head) < 3.0 and math.dist(start, tail) > 3.0
    ]
    far = max(others, key=lambda start: math.dist(start, tail), default=head)
    (ux, uy), _ = unit(tail, far)
    facing: list[float] = []
    for side in (1.0, -1.0):
        x, y = heading(arc_between(tail, head, side * _FLAT[0]))
        facing.append(x * ux + y * uy)
    if abs(facing[0] - facing[1]) < 0.1:
        return tuple(side * rise for rise in _FLAT for side in (1.0, -1.0))
    side = 1.0 if facing[0] > facing[1] else -1.0
    return tuple(side * rise for rise in _FLAT)


def points_along(curve: Cubic) -> list[Point]:
    """Points along a curve, close to each other."""
    return samples(curve, max(8, math.ceil(length(curve) / 3.2)))


def points_between(p: Point, q: Point) -> list[Point]:
    """Points along a straight line, its ends included."""
    return [(p[0] + (q[0] - p[0]) * k / 8, p[1] + (q[1] - p[1]) * k / 8) for k in range(9)]


def trimmed(curve: Cubic, start: float, end: float) -> Cubic:
    """A curve that is so much shorter at its start and its end, less where little would be left."""
    n = length(curve)
    keep = max(1.0, n - start - end) if n > start + end else n
    k = (n - keep) / (start + end)
    return part(curve, parameter_at(curve, start * k), parameter_at(curve, n - end * k))


def _bulges_left(curve: Cubic) -> bool:
    (ax, ay), (bx, by) = curve[0], curve[3]
    mx, my = at(curve, 0.5)
    return (bx - ax) * (my - ay) - (by - ay) * (mx - ax) < 0


def stroke(curve: Cubic, role: str = "arrow.shaft") -> Path:
    """A shaft along a curve."""
    return Path(role, curve_segments(curve))


def going_behind(
    curve: Cubic, around: Obstacles, start_at: float = 0.5, least: float = 0.0
) -> list[Path]:
    """A shaft that is dotted where the paper lies in front of it.

    It goes behind at the parameter `start_at`, or round an edge of the paper before that; its last
    part, `least` of it, is dotted in any case.
    """
    count = 40
    inside = around.covers(samples(curve, count))
    inside = [x or i >= count * (1 - least) for i, x in enumerate(inside)] if least else inside
    turn = round(start_at * count)
    for i in range(3, turn):  # round an edge of the paper
        if not any(inside[i - 3 : i + 1]):
            turn = i
            break
    out: list[Path] = []
    start = 0
    for i in range(1, count + 1):
        hidden = inside[i - 1] and inside[i] and i > turn
        ahead = inside[i] and i < count and inside[i + 1] and i + 1 > turn
        if i == count or hidden != ahead:
            if i > start:
                role = "arrow.hidden" if hidden else "arrow.shaft"
                out.append(stroke(part(curve, start / count, i / count), role))
            start = i
    return out


def unit(p: Point, q: Point) -> tuple[Point, float]:
    """Direction from one point to another, and their distance; to the right where they are the same."""
    d = math.dist(p, q)
    return ((1.0, 0.0), 0.0) if d < 1e-9 else (((q[0] - p[0]) / d, (q[1] - p[1]) / d), d)
