"""A unit put to other paper: the motion that brings it there, between which layers, and the way in.

In: the paper with the unit beside it, points that are to meet, layers that are named. Out: a motion, wishes
for the order of layers, the direction in which it comes; or the refusal that says by how much it does not
fit.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...geometry import polygons
from ...geometry.isometries import Isometry
from ...geometry.lines import Point, distance, dot, line_through, signed_distance, subtract
from ...geometry.tolerance import EPS
from ...paper.assembly import directions, way_in
from ...paper.layers import Collision, Prefer
from ...paper.state import State
from ...source.diagnostics import Refusal
from .in_the_way import collision_refusal
from .layering import Goal
from .request import PointValue, Request

#: A point of the unit, and where it comes to.
Pair = tuple[PointValue, PointValue]
#: Two pairs of points that are this far apart (mm) cannot both come together.
FITS_MM = 0.05


def motion_of(request: Request, pairs: Sequence[Pair], over: bool) -> Isometry:
    """The motion that brings one point to its place, or two to theirs; `over` turns the unit over.

    Raises Refusal ('does-not-fit', 'one-point') where two points cannot come to both places.
    """
    if len(pairs) == 1:
        ((a, c),) = pairs
        x = a.at[0] + c.at[0] if over else c.at[0] - a.at[0]
        return Isometry(-1.0 if over else 1.0, 0.0, x, 0.0, 1.0, c.at[1] - a.at[1])
    (a, c), (b, d) = pairs
    have, want = distance(a.at, b.at), distance(c.at, d.at)
    mm = request.unit_mm
    if min(have, want) * mm < 1.0:
        raise Refusal(
            "one-point",
            f"{a.words.render()} and {b.words.render()} lie in one place",
            "name two points that lie apart",
            span=b.span,
        )
    if abs(have - want) * mm > FITS_MM:
        raise Refusal(
            "does-not-fit",
            f"{a.words.render()} and {b.words.render()} are {have * mm:.1f} mm apart, but "
            f"{c.words.render()} and {d.words.render()} are {want * mm:.1f} mm: both cannot come together",
            f"{abs(have - want) * mm:.1f} mm are {'left over' if have > want else 'lacking'}",
            span=request.span,
        )
    (ux, uy), (vx, vy) = subtract(b.at, a.at), subtract(d.at, c.at)
    n = have * want
    if over:
        # mirrored upright first: (x, y) -> (-x, y), then turned
        cos, sin = (-ux * vx + uy * vy) / n, (-ux * vy - uy * vx) / n
        linear = (-cos, -sin, -sin, cos)
    else:
        cos, sin = (ux * vx + uy * vy) / n, (ux * vy - uy * vx) / n
        linear = (cos, -sin, sin, cos)
    p, q, r, s = (round(k) + 0.0 if abs(k - round(k)) < EPS / 10 else k for k in linear)
    x, y = a.at
    return Isometry(p, q, c.at[0] - p * x - q * y, r, s, c.at[1] - r * x - s * y)


def preference(state: State, mine: Sequence[int], goal: Goal) -> Prefer:
    """Where the named layers leave it open, beside them in the stack, else in front or behind."""
    own = set(mine)

    def above(m: int, s: int) -> bool:
        """Whether a piece of the unit is to lie above another one."""
        if any(s == u or state.above(s, u) for u in goal.under):
            return False
        if any(s == o or state.above(o, s) for o in goal.over):
            return True
        return bool(goal.under) if goal.under or goal.over else goal.front

    def prefer(i: int, j: int) -> bool | None:
        if (i in own) == (j in own):
            return None
        return above(i, j) if i in own else not above(j, i)

    return prefer


def coming(
    after: State, mine: Sequence[int], tip: Point, slides: bool
) -> tuple[Point, Point] | None:
    """The direction in which the unit comes, its tab at `tip` first, and how it is drawn back to be free.

    One that `slides` passes through nothing on its way; None where it cannot get in.
    """
    rest = [i for i in range(len(after.facets)) if i not in mine]
    toward = _between(_middle(after, mine), tip, _middle(after, rest))
    ways = sorted(
        directions(after, mine), key=lambda d: (-round(dot(d, toward), 6), -round(d[1], 6))
    )
    if not slides:
        best = ways[0]
        own = [dot(p, best) for i in mine for p in after.placed[i]]
        there = [dot(p, best) for i in rest for p in after.placed[i]]
        far = max(0.0, max(own) - min(there))
        return best, (-best[0] * far, -best[1] * far)
    for way in ways:
        found = way_in(after, mine, way)
        if found is not None:
            return way, (found.tx, found.ty)
    return None


def _between(own: Point, tip: Point, rest: Point) -> Point:
    """From the unit's middle to its tab; else to the other paper; else to the left."""
    for to in (tip, rest):
        n = distance(own, to)
        if n > 1e-6:
            return ((to[0] - own[0]) / n, (to[1] - own[1]) / n)
    return (-1.0, 0.0)


def _middle(state: State, members: Sequence[int]) -> Point:
    """The middle of the area of some pieces."""
    whole = [(polygons.area(state.placed[i]), polygons.centroid(state.placed[i])) for i in members]
    total = sum(area for area, _ in whole)
    return (
        sum(area * c[0] for area, c in whole) / total,
        sum(area * c[1] for area, c in whole) / total,
    )


def cannot_lie(
    request: Request, number: int, motion: Isometry, mine: Sequence[int], clash: Collision
) -> Refusal:
    """What would pass through what, and how far the unit reaches past the fold that stops it."""
    refusal = collision_refusal(request, clash)
    excess = _excess(request.state, motion, set(mine), clash)
    if excess is None:
        return Refusal(
            refusal.code,
            f"unit {number} cannot lie like this: {refusal.message}",
            "say which layers its tab goes between: 'under' and a point of the layer in front of it",
            span=refusal.span,
        )
    return Refusal(
        "tab-too-large",
        f"unit {number} does not fit in there: it reaches {excess * request.unit_mm:.1f} mm past a "
        f"fold that is closed",
        "name the layer of a pocket that is wide enough, or place the unit further out",
        span=refusal.span,
    )


def _excess(state: State, motion: Isometry, mine: set[int], clash: Collision) -> float | None:
    """How far a piece of the unit reaches past a fold of the paper that it would pass through."""
    found: list[float] = []
    hit = set(clash.facets)
    for joint, segment in state.fold_segments:
        if joint.a in mine or not {joint.a, joint.b} & hit:
            continue
        line = line_through(*segment)
        inner = max((signed_distance(line, p) for p in state.placed[joint.a]), key=abs)
        for i in sorted(hit & mine):
            ring = [motion(p) for p in state.placed[i]]
            ring = ring[::-1] if motion.flips else ring
            part = polygons.clip_segment(tuple(ring), segment)
            if part is None or distance(*part) < EPS:
                continue
            past = max(-signed_distance(line, p) * (1 if inner > 0 else -1) for p in ring)
            if past > EPS:
                found.append(past)
    return min(found, default=None)
