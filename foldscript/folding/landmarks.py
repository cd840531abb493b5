"""Which landmarks a figure needs: those by which a fold goes, of places that nothing seen shows.

In: the paper of a figure and all signs of its moves. Out: the signs without landmarks that nothing goes by,
and with guide lines where a landmark would stand on no line.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from itertools import combinations

from ..geometry.lines import (
    Line,
    Point,
    Segment,
    between,
    distance,
    dot,
    line_through,
    on_line,
    point_on_segment,
    same_line,
    subtract,
)
from ..geometry.tolerance import EPS, is_zero, same_point
from ..paper.in_sight import is_marked, seen_ways
from ..paper.signs import (
    Angle,
    Arrow,
    CutLine,
    EqualAngles,
    EqualLengths,
    FoldLine,
    GuideLine,
    Landmark,
    Measure,
    PointSign,
    Sign,
    landmark_points,
)
from ..paper.state import State

#: Where along the side of an angle its mark ends, at most, as a part of its length.
_NEAR = 0.3
#: Places along a line that are looked at.
_SPOTS = (0.1, 0.3, 0.5, 0.7, 0.9)


def with_landmarks(
    state: State, signs: Sequence[Sign], said: Collection[Landmark] = ()
) -> tuple[Sign, ...]:
    """The signs of a figure with the landmarks that it needs, and no others.

    `said` are those by which the words of a fold go.
    """
    kept = _Needed(state, signs, said)
    guides = kept.unseen()
    return (*(s for s in signs if not isinstance(s, Landmark) or s in kept.signs), *guides)


def _each_once(found: Sequence[Landmark]) -> list[Landmark]:
    """Landmarks without those that say of the same places what another one says."""
    out: list[Landmark] = []
    for sign in found:
        if not any(_says_the_same(sign, other) for other in out):
            out.append(sign)
    return out


def _says_the_same(sign: Landmark, other: Landmark) -> bool:
    if type(sign) is not type(other):
        return False
    here, there = landmark_points(sign), landmark_points(other)
    alike = len(here) == len(there) and all(map(same_point, here, there))
    if isinstance(sign, Measure) and isinstance(other, Measure):
        return alike and (sign.number, sign.unit) == (other.number, other.unit)
    return alike and not isinstance(sign, GuideLine)


class _Needed:
    """Landmarks that a fold of the figure goes by, directly or through others."""

    def __init__(self, state: State, signs: Sequence[Sign], said: Collection[Landmark]) -> None:
        self.state = state
        self.said = said
        self.marked: dict[Point, bool] = {}
        folds = [f for f in signs if isinstance(f, FoldLine | CutLine)]
        self.parts = [s for f in folds for _, s in f.parts if distance(*s) > EPS]
        self.lines = [line_through(*s) for s in self.parts]
        self.heads = [s.head for s in signs if isinstance(s, Arrow)]
        self.points = [s.at for s in signs if isinstance(s, PointSign) and s.kind == "landmark"]
        self.signs: list[Landmark] = []
        left = _each_once([s for s in signs if isinstance(s, Landmark)])
        while found := [s for s in left if self._goes_by(s)]:
            self.signs += found
            left = [s for s in left if s not in found]
            self.points += [p for s in found for p in _stands_on(s)]
        self.signs = [s for s in self.signs if not any(_parts_again(s, one) for one in self.signs)]

    def _goes_by(self, sign: Landmark) -> bool:
        match sign:
            case GuideLine():
                wanted = sign.through is None or self._wanted(sign.through)
                return wanted and not self._is_drawn(sign.segment, whole=True)
            case EqualLengths():
                inner = [p for _, p in sign.segments[:-1]]
                said = sign in self.said and not sign.anew
                if said and not all(self._seen(p) for p in inner):
                    return True
                return any(self._wanted(p) for p in inner)
            case Measure():
                said = sign in self.said and not sign.anew and self._goes_to(sign)
                return self._wanted(sign.end) or (said and not self._seen(sign.end))
            case Angle():
                fixes = line_through(sign.apex, sign.last)
                kept = (side for s in self.signs for side in _sides(s) if distance(*side) > EPS)
                lines = (*self.lines, *(line_through(*side) for side in kept))
                return any(same_line(fixes, line) for line in lines)
            case _:
                return True

    def _wanted(self, at: Point) -> bool:
        """Whether a fold goes by a place that nothing seen shows."""
        if not any(same_point(at, p) for p in self.points) or self._seen(at):
            return False
        through = [line for line in self.lines if on_line(line, at)]
        return not through or not all(map(self._plain, through))

    def _plain(self, line: Line) -> bool:
        """Whether an edge or a crease in sight runs along a fold line, or it joins two corners of these."""
        ends = [p for s in self.parts if same_line(line, line_through(*s)) for p in s]
        part = max(combinations(ends, 2), key=lambda s: distance(*s))
        return all(self._seen(p) for p in part) or all(
            self._along(line, between(*part, t)) for t in _SPOTS
        )

    def _goes_to(self, sign: Measure) -> bool:
        """Whether a fold runs through the end of a length, or paper lands along a line so far off."""
        way = subtract(sign.end, sign.start)
        lands = any(is_zero(dot(subtract(head, sign.end), way)) for head in self.heads)
        return lands or any(on_line(line, sign.end) for line in self.lines)

    def _seen(self, at: Point) -> bool:
        if at not in self.marked:
            self.marked[at] = is_marked(self.state, at)
        return self.marked[at]

    def unseen(self) -> tuple[GuideLine, ...]:
        """Guide lines where landmarks stand on no edge, no crease and no fold line."""
        guides = [s for s in self.signs if isinstance(s, GuideLine)]
        found: list[GuideLine] = []
        for sign in (s for s in self.signs if not isinstance(s, GuideLine)):
            for side in (s for s in _sides(sign) if distance(*s) > EPS):
                whole = isinstance(sign, EqualLengths)
                known = (self._is_drawn(side, whole=whole), _on_any(side, (*guides, *found)))
                if not any(known):
                    found.append(GuideLine(side))
        return tuple(found)

    def _is_drawn(self, side: Segment, *, whole: bool) -> bool:
        """Whether an edge, a crease or a fold line runs along a line, or along the first part of it."""
        spots = [between(*side, t) for t in (_SPOTS if whole else (_NEAR,))]
        line = line_through(*side)
        return sum(self._runs(line, spot) for spot in spots) > len(spots) // 2

    def _runs(self, line: Line, spot: Point) -> bool:
        return any(point_on_segment(part, spot) for part in self.parts) or self._along(line, spot)

    def _along(self, line: Line, spot: Point) -> bool:
        """Whether an edge or a crease in sight runs along a line at a place of it."""
        x, y = line.direction
        return any(
            abs(x * math.sin(w) - y * math.cos(w)) < 1e-4 for w in seen_ways(self.state, spot)
        )


def _stands_on(sign: Landmark) -> tuple[Point, ...]:
    """Places that a landmark needs itself."""
    match sign:
        case EqualLengths():
            return sign.segments[0][0], sign.segments[-1][1]
        case Measure():
            return (sign.start,)
        case Angle():
            return (sign.apex,)
        case GuideLine():
            return sign.segment
        case _:
            return ()


def _sides(sign: Landmark) -> tuple[Segment, ...]:
    """Lines that a landmark stands on."""
    match sign:
        case EqualAngles():
            return (sign.apex, sign.first), (sign.apex, sign.last)
        case Angle():
            return (sign.apex, sign.first), (sign.apex, sign.last)
        case GuideLine():
            return (sign.segment,)
        case EqualLengths():
            return ((sign.segments[0][0], sign.segments[-1][1]),)
        case _:
            return ()


def _parts_again(sign: Landmark, other: Landmark) -> bool:
    """Whether all places of a length, or of a row of equal parts, are marked by another row on the line."""
    if isinstance(sign, Measure) and isinstance(other, EqualLengths):
        marked = [other.segments[0][0], *(end for _, end in other.segments)]
        return all(any(same_point(p, q) for q in marked) for p in (sign.start, sign.end))
    if not (isinstance(sign, EqualLengths) and isinstance(other, EqualLengths)):
        return False
    few, many = len(sign.segments), len(other.segments)
    ends, whole = _stands_on(sign), _stands_on(other)
    alike = any(
        all(same_point(p, q) for p, q in zip(ends, way, strict=True))
        for way in (whole, whole[::-1])
    )
    return alike and few < many and many % few == 0


def _on_any(side: Segment, guides: Sequence[GuideLine]) -> bool:
    return any(all(point_on_segment(g.segment, p) for p in side) for g in guides)
