"""What a move did to the paper: which pieces moved, about which line, where the paper bends.

In: a `MoveRecord`. Out: `Fold` for a move about one line, `Moved` pieces for any move. All in folded
coordinates of the paper before the move unless a name says otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..folding.steps import MoveRecord
from ..geometry import polygons
from ..geometry.cover import union
from ..geometry.isometries import Isometry, compose, inverse, same_isometry
from ..geometry.lines import (
    Line,
    Point,
    Segment,
    distance,
    flipped,
    line_through,
    midpoint,
    mirrored,
    signed_distance,
)
from ..geometry.polygons import Polygon
from ..paper.flap import Flap, flap
from ..paper.signs import Arrow, FoldLine, PointSign, Sense
from ..paper.state import State
from ..source.diagnostics import Refusal
from .outline import CLOSE
from .stacks import joined, layers_near


@dataclass(frozen=True)
class Moved:
    """A piece of paper that a move carried elsewhere: its outline as it lay, and its motion."""

    facet: int  # of the state before
    outline: Polygon
    motion: Isometry


def moved_pieces(before: State, after: State) -> tuple[Moved, ...]:
    """Every piece of paper that lies elsewhere afterwards."""
    found: list[Moved] = []
    for i, old in enumerate(before.facets):
        for new in after.facets:
            motion = compose(new.place, inverse(old.place))
            if _still(motion):
                continue
            common = polygons.intersection(old.outline, new.outline)
            if common:
                outline = tuple(old.place(p) for p in common)
                found.append(Moved(i, polygons.counter_clockwise(outline), motion))
    return tuple(found)


def _still(motion: Isometry) -> bool:
    return same_isometry(motion, Isometry(1, 0, 0, 0, 1, 0))


@dataclass(frozen=True)
class Fold:
    """Paper that turns over about one line.

    Attributes
    ----------
    line : the moving side on its left
    crease : from end to end, where the paper bends
    parts : (facet, moving part) of the layers that move
    sense : valley: over on top; mountain: away underneath
    tail, head : the point that the script leads, and where it lands
    named : points that the script named as landmarks
    inside : whether it goes in between other layers
    """

    line: Line
    crease: Segment
    parts: tuple[tuple[int, Polygon], ...]
    sense: Sense
    tail: Point
    head: Point
    named: tuple[Point, ...]
    inside: bool = False

    def lands(self, p: Point) -> Point:
        return mirrored(self.line, p)

    def moves(self, p: Point) -> bool:
        """Whether a point lies on paper that moves, off the crease."""
        return signed_distance(self.line, p) > CLOSE and any(
            polygons.inside(part, p, CLOSE) for _, part in self.parts
        )


def fold_of(record: MoveRecord) -> Fold | None:
    """The one fold of a simple move, from its signs; None where it has no such form."""
    lines = [s for s in record.signs if isinstance(s, FoldLine)]
    arrows = [s for s in record.signs if isinstance(s, Arrow)]
    if len(lines) != 1 or not arrows or not lines[0].parts:
        return None
    ends = [p for _, seg in lines[0].parts for p in seg]
    arrow = arrows[0]
    crease = _longest(ends)
    line = line_through(*crease)
    if any(abs(signed_distance(line, p)) > 1e-6 for p in ends):
        return None
    if signed_distance(line, arrow.tail) < 0:
        line = flipped(line)
    moving = _moving(record, line, [i for i, _ in lines[0].parts])
    if moving is None:
        return None
    return Fold(
        line,
        crease,
        moving,
        lines[0].sense,
        arrow.tail,
        arrow.head,
        tuple(s.at for s in record.signs if isinstance(s, PointSign) and s.kind == "landmark"),
    )


def _longest(points: Sequence[Point]) -> Segment:
    """From one end to the other of points on a line."""
    pairs = ((p, q) for k, p in enumerate(points) for q in points[k + 1 :])
    return max(pairs, key=lambda s: round(distance(*s), 7))


def _moving(
    record: MoveRecord, line: Line, seeds: Sequence[int]
) -> tuple[tuple[int, Polygon], ...] | None:
    moved = moved_pieces(record.before, record.after)
    if moved:
        if any(not m.motion.flips for m in moved):
            return None
        return tuple((m.facet, m.outline) for m in moved)
    try:
        found: Flap = flap(record.before, line, seeds)
    except Refusal:
        return None
    return tuple(zip(found.facets, found.parts, strict=True))


def turned_flaps(record: MoveRecord) -> tuple[Fold, ...]:
    """Flaps that a move turned about folds or creases that were there, as folds; () for other moves."""
    moved = moved_pieces(record.before, record.after)
    if not moved or not all(
        m.motion.flips and same_isometry(m.motion, moved[0].motion) for m in moved
    ):
        return ()
    axis = _axis(moved[0].motion)
    out: list[Fold] = []
    for line in (axis, flipped(axis)):
        parts = [m for m in moved if signed_distance(line, polygons.centroid(m.outline)) > 0]
        if parts:
            out.append(_turned(record, line, parts))
    return tuple(sorted(out, key=lambda f: f.sense is Sense.MOUNTAIN))


def _axis(motion: Isometry) -> Line:
    """The line that a reflection leaves still; ValueError for one that also glides."""
    p = (0.0, 0.0)
    on = [midpoint(q, motion(q)) for q in (p, (1.0, 0.0), (0.0, 1.0))]
    a, b = max(((on[0], on[1]), (on[0], on[2]), (on[1], on[2])), key=lambda s: distance(*s))
    return line_through(a, b)


def _turned(record: MoveRecord, line: Line, parts: list[Moved]) -> Fold:
    points = [p for m in parts for p in m.outline]
    tail = max(points, key=lambda p: (round(signed_distance(line, p), 7), p))
    ends = [p for p in points if abs(signed_distance(line, p)) < CLOSE]
    held = [
        (i, ring) for i, ring in enumerate(record.before.placed) if all(m.facet != i for m in parts)
    ]
    above = [
        record.before.above(m.facet, i)
        for m in parts
        for i, ring in held
        if polygons.overlap(m.outline, ring)
    ]
    sense = Sense.VALLEY if all(x is not False for x in above) else Sense.MOUNTAIN
    pieces = tuple((m.facet, m.outline) for m in parts)
    crease = _longest(ends) if len(ends) > 1 else (tail, mirrored(line, tail))
    return Fold(
        line, crease, pieces, sense, tail, mirrored(line, tail), (tail, mirrored(line, tail))
    )


@dataclass(frozen=True)
class Amount:
    """Layers that move at a point, of all that lie there: those on 'top', those at the 'bottom', or ''."""

    moving: int
    all: int
    which: str


def amount(before: State, fold: Fold, p: Point) -> Amount:
    """How many of the layers at a point of the moving paper move."""
    inner = _just_inside(fold, p)
    stack = layers_near(before, p, inner)
    members = {i for i, part in fold.parts if polygons.inside(part, inner, CLOSE)}
    moving = [k for k, i in enumerate(stack) if i in members]
    n = len(moving)
    which = ""
    if moving == list(range(n)):
        which = "top"
    elif moving == list(range(len(stack) - n, len(stack))):
        which = "bottom"
    return Amount(n, len(stack), which)


def _just_inside(fold: Fold, p: Point) -> Point:
    """A place next to p on the paper that moves."""
    here = [part for _, part in fold.parts if polygons.inside(part, p, CLOSE)]
    part = max(here or [part for _, part in fold.parts], key=lambda r: round(polygons.area(r), 9))
    x, y = polygons.centroid(part)
    return (p[0] + (x - p[0]) * 2e-4, p[1] + (y - p[1]) * 2e-4)


def outline_of_parts(parts: Sequence[Polygon]) -> tuple[Polygon, ...]:
    """Outline of moving paper, counter-clockwise."""
    import shapely

    rings: list[Polygon] = []
    for part in shapely.get_parts(union(parts)):
        ring = shapely.get_coordinates(shapely.orient_polygons(part).exterior)[:-1]
        tidy = polygons.tidy((float(x), float(y)) for x, y in ring)
        if tidy:
            rings.append(tidy)
    return tuple(rings)


def fold_lines(record: MoveRecord) -> tuple[tuple[Sense, Segment], ...]:
    """The creases that a move folds along, straight ones joined."""
    out: list[tuple[Sense, Segment]] = []
    for sense in (Sense.VALLEY, Sense.MOUNTAIN):
        pieces = [
            seg
            for sign in record.signs
            if isinstance(sign, FoldLine) and sign.sense is sense
            for _, seg in sign.parts
        ]
        out += [(sense, s) for s in joined(pieces)]
    return tuple(out)
