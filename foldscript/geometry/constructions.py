"""The seven single-fold constructions: every straight crease that points and lines can fix.

In: points and lines (`lines`, sheet units; a line has no ends here). Out: a tuple of `Crease`, at
least one, in the order each function states; `NoCrease` says why there is none and how much is
missing. Choosing among several, and the ends that edges of paper have, are the caller's matter.

Orders do not depend on which way a line faces: landing places are read from left to right along the
line they lie on (from bottom to top when it is upright), directions counter-clockwise from the
rightward one.

List of the constructions: Justin (1989), Huzita (1989), Hatori (2001); Alperin and Lang (2009) show
that one crease at a time there are no others.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from functools import cmp_to_key

from . import lines
from .cubics import least_ratio, real_roots
from .lines import Line, Point, dot, signed_distance, subtract
from .tolerance import EPS, is_zero, same_point, sign


@dataclass(frozen=True, slots=True)
class Crease:
    """One crease that does what was asked.

    Attributes
    ----------
    line : the crease; its left side holds the first image where that point moves
    images : where the moved points land, in the order they were given
    idle : no point moves, since the crease passes through all of them
    """

    line: Line
    images: tuple[Point, ...] = ()
    idle: bool = False


class Lack(Enum):
    """Why a construction has no crease, or no definite one."""

    SAME_POINT = "the two points are one"
    SAME_LINE = "the two lines are one"
    TOO_SHORT = "the point does not reach the line"
    PARALLEL = "the point moves along the line and never meets it"
    ANY = "too many creases do it"


class NoCrease(Exception):
    """No crease does what was asked.

    Attributes
    ----------
    lack : why
    gap : how far the point stays from its line at best, sheet units; 0 where that says nothing
    mover : which of the moved points stays short, 0 or 1 in the order given
    """

    def __init__(self, lack: Lack, gap: float = 0.0, mover: int = 0) -> None:
        super().__init__(lack.value)
        self.lack = lack
        self.gap = gap
        self.mover = mover


def through_points(p: Point, q: Point) -> tuple[Crease, ...]:
    """The crease through two points. NoCrease SAME_POINT when they coincide."""
    if same_point(p, q):
        raise NoCrease(Lack.SAME_POINT)
    return (Crease(lines.line_through(p, q)),)


def point_to_point(p: Point, q: Point) -> tuple[Crease, ...]:
    """The crease that brings p to q. NoCrease SAME_POINT when they coincide."""
    if same_point(p, q):
        raise NoCrease(Lack.SAME_POINT)
    return (Crease(lines.perpendicular_bisector(p, q), (q,)),)


def line_to_line(a: Line, b: Line) -> tuple[Crease, ...]:
    """The creases that bring line a onto line b.

    Two when they cross, that of the smaller turn first, then by direction; the midline when they
    are parallel. NoCrease SAME_LINE when they coincide.
    """
    if lines.same_line(a, b):
        raise NoCrease(Lack.SAME_LINE)
    facing = dot(a[:2], b[:2])
    if facing < 0:
        b = lines.flipped(b)
    crossing = lines.meet(a, b)
    nx, ny, c = a.nx + b.nx, a.ny + b.ny, a.c + b.c
    n = math.hypot(nx, ny)
    middle = Line(
        nx / n, ny / n, c / n
    )  # its normal is between theirs, which are within 90 degrees
    if crossing is None:
        return (Crease(_upward(middle)),)
    near, far = _upward(middle), _upward(lines.perpendicular_at(middle, crossing))
    if is_zero(facing) and _angle(far) < _angle(near):
        near, far = far, near
    return (Crease(near), Crease(far))


def perpendicular_through(p: Point, line: Line) -> tuple[Crease, ...]:
    """The crease through p perpendicular to a line (which it brings onto itself)."""
    return (Crease(_upward(lines.perpendicular_at(line, p))),)


def point_to_line_through(p: Point, line: Line, q: Point) -> tuple[Crease, ...]:
    """The creases through q that bring p onto a line: two, one or none.

    In order of the landing place along the line; when p lies on the line already, the crease that
    moves it comes first and the idle one (through p and q) second. NoCrease TOO_SHORT with the
    missing length when p turns about q short of the line; ANY when p, q and the line meet.
    """
    if same_point(p, q):
        gap = abs(signed_distance(line, p))
        raise NoCrease(Lack.ANY) if gap <= EPS else NoCrease(Lack.TOO_SHORT, gap)
    missing = shortfall_through(p, line, q)
    if missing > EPS:
        raise NoCrease(Lack.TOO_SHORT, missing)
    foot, along = lines.foot(line, q), _forward(line)
    radius, height = lines.distance(p, q), signed_distance(line, q)
    if lines.on_line(line, p):
        idle = Crease(_upward(lines.line_through(p, q)), (p,), idle=True)
        image = subtract((2 * foot[0], 2 * foot[1]), p)
        if same_point(image, p):
            return (idle,)
        return (Crease(_facing(lines.perpendicular_at(line, q), image), (image,)), idle)
    if missing >= -EPS:
        return (Crease(_turning(p, foot, q), (foot,)),)
    half = math.sqrt((radius - abs(height)) * (radius + abs(height)))
    images = [lines.add(foot, lines.scale(along, t)) for t in (-half, half)]
    return tuple(Crease(_turning(p, image, q), (image,)) for image in images)


def shortfall_through(p: Point, line: Line, q: Point) -> float:
    """How much further from q the line is than p: positive when no crease through q does it."""
    return abs(signed_distance(line, q)) - lines.distance(p, q)


def point_to_line_perpendicular(p: Point, line: Line, other: Line) -> tuple[Crease, ...]:
    """The crease perpendicular to `other` that brings p onto a line.

    Idle when p lies there already. NoCrease PARALLEL with the distance when p moves alongside the
    line; ANY when p moves along the line itself.
    """
    if lines.parallel(line, other):
        gap = abs(signed_distance(line, p))
        raise NoCrease(Lack.ANY) if gap <= EPS else NoCrease(Lack.PARALLEL, gap)
    image = lines.meet(line, lines.parallel_at(other, p))
    if image is None or same_point(image, p):
        return (Crease(_upward(lines.perpendicular_at(other, p)), (p,), idle=True),)
    crease = lines.perpendicular_at(other, lines.midpoint(p, image))
    return (Crease(_facing(crease, image), (image,)),)


def points_to_lines(p: Point, line: Line, q: Point, other: Line) -> tuple[Crease, ...]:
    """The creases that bring p onto a line and, with the same fold, q onto another: up to three.

    In order of where p lands along `line`, then of where q lands along `other`; an idle crease
    (through both, when both lie on their lines already) comes last. NoCrease TOO_SHORT with how far
    q stays from its line at best (possible only when the lines are parallel); ANY when
    infinitely many do it. A gap of 0 says that q only comes ever nearer, the further p lands.

    With p landing at foot + t * direction of `line`, q landing on `other` is a cubic in t.
    """
    solve = _from_the_line if lines.on_line(line, p) else _across
    found = solve(p, line, q, other)
    kept: list[Crease] = []
    for crease in found:
        if not any(lines.same_line(crease.line, k.line) for k in kept):
            kept.append(crease)
    along, across = _forward(line), _forward(other)

    def order(a: Crease, b: Crease) -> int:
        for i, way in ((0, along), (1, across)):
            step = sign(dot(subtract(a.images[i], b.images[i]), way))
            if step:
                return step
        return 0

    kept.sort(key=cmp_to_key(order))
    return tuple(sorted(kept, key=lambda crease: crease.idle))


def _across(p: Point, line: Line, q: Point, other: Line) -> list[Crease]:
    """`points_to_lines` for p off its line."""
    along = _forward(line)
    foot = lines.foot(line, p)
    h, g = subtract(foot, p), subtract(q, p)
    hh, normal = dot(h, h), (other.nx, other.ny)
    e = signed_distance(other, q)
    lift, tilt = dot(normal, h), dot(normal, along)
    c1, c0 = -2 * dot(along, g), hh - 2 * dot(h, g)
    if lines.parallel(line, other):
        tilt = 0.0
    # the distance of q's image from `other`, times the square of p's way (hh + t*t)
    cubic = (tilt, lift + tilt * c1 + e, lift * c1 + tilt * c0, lift * c0 + e * hh)
    if all(is_zero(k) for k in cubic):
        raise NoCrease(Lack.ANY)
    slack = EPS / 4
    roots = real_roots(cubic, lambda t: slack * (hh + t * t))
    if not roots:
        raise NoCrease(Lack.TOO_SHORT, least_ratio(cubic[1:], hh), 1)
    found: list[Crease] = []
    for t in roots:
        image = lines.add(foot, lines.scale(along, t))
        crease = lines.perpendicular_bisector(p, image)
        found.append(_landed(_polished(crease, p, line, q, other), p, q))
    return found


def _from_the_line(p: Point, line: Line, q: Point, other: Line) -> list[Crease]:
    """`points_to_lines` for p on its line: it stays, or slides along the line."""
    found: list[Crease] = []
    short = 0.0
    try:
        found = [_landed(c.line, p, q) for c in point_to_line_through(q, other, p)]
    except NoCrease as lack:
        if lack.lack is Lack.ANY:
            raise
        short = lack.gap
    try:
        found += [_landed(c.line, p, q) for c in point_to_line_perpendicular(q, other, line)]
    except NoCrease as lack:
        if lack.lack is Lack.ANY:
            raise
    if not found:
        raise NoCrease(Lack.TOO_SHORT, short, 1)
    return found


def _landed(crease: Line, p: Point, q: Point) -> Crease:
    """The crease with both images, facing the first point that moves."""
    depths = signed_distance(crease, p), signed_distance(crease, q)
    mover = next((d for d in depths if not is_zero(d)), 0.0)
    if mover > 0:
        crease = lines.flipped(crease)
    images = (lines.mirrored(crease, p), lines.mirrored(crease, q))
    return Crease(crease, images, idle=same_point(p, images[0]) and same_point(q, images[1]))


def _polished(crease: Line, p: Point, line: Line, q: Point, other: Line) -> Line:
    """Newton steps on the crease's own angle and offset, kept only while they bring both nearer."""
    miss = _miss(crease, p, line, q, other)
    for _ in range(4):
        n, d = (crease.nx, crease.ny), crease.direction
        rows: list[tuple[float, float]] = []
        for x, target in ((p, line), (q, other)):
            k, m = signed_distance(crease, x), (target.nx, target.ny)
            # image = x - 2 k n; turning the crease by w turns n by -w d, shifting it by s takes s off k
            rows.append((2 * (dot(x, d) * dot(m, n) + k * dot(m, d)), 2 * dot(m, n)))
        (a, b), (c, e) = rows
        det = a * e - b * c
        if -EPS * EPS <= det <= EPS * EPS:
            break
        turn = -(miss[0] * e - miss[1] * b) / det
        shift = -(a * miss[1] - c * miss[0]) / det
        nx, ny = n[0] - turn * d[0], n[1] - turn * d[1]
        size = math.hypot(nx, ny)
        better = Line(nx / size, ny / size, crease.c + shift)
        after = _miss(better, p, line, q, other)
        if math.hypot(*after) >= math.hypot(*miss):
            break
        crease, miss = better, after
    return crease


