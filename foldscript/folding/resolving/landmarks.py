"""How a point or a line is found that a script measures: landmarks, as signs for the figures.

In: the ends of a way and a part of it, a length, an angle, as the words of a statement give them. Out: the
signs that show it. A point that has got a name keeps its landmarks on its layer of the sheet, for as long as
the paper that they stand on lies straight.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ...geometry import lines as geo
from ...geometry import polygons
from ...geometry.isometries import Isometry, inverse
from ...geometry.lines import Line, Point, Segment
from ...geometry.tolerance import EPS, same, same_point
from ...moves.planning.request import Clause, LineValue, PointValue
from ...paper.in_sight import is_marked
from ...paper.signs import (
    Angle,
    EqualLengths,
    GuideLine,
    Landmark,
    Measure,
    landmark_moved,
    landmark_points,
)
from ...paper.state import State
from ...syntax import nodes
from .measured_anew import measured_anew, millimetres

#: Most equal parts that a figure marks; of more the length is told.
MOST_PARTS = 64
#: Words before what a fold does not go by.
_ASIDE = ("moving", "near", "holding", "keeping", "discarding", "under", "over", "into")
_SYMBOLS = {"mm": "mm", "cm": "cm", "inches": "in"}


def part(
    start: Point, end: Point, spot: Point, numerator: int, denominator: int, unit_mm: float
) -> tuple[Landmark, ...]:
    """A part of the straight way between two points: equal parts, or a length where they are too many."""
    if not 0 < numerator < denominator or same_point(start, end):
        return ()
    if denominator > MOST_PARTS:
        return (millimetres(start, spot, unit_mm),)
    spots = [geo.between(start, end, k / denominator) for k in range(denominator + 1)]
    return (EqualLengths(tuple(pairwise(spots))),)


def from_either(
    p: PointValue, q: PointValue, spot: PointValue, unit_mm: float
) -> tuple[Landmark, ...]:
    """A part of the way round a fold: its length from an end that no fold parts it from; () for none."""
    for end in (q, p):
        if spot.sheet is None or end.sheet is None or same_point(end.at, spot.at):
            continue
        if same(geo.distance(end.at, spot.at), geo.distance(end.sheet, spot.sheet)):
            return (millimetres(end.at, spot.at, unit_mm),)
    return ()


def measure(start: Point, end: Point, length: nodes.Length) -> Measure:
    """A length as the script writes it."""
    return Measure(start, end, length.number, _SYMBOLS[length.unit])


def strip(to: LineValue, drawn: Segment, length: nodes.Length) -> Measure:
    """How far a line runs from another one, at that end of it where the other one lies beside it."""
    feet = [(geo.foot(to.line, end), end) for end in drawn]
    beside = [pair for pair in feet if to.segment and geo.point_on_segment(to.segment, pair[0])]
    start, end = (beside or feet)[0]
    return measure(start, end, length)


def angle(
    apex: Point, to: LineValue, line: Line, drawn: Segment | None, degrees: float
) -> tuple[Landmark, ...]:
    """The angle of a line at a point to another line, or to one alongside that through the point."""
    if drawn is None:
        return ()
    last = max(drawn, key=lambda p: geo.distance(p, apex))
    way = geo.scale(geo.subtract(last, apex), 1 / max(geo.distance(last, apex), EPS))
    base = to.line.direction
    if geo.dot(base, way) < 0:
        base = (-base[0], -base[1])
    if not geo.on_line(to.line, apex):
        reach = geo.distance(last, apex)
        first = geo.add(apex, geo.scale(base, reach))
        return (Angle(apex, first, last, degrees),)
    ends = [p for p in to.segment or () if geo.dot(geo.subtract(p, apex), base) > EPS]
    first = max(ends, key=lambda p: geo.distance(p, apex)) if ends else None
    if first is None:  # the line lies on the other side of the point: its angle there
        base = (-base[0], -base[1])
        others = [p for p in to.segment or () if geo.dot(geo.subtract(p, apex), base) > EPS]
        reach = geo.distance(last, apex)
        first = (
            max(others, key=lambda p: geo.distance(p, apex))
            if others
            else geo.add(apex, geo.scale(base, reach))
        )
        degrees = 180 - degrees
    return (Angle(apex, first, last, degrees),)


def up_to(lines: Sequence[LineValue], spot: Point) -> tuple[Landmark, ...]:
    """Lines that meet at a place, drawn as far as there where they are no edges and no creases."""
    found: list[Landmark] = []
    for value in lines:
        if value.segment is not None:
            ends = sorted((*value.segment, spot), key=lambda p: geo.dot(p, value.line.direction))
            found.append(GuideLine((ends[0], ends[-1]), spot))
    return tuple(found)


def middle_lines(
    state: State, lines: Sequence[Line], through: Point | None
) -> tuple[Landmark, ...]:
    """Middle lines of the figure, as far as there is paper; `through` is a point that they are drawn for."""
    found: list[Landmark] = []
    for line in lines:
        ends = [p for ring in state.placed for p in polygons.clip_line(ring, line) or ()]
        if ends:
            low, high = (
                pick(ends, key=lambda p: geo.dot(p, line.direction)) for pick in (min, max)
            )
            found.append(GuideLine((low, high), through))
    return tuple(found)


@dataclass(frozen=True)
class Kept:
    """Landmarks of a named point: as they lay when it was named, and how its layer lay then."""

    signs: tuple[Landmark, ...]
    state: State
    place: Isometry
    at: Point

    def now(self, state: State) -> tuple[Landmark, ...]:
        """Those whose paper lies straight still, as it lies now; where none of them tells the point any
        more, one that what is seen beside it gives.
        """
        if state is self.state:
            return self.signs
        back = inverse(self.place)
        carriers = state.facets_on_sheet(self.at)
        if not carriers:
            return ()
        place = state.facets[state.top_down(carriers)[0]].place
        found: list[Landmark] = []
        for sign in self.signs:
            sheet = landmark_moved(sign, back)
            if all(_lies(state, p, place) for p in landmark_points(sheet)):
                found.append(landmark_moved(sheet, place))
            elif isinstance(sheet, EqualLengths):
                found += self._straight(state, sheet, place)
        spot = place(self.at)
        if not any(_tells(sign, spot) for sign in found):
            found += measured_anew(state, spot, found)
        return tuple(found)

    def _straight(
        self, state: State, sign: EqualLengths, place: Isometry
    ) -> Iterator[EqualLengths | Measure]:
        """What is left of equal parts that a fold bends: those up to the fold, or a length from one end."""
        parts, spot = sign.segments, place(self.at)
        here = next((k for k, (_, p) in enumerate(parts[:-1]) if same_point(p, self.at)), None)
        if here is None:
            return
        lies = [_lies(state, p, place) for p in (parts[0][0], *(q for _, q in parts))]
        first = max((k + 1 for k in range(here + 1) if not lies[k]), default=0)
        last = min((k - 1 for k in range(here + 2, len(lies)) if not lies[k]), default=len(parts))
        ends = [place(p) for p in (parts[first][0], parts[last - 1][1])]
        if first <= here < last - 1 and all(is_marked(state, p) for p in ends):
            yield EqualLengths(tuple((place(p), place(q)) for p, q in parts[first:last]))
            return
        for end in ends:
            if is_marked(state, end) and not same_point(end, spot):
                yield millimetres(end, spot, state.sheet.unit_mm)
                return


def _tells(sign: Landmark, spot: Point) -> bool:
    """Whether a landmark marks a place on a line that goes there."""
    return isinstance(sign, EqualLengths | Measure) and any(
        same_point(p, spot) for p in landmark_points(sign)
    )


def _lies(state: State, sheet: Point, place: Isometry) -> bool:
    """Whether a place of the sheet lies where one layer's motion would carry it."""
    at = place(sheet)
    return any(same_point(state.facets[i].place(sheet), at) for i in state.facets_on_sheet(sheet))


def landmarks_of(clauses: Sequence[Clause]) -> tuple[Landmark, ...]:
    """How all that the words of a statement stand for is found, where it is measured."""
    values = (v for clause in clauses if clause.word not in _ASIDE for v in clause.values)
    return tuple(
        s for value in values if isinstance(value, PointValue | LineValue) for s in value.found
    )


def kept(point: PointValue, state: State) -> Kept | None:
    """What is to be remembered of a point that gets a name."""
    if not point.found or not point.facets or point.sheet is None:
        return None
    return Kept(point.found, state, state.facets[point.facets[0]].place, point.sheet)
