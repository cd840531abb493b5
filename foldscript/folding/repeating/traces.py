"""What was done to the paper, and where on the sheet: pieces that moved, creases that were made.

In: two states of one sheet. Out: the `Piece`s that lie elsewhere in the second, with both placements;
a `Trace` of pieces and creases; and whether the image of these under an isometry of the sheet lies as
it should.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from ...geometry import polygons
from ...geometry.cover import less, union
from ...geometry.isometries import Isometry, compose, map_segment, nearly_same
from ...geometry.lines import Point, Segment, distance, midpoint
from ...geometry.polygons import Polygon
from ...moves.planning.request import MoveRecord
from ...paper.creases import cuts_made
from ...paper.overlaps import apart
from ...paper.seams import merged, remainder
from ...paper.state import State

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry


@dataclass(frozen=True)
class Piece:
    """A piece of the sheet and how it lay before and after something was done."""

    outline: Polygon
    before: Isometry
    after: Isometry


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
            if apart(box, other) or nearly_same(f.place, g.place):
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
            if apart(box, around) or nearly_same(place, wanted):
                continue
            common = polygons.intersection(outline, other)
            if common:
                yield polygons.centroid(common)


def lines_made(record: MoveRecord) -> tuple[Segment, ...]:
    """The creases of a move, and where it has cut."""
    return (*record.creases, *cuts_made(record.before, record.after))


def uncreased(now: State, sheet: Isometry, creases: Sequence[Segment]) -> Point | None:
    """A place on the sheet where the image of a crease or cut should be and is not; None if all are."""
    folds = (j.segment for j in now.joints if j.folded)
    there = [*now.creases, *folds, *now.cuts, *now.sheet.sides]
    for seg in remainder([map_segment(sheet, s) for s in creases], there):
        if distance(*seg) > 1e-6:
            return midpoint(*seg)
    return None


def creased_besides(
    before: State, now: State, sheet: Isometry, creases: Sequence[Segment]
) -> Point | None:
    """A place on the sheet with a new crease that is no image of these; None where there is none."""
    there, made = (
        [*state.creases, *(j.segment for j in state.joints if j.folded)] for state in (before, now)
    )
    for seg in remainder(made, [*there, *(map_segment(sheet, s) for s in creases)]):
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
        return less(here, there).area + less(there, here).area < 1e-9

    @cached_property
    def _lines(self) -> list[Segment]:
        return merged(self.creases)

    @cached_property
    def _reach(self) -> tuple[float, ...]:
        return polygons.bounds(p for s in self._lines for p in s) if self._lines else ()

    @cached_property
    def _paper(self) -> BaseGeometry:
        """The paper as one shapely geometry."""
        return union(self.pieces)

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