def _miss(crease: Line, p: Point, line: Line, q: Point, other: Line) -> tuple[float, float]:
    return (
        signed_distance(line, lines.mirrored(crease, p)),
        signed_distance(other, lines.mirrored(crease, q)),
    )


def _turning(p: Point, image: Point, q: Point) -> Line:
    """The crease through q that brings p to a place as far from q; its left side holds the image."""
    u, v = lines.unit(subtract(p, q)), lines.unit(subtract(image, q))
    along, across = lines.add(u, v), subtract(v, u)
    if lines.length(across) > lines.length(along):
        return lines.line_at(q, (across[1], -across[0]))
    return _facing(lines.line_at(q, along), image)


def _facing(line: Line, p: Point) -> Line:
    """The line with p on its left."""
    return line if signed_distance(line, p) >= 0 else lines.flipped(line)


def _forward(line: Line) -> Point:
    """Unit vector along a line, rightward, or upward when it is upright."""
    x, y = line.direction
    return (-x, -y) if x < -EPS or (x <= EPS and y < 0) else (x, y)


def _upward(line: Line) -> Line:
    """The line running rightward, or upward when it is upright."""
    return line if dot(_forward(line), line.direction) > 0 else lines.flipped(line)


def _angle(line: Line) -> float:
    """Direction of a line counter-clockwise from the rightward one, in [0, pi)."""
    x, y = _forward(line)
    angle = math.atan2(y, x)
    return angle + math.pi if angle < -EPS else max(angle, 0.0)


def nearest(creases: Iterable[Crease], spot: Point) -> Crease:
    """The crease that passes nearest to a point; the earlier one on a tie."""
    best: tuple[float, Crease] | None = None
    for crease in creases:
        away = abs(signed_distance(crease.line, spot))
        if best is None or away < best[0] - EPS:
            best = (away, crease)
    if best is None:
        raise ValueError("no crease to choose from")
    return best[1]
