"""Signs that belong to a place: landmarks, angles, lengths, and what the fingers do there.

In: the signs of a figure, the view and what lies around. Out: `Path`s.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from ...paper.signs import EqualAngles, EqualLengths, PointSign, RightAngle, Spot
from ..glyphs import glyph_paths, glyphs
from ..placement.obstacles import Obstacles
from ..scene.outlines import arc, polyline, samples, toward
from ..scene.scene import Curve, Move, Path, Point
from ..scene.view import View

#: Arc that a tick needs, and the farthest an arc lies from its apex (points).
_NARROWEST, _FARTHEST = 4.6, 30.0
#: Shortest of equal parts that are marked (points).
_SHORTEST_PART = 6.0
#: How high their arcs rise, and the most of their length; half the bars at the ends, and between parts.
_RISE, _STEEPEST, _END_BAR, _BAR = 3.4, 0.26, 2.6, 1.5
#: More of them than this are marked on the paper itself only where each is as long as this (points).
_MOST_ON_PAPER, _LONG_PART = 4, 8.0
#: Edges of the paper so near the ends of a row amid it do not hinder: corners are crossed there (points).
_AT_ENDS = 8.0
#: How far off the edge they lie: outside the paper, beyond two arrows there, and on the paper.
_OFF, _OFF_WIDE, _OFF_ON_PAPER = 6.2, 9.0, 4.6


def point_sign(sign: PointSign, view: View, around: Obstacles) -> list[Path]:
    """A sign at a point, aimed the way it says, else from the outside of the figure inwards."""
    at = view(sign.at)
    towards = toward(at, (0.0, 0.0) if sign.toward is None else view(sign.toward))
    paths = list(glyph_paths(sign.kind.value, at, towards))
    if not glyphs()[sign.kind.value].upright:
        side = 1.0 if sign.kind is Spot.PULL else -1.0  # which leaves its point; others come to it
        around.arrows.extend(
            (at[0] + side * k * towards[0], at[1] + side * k * towards[1]) for k in (3, 7, 11)
        )
    return paths


def is_landmark(sign: object) -> bool:
    """Whether a sign is a ring round a landmark."""
    return isinstance(sign, PointSign) and sign.kind is Spot.LANDMARK


def _angle(p: Point, q: Point) -> float:
    return math.atan2(q[1] - p[1], q[0] - p[0])


def equal_angles(signs: Sequence[EqualAngles], view: View, around: Obstacles) -> list[list[Path]]:
    """For each sign an arc for each of its two angles, crossed by a tick; other sizes, other radii.

    Angles whose apex lies off the paper are left out, for nobody could check them there, and so are
    those too narrow for two ticks side by side.
    """
    out: list[list[Path]] = []
    sizes: list[float] = []
    for sign in signs:
        apex = view(sign.apex)
        if not _on_paper(apex, around):
            continue
        ends = [view(p) for p in (sign.first, sign.middle, sign.last)]
        first, last = (
            (_angle(apex, a), math.remainder(_angle(apex, b) - _angle(apex, a), 2 * math.pi))
            for a, b in ((ends[0], ends[1]), (ends[1], ends[2]))
        )
        nth = next((k for k, s in enumerate(sizes) if abs(s - abs(first[1])) < 0.01), len(sizes))
        if nth == len(sizes):
            sizes.append(abs(first[1]))
        most = min(_FARTHEST, 0.5 * min(math.dist(apex, e) for e in ends))
        needed = _NARROWEST / max(1e-6, min(abs(first[1]), abs(last[1])))
        radius = min(max(15.0 + 4.0 * (nth % 3), needed), most)
        if radius < needed:
            continue
        paths: list[Path] = []
        for start, sweep in (first, last):
            paths.append(Path("mark.angle", arc(apex, radius, start, sweep)))
            c, s = math.cos(start + sweep / 2), math.sin(start + sweep / 2)
            for t in (0.0, 0.25, 0.5, 0.75, 1.0):
                a = start + t * sweep
                around.arrows.append(
                    (apex[0] + radius * math.cos(a), apex[1] + radius * math.sin(a))
                )
            tick = tuple((apex[0] + r * c, apex[1] + r * s) for r in (radius - 1.9, radius + 1.9))
            paths.append(Path("mark.angle", polyline(tick)))
        out.append(paths)
    return out


def _on_paper(p: Point, around: Obstacles) -> bool:
    import shapely

    return bool(shapely.dwithin(around.silhouette, shapely.Point(p), 4.0))


def right_angle(sign: RightAngle, view: View) -> list[Path]:
    """A small square in the corner."""
    apex = view(sign.apex)
    ux, uy = toward(apex, view(sign.first))
    vx, vy = toward(apex, view(sign.last))
    k = 5.2
    return [
        Path(
            "mark.angle",
            polyline(
                (
                    (apex[0] + k * ux, apex[1] + k * uy),
                    (apex[0] + k * (ux + vx), apex[1] + k * (uy + vy)),
                    (apex[0] + k * vx, apex[1] + k * vy),
                )
            ),
        )
    ]


def equal_lengths(
    sign: EqualLengths, view: View, around: Obstacles, wide: Sequence[Point] = ()
) -> list[Path]:
    """A row of equal arcs beside the edge, one from each bar to the next, as a compass steps along it.

    Left out where the parts are too short on the page to be told apart, or cannot lie beside the edge
    without crossing other lines. `wide` are places where two arrows leave side by side, and need room.
    """
    out: list[Path] = []
    drawn = [(view(p), view(q)) for p, q in sign.segments]
    if not drawn or min(math.dist(a, b) for a, b in drawn) < _SHORTEST_PART:
        return []
    row = _row(drawn, around, wide)
    if row is None:
        return []
    (nx, ny), off = row

    def beside(p: Point, by: float) -> Point:
        return (p[0] + by * nx, p[1] + by * ny)

    rise = min(_RISE, _STEEPEST * min(math.dist(a, b) for a, b in drawn))
    for k, end in enumerate((drawn[0][0], *(b for _, b in drawn))):
        long = _END_BAR if k in (0, len(drawn)) else _BAR
        bar = beside(end, off - long), beside(end, off + long)
        out.append(Path("mark.length", polyline(bar)))
        around.ruled.extend(samples((bar[0], *bar, bar[1]), 4))
    for a, b in drawn:
        foot, head = beside(a, off), beside(b, off)
        first, last = (
            beside((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])), off + 4 / 3 * rise)
            for t in (0.25, 0.75)
        )
        out.append(Path("mark.length", (Move(foot), Curve(first, last, head))))
        around.ruled.extend(samples((foot, first, last, head), 8))
    around.arrows.extend(around.ruled)
    return out


def _row(
    drawn: list[tuple[Point, Point]], around: Obstacles, wide: Sequence[Point]
) -> tuple[Point, float] | None:
    """Where the marks lie: the normal of their side, and how far off; None where there is no place.

    Outside the paper where there is an outside, else on the side that no fold line crosses.
    """
    (start, _), (_, end) = drawn[0], drawn[-1]
    ux, uy = toward(start, end)
    mids = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in drawn]
    sides = ((-uy, ux), (uy, -ux))
    covered = [sum(around.covers([(x + 4 * nx, y + 4 * ny) for x, y in mids])) for nx, ny in sides]
    best = sides[0] if covered[0] <= covered[1] else sides[1]
    outside = min(covered) == 0
    if outside:
        near = any(math.dist(p, q) < 3.0 for p in wide for q in (start, end))
        found = [(best, _OFF_WIDE if near else _OFF)]
    elif len(drawn) > _MOST_ON_PAPER and math.dist(*drawn[0]) < _LONG_PART:
        return None
    else:
        found = [(side, _OFF_ON_PAPER) for side in sorted(sides, key=lambda n: n != best)]
    for (nx, ny), off in found:
        row = [(x + off * nx, y + off * ny) for x, y in (start, end)]
        free = outside or not _crossed(row[0], row[1], around)
        amid = min(covered) == len(mids)
        if free and _edges_across(row[0], row[1], around, _AT_ENDS if amid else 2.0) <= 1:
            return (nx, ny), off
    return None


def _crossed(start: Point, end: Point, around: Obstacles) -> bool:
    """Whether a fold line crosses the way between two points."""
    import shapely

    if not around.strokes:
        return False
    way = shapely.LineString([start, end])
    return bool(shapely.intersects(way, shapely.linestrings(around.strokes)).any())


def _edges_across(start: Point, end: Point, around: Obstacles, at_ends: float) -> int:
    """How many edges of the paper lie across the way between two points, but for so much at its ends."""
    import shapely

    if around.edges is None:
        return 0
    (x, y), (ux, uy) = start, toward(start, end)
    r = min(at_ends, math.dist(start, end) / 3)
    inner = [(x + r * ux, y + r * uy), (end[0] - r * ux, end[1] - r * uy)]
    meet = shapely.intersection(shapely.LineString(inner), around.edges)
    return int(shapely.get_num_geometries(meet)) if not meet.is_empty else 0
