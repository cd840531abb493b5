"""What was said about one part of the paper, said about its image under a symmetry.

In: values that words stood for when a statement was carried out, an isometry of the sheet, and the
paper as it lies now. Out: the values for the image, as if the words had been said of it. Points go
through the sheet (everything is paper); lines through the motion of the folded plane that belongs to
the isometry.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from ...geometry import polygons
from ...geometry.isometries import Isometry, compose, inverse, map_line, map_segment, nearly_same
from ...geometry.lines import Point, Segment, distance, midpoint
from ...geometry.polygons import Polygon
from ...geometry.tolerance import same_point
from ...moves.planning import called
from ...moves.planning.request import Clause, LineValue, PointValue, Value
from ...paper.seams import merged, remainder
from ...paper.state import State
from ..resolving.names import Names

_TURNED = {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}
_AXES: dict[str, Point] = {
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
    "up": (0.0, 1.0),
    "down": (0.0, -1.0),
}


@dataclass(frozen=True)
class Piece:
    """A piece of the sheet and how it lay before and after something was done."""

    outline: Polygon
    before: Isometry
    after: Isometry


@dataclass(frozen=True)
class Image:
    """How to say of an image what was said of the original.

    Attributes
    ----------
    then : the paper on which the words were looked up
    now : the paper on which they are said anew
    sheet : place of the original -> place of the image
    motion : where the original lay then -> where the image lies now
    names : everything the script has named
    renamed : names given inside the repeated steps -> what the repeat calls their images
    """

    then: State
    now: State
    sheet: Isometry
    motion: Isometry
    names: Names
    renamed: Mapping[str, str]

    def clause(self, clause: Clause) -> Clause:
        """A clause said of the image."""
        return Clause(
            self._word(clause.word), tuple(self.value(v) for v in clause.values), clause.span
        )

    def value(self, value: Value) -> Value:
        """A value as it is for the image."""
        if isinstance(value, PointValue):
            return self._point(value)
        if isinstance(value, LineValue):
            return self._line(value)
        return value

    def _word(self, word: str) -> str:
        m = self.motion
        if word in _TURNED:
            return _TURNED[word] if m.flips else word
        if word in _AXES:
            x, y = _AXES[word]
            image = (m.a * x + m.b * y, m.c * x + m.d * y)
            return next((w for w, at in _AXES.items() if distance(at, image) < 1e-6), word)
        return word

    def _point(self, value: PointValue) -> PointValue:
        if value.sheet is None:
            return replace(value, at=self.motion(value.at))
        sheet = self.sheet(value.sheet)
        at = self.now.where(sheet)
        facets = self._carriers(value.facets, value.at, at)
        letter = next((n for n, p in self.names.points.items() if same_point(p, sheet)), "")
        words = called.point(letter) if letter else value.words
        if letter in self.now.sheet.corner_names:
            words = called.corner(letter)
        return replace(value, at=at, facets=facets, sheet=sheet, letter=letter, words=words)

    def _line(self, value: LineValue) -> LineValue:
        segment = None if value.segment is None else map_segment(self.motion, value.segment)
        facets: list[int] = []
        for f in value.facets:
            part = polygons.clip_line(self.then.placed[f], value.line)
            if part is not None and value.segment is not None:
                part = polygons.clip_segment(self.then.placed[f], value.segment) or part
            if part is not None:
                spot = midpoint(*part)
                facets.extend(self._carriers((f,), spot, self.motion(spot)))
        return replace(
            value,
            line=map_line(self.motion, value.line),
            segment=segment,
            facets=tuple(dict.fromkeys(facets)),
            letters=(),
            others=tuple(map_line(self.motion, line) for line in value.others),
            name=self.renamed.get(value.name, ""),
            creases=tuple(map_segment(self.sheet, s) for s in value.creases),
        )

    def _carriers(self, facets: Sequence[int], spot: Point, image: Point) -> tuple[int, ...]:
        """Facets now that are the image of given ones where they held a spot, in the same order."""
        found: list[int] = []
        for f in facets:
            old = self.then.facets[f]
            p = self.sheet(inverse(old.place)(spot))
            outline = polygons.counter_clockwise(tuple(self.sheet(q) for q in old.outline))
            for k in self.now.top_down(self.now.facets_on_sheet(p)):
                new = self.now.facets[k]
                if polygons.overlap(outline, new.outline) and distance(new.place(p), image) < 1e-7:
                    found.append(k)
        return tuple(dict.fromkeys(found))


def moved_paper(before: State, after: State) -> list[Piece]:
    """The pieces of the sheet that lie elsewhere, or the other way up, afterwards."""
    found: list[Piece] = []
    if before.facets == after.facets:
        return found
    whole = {g.outline: g.place for g in after.facets}
    boxes = [polygons.bounds(f.outline) for f in after.facets]
    for f in before.facets:
        place = whole.get(f.outline)
        if place is not None:
            if not nearly_same(f.place, place):
                found.append(Piece(f.outline, f.place, place))
            continue
        box = polygons.bounds(f.outline)
        for g, other in zip(after.facets, boxes, strict=True):
            if _apart(box, other) or nearly_same(f.place, g.place):
                continue
            common = polygons.intersection(f.outline, g.outline)
            if common:
                found.append(Piece(common, f.place, g.place))
    return found


def astray(
    now: State, sheet: Isometry, motion: Isometry, pieces: Sequence[Piece], *, after: bool
) -> Iterator[Point]:
    """Places on the sheet, a facet each, that are not where the image of the pieces should lie."""
    there = [(f.outline, polygons.bounds(f.outline), compose(f.place, sheet)) for f in now.facets]
    for piece in pieces:
        wanted = compose(motion, piece.after if after else piece.before)
        outline = polygons.counter_clockwise(tuple(sheet(p) for p in piece.outline))
        box = polygons.bounds(outline)
        for other, around, place in there:
            if _apart(box, around) or nearly_same(place, wanted):
                continue
            common = polygons.intersection(outline, other)
            if common:
                yield polygons.centroid(common)


def uncreased(now: State, sheet: Isometry, creases: Sequence[Segment]) -> Point | None:
    """A place on the sheet where the image of a crease should be and is not; None if all are."""
    there = [*now.creases, *(j.segment for j in now.joints if j.folded)]
    for seg in remainder([map_segment(sheet, s) for s in creases], there):
        if distance(*seg) > 1e-6:
            return midpoint(*seg)
    return None


@dataclass(frozen=True)
class Trace:
    """Where on the sheet something was done: the paper that moved and the creases made."""

    pieces: tuple[Polygon, ...]
    creases: tuple[Segment, ...]

    def mapped(self, sheet: Isometry) -> Trace:
        """Its image."""
        return Trace(
            tuple(polygons.counter_clockwise(tuple(sheet(p) for p in q)) for q in self.pieces),
            tuple(map_segment(sheet, s) for s in self.creases),
        )

    def same(self, other: Trace) -> bool:
        """Whether it is the same paper and the same creases, however divided."""
        ours, theirs = self._lines, other._lines
        if bool(ours) != bool(theirs):
            return False
        if any(abs(a - b) > 1e-6 for a, b in zip(self._reach, other._reach, strict=True)):
            return False
        for one, two in ((ours, theirs), (theirs, ours)):
            if any(distance(*s) > 1e-7 for s in remainder(one, two)):
                return False
        here, there = self._paper, other._paper
        if abs(here.area - there.area) > 1e-9:
            return False
        return bool(here.symmetric_difference(there).area < 1e-9)

    @cached_property
    def _lines(self) -> list[Segment]:
        return merged(self.creases)

    @cached_property
    def _reach(self) -> tuple[float, ...]:
        return polygons.bounds(p for s in self._lines for p in s) if self._lines else ()

    @cached_property
    def _paper(self) -> Any:
        """The paper as one shapely geometry."""
        import shapely

        return shapely.union_all([shapely.Polygon(p) for p in self.pieces])

    def holds(self, p: Point) -> bool:
        """Whether a place on the sheet lies on the paper that moved, or where nothing moved on a crease."""
        if self.pieces:
            return any(polygons.inside(q, p, 1e-7) for q in self.pieces)
        return any(
            distance(a, p) + distance(p, b) <= distance(a, b) + 1e-7 for a, b in self.creases
        )

    @property
    def is_empty(self) -> bool:
        """Whether nothing was folded or creased."""
        return not self.pieces and not self.creases

    @property
    def middle(self) -> Point:
        """The middle of the largest piece, or of the longest crease."""
        if self.pieces:
            return polygons.centroid(max(self.pieces, key=lambda q: round(polygons.area(q), 9)))
        return midpoint(*max(self.creases, key=lambda s: round(distance(*s), 9)))


def _apart(a: Sequence[float], b: Sequence[float]) -> bool:
    return a[0] >= b[2] or b[0] >= a[2] or a[1] >= b[3] or b[1] >= a[3]
