"""A flap that stands creased along its middle, opened flat towards its tip: a petal that bends outwards.

In: the flat state, flaps that are raised, a point and the way to it from its flap. Out: an `Opened`: four
bends that leave one place of the crease, and the angles that they are folded by.

A straight crease stays straight as long as it is folded. So above some place of it the flap has to be flat
all across, and there four bends meet the crease: two on each side, the lower one to the flap's shoulder,
where the flap begins to be free. The pieces between them turn as links of a chain on a sphere. With the way
up the crease as y, outwards (the side that the crease is a valley from) as z and x across, the lower bend
points to E = (sin a sin h, -cos a, sin a cos h), at an angle a from the way down the crease; h is half of
the angle that the crease stands at. The upper bend lies in the flat part, at an angle c from the way u up
its middle and at b from the lower one: cos b = sin c sin a sin h + cos c (E · u). That has two solutions for
u; the one that bends farther outwards is taken, since the other folds the flap into its neighbours.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..geometry import polygons
from ..geometry.isometries import inverse, map_segment
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    add,
    cross,
    distance,
    dot,
    flipped,
    line_through,
    point_on_segment,
    scale,
    signed_distance,
    subtract,
    unit,
)
from ..paper.state import State
from ..source.diagnostics import Refusal
from .flaps import ON, across, beyond, free, in_plane, own
from .goals import Curl, Raise
from .pieces import Pieces

#: Of the way from the tip to the shoulder, what stays for the flat part.
FLAT_PART = 2 / 3


@dataclass(frozen=True)
class Opened:
    """How a flap opens flat; places are those of the folded plane, beside the crease on either side.

    Attributes
    ----------
    tip, way : of the crease
    root : where the bends meet the crease
    low, high : where the bends of one side end: (far from the tip along the way, aside)
    angles : radians that the lower and the upper bends are folded by; positive for a valley on the side that
        the crease is a valley from
    facets : all that hangs together above the lower bends
    """

    tip: Point
    way: Point
    root: float
    low: tuple[float, float]
    high: tuple[float, float]
    angles: tuple[float, float]
    facets: frozenset[int]

    @property
    def bends(self) -> tuple[Segment, ...]:
        """The four bends."""
        root = self._at(self.root, 0.0)
        return tuple(
            (root, self._at(far, side * aside))
            for far, aside in (self.low, self.high)
            for side in (1, -1)
        )

    def _at(self, far: float, aside: float) -> Point:
        return add(add(self.tip, scale(self.way, far)), scale((-self.way[1], self.way[0]), aside))

    def _of(self, p: Point) -> tuple[float, float]:
        """How far from the tip and aside a place lies."""
        off = subtract(p, self.tip)
        return dot(off, self.way), abs(cross(self.way, off))

    def on_sheet(self, state: State) -> list[Segment]:
        """The bends on the sheet, through all layers of the flap."""
        out: list[Segment] = []
        for k in sorted(self.facets):
            back = inverse(state.facets[k].place)
            parts = [polygons.clip_segment(state.placed[k], bend) for bend in self.bends]
            out += [map_segment(back, part) for part in parts if part is not None]
        return out

    def moved(self, pieces: Pieces) -> set[int]:
        """The pieces above the lower bends."""
        return {
            k
            for k, f in enumerate(pieces.facets)
            if f in self.facets and self._holds(polygons.centroid(pieces.folded(k)))
        }

    def folds(self, pieces: Pieces, angles: Sequence[float]) -> dict[int, float]:
        """What the seams of the flap are folded by, where every seam has an angle without that.

        Layers that are folded over lie on their other side, and are folded the other way.
        """
        flat = [pieces.folded(k) for k in range(len(pieces.rings))]
        inside = self.moved(pieces)
        around: dict[int, list[tuple[int, float]]] = {k: [] for k in inside}
        found: dict[int, float] = {}
        bends: list[tuple[int, int, float]] = []
        crease: list[tuple[int, float]] = []
        for k, seam in enumerate(pieces.seams):
            ring = pieces.rings[seam.left]
            ends = [flat[seam.left][ring.index(v)] for v in (seam.start, seam.end)]
            here = [n for n in (seam.left, seam.right) if n in inside]
            bend = self._angle(*ends)
            if bend is not None and here:
                bends.append((k, here[0], bend))
            if len(here) < 2:
                continue
            fold = abs(angles[k])
            if ON < fold < math.pi - ON and all(self._of(p)[1] < ON for p in ends):
                found[k] = 0.0
                crease.append((seam.left, math.copysign(1.0, angles[k])))
            over = -1.0 if fold > math.pi - ON else 1.0
            around[seam.left].append((seam.right, over))
            around[seam.right].append((seam.left, over))
        first, sense = min(crease)
        sides, waiting = {first: sense}, [first]
        while waiting:
            here_ = waiting.pop()
            for other, over in around[here_]:
                if other not in sides:
                    sides[other] = sides[here_] * over
                    waiting.append(other)
        return found | {k: sides[n] * bend for k, n, bend in bends if n in sides}

    def _holds(self, p: Point) -> bool:
        """Whether a place lies above the lower bends."""
        far, aside = self._of(p)
        return far < self.root + (self.low[0] - self.root) * aside / self.low[1] + ON

    def _angle(self, p: Point, q: Point) -> float | None:
        """The angle of a line that is one of the bends; None for another."""
        ends = (self._of(p), self._of(q))
        for end, angle in zip((self.low, self.high), self.angles, strict=True):
            if all(point_on_segment(((self.root, 0.0), end), v, ON) for v in ends):
                return angle
        return None


def raised_crease(
    state: State, turns: Sequence[Raise], point: Point
) -> tuple[Segment, float] | None:
    """A crease that ends at a point of the sheet, and the degrees that it is raised to, if there is one."""
    for goal in turns:
        for p, q in goal.creases:
            for end, other in ((p, q), (q, p)):
                if math.dist(end, point) < ON and ON < goal.angle < 180 - ON:
                    return (end, other), goal.angle
    return None


def opened_flat(state: State, turns: Sequence[Raise], curl: Curl) -> Opened | None:
    """How the flap of a point opens flat before it is rolled; None where no crease that stands runs up to it.

    Raises Refusal, 'curl-creased', where the flap cannot open flat above any place of its crease.
    """
    crease = raised_crease(state, turns, curl.point)
    if crease is None:
        return None
    _, tip, begins = in_plane(state, curl.point, curl.begins)
    reach, way = distance(tip, begins), unit(subtract(begins, tip))
    shoulder = free(state, curl.point, tip, way)
    if shoulder is not None:
        mine = own(state, curl.point)
        aside = _aside(state, mine, tip, way, shoulder)
        far = max(reach, shoulder * FLAT_PART)
        high = (far, _aside(state, mine, tip, way, far))
        half = math.radians(crease[1]) / 2
        for root in _roots(state, mine, tip, way, shoulder):
            facets = _above(state, curl.point, tip, way, (root, shoulder, aside))
            angles = chain(root, (shoulder, aside), high, half)
            if facets <= mine and angles is not None:
                return Opened(tip, way, root, (shoulder, aside), high, angles, facets)
    raise Refusal(
        "curl-creased",
        "the flap stands with a crease along its middle, and cannot open flat so that it can be rolled",
        "begin the roll nearer to the tip",
    )


def chain(
    root: float, low: tuple[float, float], high: tuple[float, float], half: float
) -> tuple[float, float] | None:
    """Angles of the lower and the upper bend, by which a valley that stands at 2 `half` becomes flat; None
    where lengths do not allow it."""
    a = math.pi - math.atan2(low[1], root - low[0])
    c = math.atan2(high[1], root - high[0])
    b = math.pi - a - c
    lower = np.array([math.sin(a) * math.sin(half), -math.cos(a), math.sin(a) * math.cos(half)])
    size = math.hypot(lower[1], lower[2])
    share = (math.cos(b) - math.sin(c) * lower[0]) / math.cos(c) / size
    if b <= 0 or abs(share) > 1:
        return None
    tilt = math.atan2(lower[2], lower[1]) + math.acos(share)
    up = np.array([0.0, math.cos(tilt), math.sin(tilt)])
    upper = math.cos(c) * up + math.sin(c) * np.array([1.0, 0.0, 0.0])
    down = np.array([0.0, -1.0, 0.0])
    rays = [down, lower, upper, up]
    normals = [np.cross(rays[k], rays[k + 1]) for k in range(3)]
    return _folded(normals[0], normals[1], upper), _folded(normals[1], normals[2], up)


def _folded(one: np.ndarray, other: np.ndarray, onward: np.ndarray) -> float:
    """Angle between two planes; positive where what lies onward rises to the side of the first normal."""
    one, other = (n / np.sqrt(n @ n) for n in (one, other))
    angle = math.acos(min(1.0, max(-1.0, float(one @ other))))
    return math.copysign(angle, float(one @ onward))


def _aside(state: State, mine: frozenset[int], tip: Point, way: Point, far: float) -> float:
    """How wide a flap is beside its middle, so far from the tip."""
    line = across(tip, way, far)
    found = [0.0]
    for k in mine:
        part = polygons.clip_line(state.placed[k], line)
        found += [abs(cross(way, subtract(p, tip))) for p in part or ()]
    return max(found)


def _roots(
    state: State, mine: frozenset[int], tip: Point, way: Point, shoulder: float
) -> list[float]:
    """Corners of the flap on its middle below the shoulder, the farthest first."""
    found = {
        dot(subtract(p, tip), way)
        for k in mine
        for p in state.placed[k]
        if abs(cross(way, subtract(p, tip))) < ON
    }
    return sorted((far for far in found if far > shoulder + ON), reverse=True)


def _above(
    state: State, point: Point, tip: Point, way: Point, bend: tuple[float, float, float]
) -> frozenset[int]:
    """What hangs together with the point above the lower bends."""
    root, far, aside = bend
    start = add(tip, scale(way, root))
    lines: list[Line] = []
    for side in (aside, -aside):
        end = add(add(tip, scale(way, far)), scale((-way[1], way[0]), side))
        line = line_through(start, end)
        lines.append(flipped(line) if signed_distance(line, tip) < 0 else line)
    return beyond(state, point, lines)
