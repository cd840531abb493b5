"""Whether a reader can find a fold line: by what is seen of the paper, worked out apart from the drawing.

In: the paper as a figure shows it, its fold lines, and its landmarks as signs. Out: the lines that nothing
fixes. A line is found when one of the seven single-fold constructions makes it from points and lines that
are seen, or that other lines of the figure, found before it, have fixed; or when a landmark says where it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations, product

import shapely

from foldscript.folding.steps import Panel
from foldscript.geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    line_through,
    meet,
    mirrored,
    parallel,
    same_line,
    signed_distance,
)
from foldscript.paper.signs import (
    Angle,
    Arrow,
    CutLine,
    EqualAngles,
    EqualLengths,
    FoldLine,
    GuideLine,
    Measure,
    PointSign,
)
from foldscript.paper.state import State

#: Points and lines nearer than this are one (sheet units).
NEAR = 1e-5
#: Parts of a line shorter than this are specks.
SPECK = 1e-4


def seen_lines(state: State) -> list[Segment]:
    """Edges and creases as they are seen from the front, and from behind."""
    return [*_seen(state, front=True), *_seen(state, front=False)]


def _seen(state: State, *, front: bool) -> Iterator[Segment]:
    placed = [shapely.Polygon(ring) for ring in state.placed]
    for i, facet in enumerate(state.facets):
        ring = facet.outline
        sides = list(zip(ring, (*ring[1:], ring[0]), strict=True))
        inner = [piece for crease in state.creases if (piece := _clipped(facet.outline, crease))]
        over = [
            placed[j].buffer(-NEAR)
            for j in range(len(placed))
            if j != i and state.above(j, i) is front and placed[j].intersects(placed[i])
        ]
        hidden = shapely.union_all(over) if over else None
        for p, q in (*sides, *inner):
            line = shapely.LineString([facet.place(p), facet.place(q)])
            left = line if hidden is None else line.difference(hidden)
            for part in getattr(left, "geoms", [left]):
                if part.length > SPECK:
                    yield part.coords[0], part.coords[-1]


def _clipped(ring: Sequence[Point], seg: Segment) -> Segment | None:
    part = shapely.LineString(seg).intersection(shapely.Polygon(ring).buffer(NEAR / 10))
    if part.geom_type != "LineString" or part.length < SPECK:
        return None
    (x, y), (u, v) = part.coords[0], part.coords[-1]
    return (x, y), (u, v)


@dataclass
class Known:
    """What a reader can point at: lines with their ends, and points."""

    lines: list[Segment] = field(default_factory=list)
    points: list[Point] = field(default_factory=list)

    def add_line(self, seg: Segment) -> None:
        """A line, its ends, and where it meets those that are known."""
        for p in seg:
            self.add_point(p)
        one = line_through(*seg)
        for other in self.lines:
            at = meet(one, line_through(*other))
            if at is not None and _on(seg, at) and _on(other, at):
                self.add_point(at)
        self.lines.append(seg)

    def add_point(self, p: Point) -> None:
        if not any(distance(p, q) < NEAR for q in self.points):
            self.points.append(p)


def _on(seg: Segment, p: Point) -> bool:
    return abs(signed_distance(line_through(*seg), p)) < NEAR and (
        distance(seg[0], p) + distance(seg[1], p) < distance(*seg) + NEAR
    )


def _lies_on(line: Line, p: Point) -> bool:
    return abs(signed_distance(line, p)) < NEAR


def lines_of(panel: Panel) -> list[Segment]:
    """Every fold line and cut of a figure; pieces along one line together, from end to end."""
    groups: list[tuple[Line, list[Point]]] = []
    for sign in panel.signs:
        if not isinstance(sign, FoldLine | CutLine) or (isinstance(sign, FoldLine) and sign.opens):
            continue
        for _, seg in sign.parts:
            if distance(*seg) < SPECK:
                continue
            line = line_through(*seg)
            home = next((g for at, g in groups if _same(at, line)), None)
            if home is None:
                groups.append((line, list(seg)))
            else:
                home.extend(seg)
    return [max(combinations(points, 2), key=lambda s: distance(*s)) for _, points in groups]


def _same(a: Line, b: Line) -> bool:
    return same_line(a, b) or (
        parallel(a, b) and abs(abs(a.c) - abs(b.c)) < NEAR and a.nx * b.nx * a.c * b.c >= -NEAR
    )


def lost(panel: Panel) -> list[Segment]:
    """Fold lines of a figure that nothing fixes."""
    return _gone_through(panel)[1]


def lost_points(panel: Panel) -> list[tuple[str, Point]]:
    """Ringed points of a figure that bear a letter, and that nothing seen, found or told shows."""
    known, _ = _gone_through(panel)
    rings = [s.at for s in panel.signs if isinstance(s, PointSign) and s.kind == "landmark"]
    named = [(n, p) for n, p in panel.letters if any(distance(p, q) < NEAR for q in rings)]
    return [(n, p) for n, p in named if not _pointed(known, p)]


def lost_rings(panel: Panel) -> list[Point]:
    """Ringed points that nothing seen shows, no landmark, no line that a landmark or two known points fix,
    and no corner that comes to lie there by a fold that is found without.

    That some corner or edge happens to land on another one fixes no line here: a reader is shown but one
    arrow.
    """
    known, left = _at_first(panel)
    rings = [s.at for s in panel.signs if isinstance(s, PointSign) and s.kind == "landmark"]
    if all(_pointed(known, p) for p in rings):
        return []
    moved = [(s.tail, s.head) for s in panel.signs if isinstance(s, Arrow)]
    while found := [s for s in left if told_line(s, panel.signs, known) or _drawn_to(s, known)]:
        for seg in found:
            known.add_line(seg)
            for tail, head in moved:
                if (
                    _pointed(known, tail)
                    and distance(mirrored(line_through(*seg), tail), head) < NEAR
                ):
                    known.add_point(head)
        left = [seg for seg in left if seg not in found]
    return [p for p in rings if not _pointed(known, p)]


def _drawn_to(seg: Segment, known: Known) -> bool:
    """Whether a line goes through two known points, along a known line, or halves two known lines."""
    line = line_through(*seg)
    on = [p for p in known.points if _lies_on(line, p)]
    if any(distance(p, q) > 0.01 for p, q in combinations(on, 2)):
        return True
    images = [(mirrored(line, a), mirrored(line, b)) for a, b in known.lines]
    return any(
        _along(there, b) and not _along(a, b)
        for (a, there), b in product(zip(known.lines, images, strict=True), known.lines)
    )


def _gone_through(panel: Panel) -> tuple[Known, list[Segment]]:
    """What a reader of a figure can point at in the end, and the lines that are left."""
    known, left = _at_first(panel)
    while True:
        found = [seg for seg in left if told_line(seg, panel.signs, known) or fixed(seg, known)]
        if not found:
            return known, left
        for seg in found:
            known.add_line(seg)
        left = [seg for seg in left if seg not in found]


def _at_first(panel: Panel) -> tuple[Known, list[Segment]]:
    """What is seen of the paper and what landmarks show, and the lines that are to be found from it."""
    known = Known()
    for seg in seen_lines(panel.state):
        known.add_line(seg)
    for sign in panel.signs:
        for p in told_points(sign):
            known.add_point(p)
    return known, [
        *lines_of(panel),
        *(s.segment for s in panel.signs if isinstance(s, GuideLine)),
    ]


def told_points(sign: object) -> Iterable[Point]:
    """Points that a landmark shows."""
    if isinstance(sign, EqualLengths):
        return [p for seg in sign.segments for p in seg]
    if isinstance(sign, Measure):
        return (sign.end,)
    if isinstance(sign, PointSign) and sign.kind == "by-eye":
        return (sign.at,)
    return ()


def told_line(seg: Segment, signs: Sequence[object], known: Known) -> bool:
    """Whether a landmark says where a line runs."""
    line = line_through(*seg)
    for sign in signs:
        if (
            isinstance(sign, EqualAngles)
            and _lies_on(line, sign.apex)
            and _lies_on(line, sign.middle)
        ):
            return all(_drawn(known, (sign.apex, end)) for end in (sign.first, sign.last))
        if isinstance(sign, Angle) and _lies_on(line, sign.apex) and _lies_on(line, sign.last):
            return _drawn(known, (sign.apex, sign.first)) and _pointed(known, sign.apex)
        if isinstance(sign, Measure) and _lies_on(line, sign.end):
            way = line_through(sign.start, sign.end)
            square = abs(way.nx * line.nx + way.ny * line.ny) < NEAR
            return square and any(_on(k, sign.start) for k in known.lines)
    return False


def _pointed(known: Known, p: Point) -> bool:
    return any(distance(p, q) < NEAR for q in known.points)


def _drawn(known: Known, side: Segment) -> bool:
    return any(
        _lies_on(line_through(*seg), side[0]) and _lies_on(line_through(*seg), side[1])
        for seg in known.lines
    )


def fixed(seg: Segment, known: Known) -> bool:
    """Whether one of the seven constructions makes a line from what is known."""
    line = line_through(*seg)
    on = [p for p in known.points if _lies_on(line, p)]
    if any(distance(p, q) > 0.01 for p, q in combinations(on, 2)):
        return True  # through two points
    for other in known.lines:
        if _lies_on(line, other[0]) and _lies_on(line, other[1]):
            return True  # along a line that is there
    off = [p for p in known.points if not _lies_on(line, p)]
    images = [mirrored(line, p) for p in off]
    if any(distance(q, p) < NEAR for q in images for p in known.points):
        return True  # a point to a point
    square = [k for k in known.lines if _across(line, k)]
    if on and square:
        return True  # through a point, perpendicular to a line
    for a, b in combinations(known.lines, 2):
        there = (mirrored(line, a[0]), mirrored(line, a[1]))
        if _along(there, b) and not _along(a, b):
            return True  # a line onto a line
    landing = [
        (p, b)
        for p, q in zip(off, images, strict=True)
        for b in known.lines
        if _on(b, q) and not _lies_on(line_through(*b), p)
    ]
    if landing and on:
        return True  # a point onto a line, through a point
    if landing and square:
        return True  # a point onto a line, perpendicular to a line
    return any(
        distance(p, r) > 0.01 and not _same(line_through(*b), line_through(*c))
        for (p, b), (r, c) in combinations(landing, 2)
    )  # two points onto two lines


def _across(line: Line, seg: Segment) -> bool:
    """Whether a seen line is crossed at a right angle, so that it falls on itself."""
    other = line_through(*seg)
    if abs(line.nx * other.nx + line.ny * other.ny) > NEAR:
        return False
    a, b = signed_distance(line, seg[0]), signed_distance(line, seg[1])
    return a * b < NEAR and math.hypot(a, b) > NEAR


def _along(image: Segment, seg: Segment) -> bool:
    """Whether a moved line comes to lie along a seen one, and on a part of it."""
    line = line_through(*seg)
    if not (_lies_on(line, image[0]) and _lies_on(line, image[1])):
        return False
    x, y = line.direction
    a = sorted(x * p[0] + y * p[1] for p in image)
    b = sorted(x * p[0] + y * p[1] for p in seg)
    return min(a[1], b[1]) - max(a[0], b[0]) > SPECK
