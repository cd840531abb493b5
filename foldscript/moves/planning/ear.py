"""The triangle of a rabbit ear: its corners, its incentre, and which way each part of it moves.

In: a flap's tip, the corner that the ear is to lie toward, the third corner. The side between these
two, the base, stays; the bisectors of all three corners bring the other two sides onto it, and the
paper at the tip, doubled along its own bisector and along a line from the incentre square to the side
that leads to the corner named, lies along the base as an ear.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from ...geometry.isometries import IDENTITY, Isometry, compose, reflection
from ...geometry.lines import (
    Line,
    Point,
    Segment,
    cross,
    distance,
    flipped,
    foot,
    line_through,
    signed_distance,
    subtract,
)
from ...geometry.polygons import Polygon, area, centroid
from ...geometry.tolerance import EPS
from ...paper.refold import Divided, divided


class EarPart(Enum):
    """The four parts that a rabbit ear's creases divide the triangle into."""

    BASE = "base"
    SIDE = "side"  # along the side from the tip to the third corner, with half of the ear
    FOOT = "foot"  # along the other side, as far as the foot
    EAR = "ear"  # the other half of the ear


@dataclass(frozen=True)
class Triangle:
    """Corners in the folded plane; `toward` is where the ear lies, `other` the third corner."""

    tip: Point
    toward: Point
    other: Point

    @property
    def flat(self) -> bool:
        """Whether the corners lie on one line."""
        return abs(cross(subtract(self.toward, self.tip), subtract(self.other, self.tip))) <= EPS

    @property
    def outline(self) -> Polygon:
        """Corners counter-clockwise."""
        ring = (self.tip, self.toward, self.other)
        return ring if area(ring) > 0 else ring[::-1]

    @property
    def centre(self) -> Point:
        """The incentre."""
        a = distance(self.toward, self.other)
        b = distance(self.tip, self.other)
        c = distance(self.tip, self.toward)
        n = a + b + c
        return (
            (a * self.tip[0] + b * self.toward[0] + c * self.other[0]) / n,
            (a * self.tip[1] + b * self.toward[1] + c * self.other[1]) / n,
        )

    @property
    def foot(self) -> Point:
        """Where the line from the incentre meets the side from the tip to `toward`."""
        return foot(line_through(self.tip, self.toward), self.centre)

    @property
    def base(self) -> Line:
        """The line of the base, the tip on its left."""
        return _facing(line_through(self.toward, self.other), self.tip)

    @property
    def landing(self) -> Point:
        """Where the tip lands."""
        return self.motion(EarPart.EAR)(self.tip)

    def creases(self) -> dict[EarPart, Segment]:
        """The crease that each part but the base turns on, seen from the side of the base; the
        tip's bisector, between the two halves of the ear, under BASE."""
        return {
            EarPart.BASE: (self.tip, self.centre),
            EarPart.SIDE: (self.other, self.centre),
            EarPart.FOOT: (self.toward, self.centre),
            EarPart.EAR: (self.foot, self.centre),
        }

    def part_of(self, p: Point) -> EarPart:
        """The part that a point of the triangle lies in."""
        if signed_distance(_facing(line_through(self.tip, self.centre), self.other), p) > 0:
            line = _facing(line_through(self.other, self.centre), self.tip)
            return EarPart.SIDE if signed_distance(line, p) > 0 else EarPart.BASE
        line = _facing(line_through(self.toward, self.centre), self.tip)
        if signed_distance(line, p) <= 0:
            return EarPart.BASE
        line = _facing(line_through(self.foot, self.centre), self.tip)
        return EarPart.EAR if signed_distance(line, p) > 0 else EarPart.FOOT

    def motion(self, part: EarPart) -> Isometry:
        """How a part moves."""
        if part is EarPart.BASE:
            return IDENTITY
        mirror = {k: reflection(line_through(*seg)) for k, seg in self.creases().items()}
        if part is EarPart.EAR:
            return compose(mirror[EarPart.FOOT], mirror[EarPart.EAR])
        return mirror[part]

    def divide(self, fine: Divided, members: frozenset[int]) -> Divided:
        """Divides facets (of the undivided state) along the base and, beyond it, the creases."""
        fine = self._cut(fine, members, self.base, None)
        tip_line = line_through(self.tip, self.centre)
        fine = self._cut(fine, members, tip_line, ())
        for corner in (self.other, self.toward):
            beside = _facing(tip_line, corner)
            fine = self._cut(fine, members, line_through(corner, self.centre), (beside,))
        beside = (
            _facing(tip_line, self.toward),
            _facing(line_through(self.toward, self.centre), self.tip),
        )
        return self._cut(fine, members, line_through(self.foot, self.centre), beside)

    def _cut(
        self, fine: Divided, members: frozenset[int], line: Line, within: tuple[Line, ...] | None
    ) -> Divided:
        """Cuts along a line what lies in the triangle left of other lines (everywhere: None)."""
        sides = () if within is None else (self.base, *within)
        middles = [centroid(p) for p in fine.state.placed]
        chosen = [
            k
            for k, p in enumerate(fine.parent)
            if p in members and all(signed_distance(side, middles[k]) > 0 for side in sides)
        ]
        return divided(fine, line, chosen)


def _facing(line: Line, p: Point) -> Line:
    return line if signed_distance(line, p) > 0 else flipped(line)
