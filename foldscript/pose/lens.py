"""Paper between two lines that is rounded to both sides: where its strips come to lie.

In: two lines of a plane, how far apart the two sides are to be. Out: `Lens`: the lines that cut the paper
into strips, and what becomes of each strip. Both sides are arcs of the same girth that meet where they are
pinched, as the lids of an eye do: on cylinders where the lines are parallel, on cones with a common tip
where they meet. Neither stretches the paper.

Seen from its end a half is an arc of the angle 2φ with the radius r, of the girth L = 2 r φ: its ends are
2 r sin φ apart, and its middle is r (1 - cos φ) off the line between them. On a cone the same holds of the
directions of its strips, which lie on a circle of the sphere round the tip; with β for the angle between
axis and strips, and n strips over the wedge α, sin(α/2n) = sin β sin(φ/n). Source: the formulas of the
isosceles triangle and of the right-angled spherical one, to be found in any text on trigonometry.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from ..geometry.lines import (
    Line,
    Point,
    add,
    cross,
    distance,
    dot,
    meet,
    parallel,
    scale,
    signed_distance,
    subtract,
)
from ..geometry.polygons import Polygon, clip_line
from ..source.diagnostics import Refusal
from .pieces import Array

#: Largest angle between two strips, and the largest half of an arc (radians): then it is a half circle.
_STRIP, MOST = math.radians(10), math.pi / 2
#: Sheet units within which a place is on a line.
_ON = 1e-6
_HALVINGS = 80


@dataclass(frozen=True)
class Lens:
    """Strips of the upper half, in the plane of the paper (x, y) with z to the reader; the lower half is its
    mirror image. What is on the first line stays.

    Attributes
    ----------
    cuts : lines of the plane, the first and the last of them those that are pinched
    strips : 3 × 3 for each strip: takes (x, y, 1) to its place in space
    beyond : 3 × 3 likewise, for what lies beyond the last line
    """

    cuts: tuple[Line, ...]
    strips: tuple[Array, ...]
    beyond: Array

    def strip_of(self, p: Point) -> int | None:
        """The strip that a place is on; None outside of all."""
        away = [signed_distance(cut, p) for cut in self.cuts]
        if away[0] < -_ON or away[-1] > _ON:
            return None
        return max(0, sum(1 for d in away[1:-1] if d > 0))


def reach_of(one: Line, other: Line, inside: Point, rings: Sequence[Polygon]) -> float:
    """How far polygons reach from the tip along the middle of the lines; 1 where lines do not meet.

    Raises Refusal, 'round-lines', where the place is not between the lines.
    """
    wedge = _wedge(one, other, inside)
    if wedge.tip is None:
        return 1.0
    clipped = (clip_line(ring, wedge.cut(0.5)) for ring in rings)
    return max(
        (distance(wedge.tip, p) for part in clipped if part is not None for p in part), default=0.0
    )


def widest(one: Line, other: Line, inside: Point, reach: float) -> float:
    """How far apart the sides can be: when both are half round. Lengths in sheet units."""
    wedge = _wedge(one, other, inside)
    return 2 * wedge.height(MOST, _count(MOST), reach)


def gentle(one: Line, other: Line, inside: Point, reach: float) -> float:
    """How far apart the sides are when each is a quarter of a turn."""
    return 2 * _wedge(one, other, inside).height(MOST / 2, _count(MOST / 2), reach)


def lens(one: Line, other: Line, inside: Point, reach: float, width: float) -> Lens:
    """The rounded paper.

    Parameters
    ----------
    one, other : the lines that are pinched
    inside : a place between them, on the side of the paper
    reach : how far the paper goes from the tip, along the middle of lines that meet
    width : between both sides, in the middle, at the farthest place; sheet units

    Raises Refusal, 'round-too-wide', where no arc is so wide.
    """
    wedge = _wedge(one, other, inside)
    if width / 2 > wedge.height(MOST, _count(MOST), reach) + 1e-9:
        raise Refusal(
            "round-too-wide",
            "the paper does not go so far round: it is half round on both sides before",
        )
    low = wedge.flat
    angle = _found(lambda a: wedge.height(a, 2, reach), width / 2, low)
    count = _count(angle)
    angle = _found(lambda a: wedge.height(a, count, reach), width / 2, low)
    cuts = tuple(wedge.cut(k / count) for k in range(count + 1))
    rails = wedge.rails(angle, count)
    flat = [wedge.flat_rail(k / count) for k in range(count + 1)]
    strips = tuple(_carrying(flat[k], rails[k], flat[k + 1], rails[k + 1]) for k in range(count))
    return Lens(cuts, strips, wedge.moved(angle, count))


def _count(angle: float) -> int:
    """An even number of strips, so that one of their lines runs along the middle."""
    return 2 * max(2, math.ceil(angle / _STRIP - _ON))


def _found(height: Callable[[float], float], wanted: float, low: float) -> float:
    """The angle at which an arc is so high."""
    high = MOST
    for _ in range(_HALVINGS):
        angle = (low + high) / 2
        if height(angle) < wanted:
            low = angle
        else:
            high = angle
    return (low + high) / 2


#: Two places that a line of strips runs through, in the plane or in space.
_Rail = tuple[Array, Array]


def _carrying(flat: _Rail, rail: _Rail, next_flat: _Rail, next_rail: _Rail) -> Array:
    """3 × 3: takes (x, y, 1) between two lines of the plane to between their images."""
    apart = float(np.abs(flat[0] - next_flat[0]).max()) > _ON
    known = np.array([flat[0], flat[1], next_flat[0] if apart else next_flat[1]])
    image = np.array([rail[0], rail[1], next_rail[0] if apart else next_rail[1]])
    return np.linalg.solve(np.c_[known, np.ones(3)], image)


@dataclass(frozen=True)
class _Strip:
    """Between parallel lines: `start` is on the first, `along` runs along it, `across` to the other."""

    start: Point
    along: Point
    across: Point
    girth: float

    tip: None = None
    flat: float = 0.0

    def cut(self, share: float) -> Line:
        nx, ny = self.across
        return Line(nx, ny, dot(self.across, self.start) + share * self.girth)

    def flat_rail(self, share: float) -> _Rail:
        at = add(self.start, scale(self.across, share * self.girth))
        return np.array(at), np.array(add(at, self.along))

    def height(self, angle: float, count: int, reach: float) -> float:
        return self._radius(angle, count) * (1 - math.cos(angle)) if angle else 0.0

    def _radius(self, angle: float, count: int) -> float:
        """Of the circle through the corners of so many strips."""
        return self.girth / count / 2 / math.sin(angle / count)

    def rails(self, angle: float, count: int) -> list[_Rail]:
        radius = self._radius(angle, count)
        out: list[_Rail] = []
        for k in range(count + 1):
            turn = angle * (2 * k / count - 1)
            x, y = add(self.start, scale(self.across, radius * (math.sin(turn) + math.sin(angle))))
            z = radius * (math.cos(turn) - math.cos(angle))
            at = np.array([x, y, z])
            out.append((at, at + np.array([*self.along, 0.0])))
        return out

    def moved(self, angle: float, count: int) -> Array:
        chord = 2 * self._radius(angle, count) * math.sin(angle)
        x, y = scale(self.across, chord - self.girth)
        return np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [x, y, 0.0]])


@dataclass(frozen=True)
class _Wedge:
    """Between lines that meet in a `tip`: unit ways `first` and `last` along them, `wide` radians apart;
    `sense` is 1 where that turn is against the clock.
    """

    tip: Point
    first: Point
    wide: float
    sense: float

    @property
    def flat(self) -> float:
        return self.wide / 2

    def _way(self, turn: float) -> Point:
        c, s = math.cos(turn), self.sense * math.sin(turn)
        x, y = self.first
        return c * x - s * y, s * x + c * y

    def cut(self, share: float) -> Line:
        x, y = self._way(share * self.wide)
        n = scale((-y, x), self.sense)
        return Line(n[0], n[1], dot(n, self.tip))

    def flat_rail(self, share: float) -> _Rail:
        return np.array(self.tip), np.array(add(self.tip, self._way(share * self.wide)))

    def height(self, angle: float, count: int, reach: float) -> float:
        return reach * self._lying(angle, count)[1](0.0)[2]

    def _lying(self, angle: float, count: int) -> tuple[float, Callable[[float], Array]]:
        """Half the angle that the closed wedge has, and for a turn round the axis the direction there: along
        the middle, aside, off the plane.
        """
        slope = min(1.0, math.sin(self.wide / 2 / count) / math.sin(angle / count))
        axial = math.sqrt(1 - slope * slope)
        low = np.array([axial, slope * math.cos(angle)])
        size = max(float(np.sqrt(low @ low)), 1e-300)

        def way(turn: float) -> Array:
            here = slope * math.cos(turn)
            along = (axial * low[0] + here * low[1]) / size
            off = axial * (here - low[1]) / size
            return np.array([along, slope * math.sin(turn), off])

        return math.atan2(slope * math.sin(angle), size), way

    def rails(self, angle: float, count: int) -> list[_Rail]:
        half, way = self._lying(angle, count)
        middle, aside = self._way(half), self._way(half + math.pi / 2)
        axes = np.array([[*middle, 0.0], [*aside, 0.0], [0.0, 0.0, 1.0]])
        tip = np.array([*self.tip, 0.0])
        turns = [angle * (2 * k / count - 1) for k in range(count + 1)]
        return [(tip, tip + way(turn) @ axes) for turn in turns]

    def moved(self, angle: float, count: int) -> Array:
        turn = self.sense * (2 * self._lying(angle, count)[0] - self.wide)
        c, s = math.cos(turn), math.sin(turn)
        rows = np.array([[c, s, 0.0], [-s, c, 0.0]])
        x, y = np.array(self.tip) - np.array(self.tip) @ rows[:, :2]
        return np.array([*rows, [x, y, 0.0]])


def _wedge(one: Line, other: Line, inside: Point) -> _Strip | _Wedge:
    sides = signed_distance(one, inside), signed_distance(other, inside)
    if min(abs(d) for d in sides) < _ON:
        raise _no_room()
    tip = None if parallel(one, other) else meet(one, other)
    if tip is None:
        across = scale((one.nx, one.ny), math.copysign(1.0, sides[0]))
        start = subtract(inside, scale(across, abs(sides[0])))
        girth = abs(sides[0]) + abs(sides[1])
        if sides[0] * sides[1] * dot((one.nx, one.ny), (other.nx, other.ny)) > 0:
            raise _no_room()
        return _Strip(start, one.direction, across, girth)
    ways = [_toward(line, tip, inside, like) for line, like in ((one, other), (other, one))]
    turn = math.atan2(cross(ways[0], ways[1]), dot(ways[0], ways[1]))
    return _Wedge(tip, ways[0], abs(turn), math.copysign(1.0, turn))


def _toward(line: Line, tip: Point, inside: Point, other: Line) -> Point:
    """The way along a line from the tip, on the side of the other line on which a place lies."""
    way = line.direction
    ahead = signed_distance(other, add(tip, way)) * signed_distance(other, inside)
    return way if ahead > 0 else scale(way, -1.0)


def _no_room() -> Refusal:
    return Refusal("round-lines", "there is no paper between the lines that is to be rounded")
