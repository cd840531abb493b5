"""Where paper gives way beside walls: the creases that nobody names.

In: the paper as it lies, and creases that stand up. Out: further lines on the sheet. Where two of these
creases cross, four corners of paper meet: one stays, two stand up as walls, and the fourth is too much
between them. When both walls stand, it folds along the line that halves its angle, as in the corner of any
box folded from a sheet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..geometry import polygons
from ..geometry.lines import (
    Point,
    Segment,
    add,
    distance,
    line_through,
    meet,
    point_on_segment,
    scale,
    subtract,
    unit,
)
from ..paper.state import State
from .pieces import NEAR, cut_up
from .raising import alike, parts

#: How far from a crossing its corners are looked at (sheet units).
_BESIDE = 1e-3


@dataclass(frozen=True, slots=True)
class Gusset:
    """A corner between two walls.

    Attributes
    ----------
    line : on the sheet, from the corner of the floor to the rim
    freed : the rest of the first wall's crease, beyond the corner: it gives way when the second wall stands
        up
    stage : in which the second wall stands up
    """

    line: Segment
    freed: Segment
    stage: int


def gussets(state: State, walls: Sequence[tuple[int, Segment]]) -> list[Gusset]:
    """The corners between walls, given by the stage in which each stands up, and its crease."""
    walls = sorted(walls, key=lambda wall: wall[0])
    creases = [crease for _, crease in walls]
    pieces = cut_up(state, creases)
    if len(alike(pieces, pieces.on(creases))) > 2:
        return []  # nothing stays that could be a floor
    part = parts(pieces, pieces.on(creases))
    still = [pieces.polygon(k) for k, number in enumerate(part) if number == 0]
    outline = state.sheet.outline
    found: list[Gusset] = []
    for i, (stage, later) in enumerate(walls):
        for _, first in walls[:i]:
            at = meet(line_through(*first), line_through(*later))
            if at is None or not all(point_on_segment(s, at, NEAR) for s in (first, later)):
                continue
            if polygons.depth(outline, at) < _BESIDE:
                continue
            if any(distance(at, g.line[0]) < NEAR for g in found):
                continue
            stays = [
                (u, v)
                for u in _both(first)
                for v in _both(later)
                if any(polygons.depth(p, add(at, scale(add(u, v), _BESIDE))) > 0 for p in still)
            ]
            if len(stays) == 1:
                ((u, v),) = stays
                away = scale(unit(add(u, v)), -1.0)
                line, freed = ((at, _rim(outline, at, w)) for w in (away, scale(u, -1.0)))
                found.append(Gusset(line, freed, stage))
    return found


def _both(segment: Segment) -> tuple[Point, Point]:
    """The two ways along a segment."""
    way = unit(subtract(segment[1], segment[0]))
    return way, scale(way, -1.0)


def _rim(outline: polygons.Polygon, at: Point, way: Point) -> Point:
    """Where a ray from inside leaves the sheet."""
    far = polygons.clip_segment(outline, (at, add(at, scale(way, 2 * math.sqrt(2)))))
    assert far is not None
    return max(far, key=lambda p: distance(p, at))
