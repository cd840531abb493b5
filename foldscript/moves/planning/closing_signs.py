"""The signs of units that are closed: where they bend, and what hands raise.

In: units that are put together flat, and the goal. Out: signs in folded coordinates: a valley at every crease
that is seen to bend, and for every end that hangs at one line an arrow from its far edge to that line, with
the right angle that all come to.
"""

from __future__ import annotations

from ...geometry.lines import (
    Point,
    Segment,
    distance,
    foot,
    line_through,
    midpoint,
    on_line,
    signed_distance,
)
from ...paper.signs import Arrow, FoldLine, RaisedAngle, Sense, Sign
from ...paper.state import State
from ...pose.goals import Close
from ...pose.packing import Closing

#: How far from a line is looked what lies there, and within which places are on it (sheet units).
_BESIDE, _ON = 1e-3, 1e-6
#: Degrees that units bend by.
_SQUARE = 90.0


def closing_signs(state: State, goal: Close) -> tuple[Sign, ...]:
    """A fold line for each crease in sight, and an arrow for each free end in sight."""
    closing = Closing(state, goal)
    facet = closing.pieces.facets
    folds: dict[frozenset[Point], tuple[int, Segment]] = {}
    hinges: dict[int, list[Segment]] = {}
    for k in closing.hinges:
        ends = closing.ends(k)
        sides = closing.pieces.seams[k].sides
        for piece in sides:
            hinges.setdefault(closing.bodies[piece], []).append(ends)
        seen = {top for at in _beside(ends) for top in state.facets_at(at)[:1]}
        shown = [facet[piece] for piece in sides if facet[piece] in seen]
        if shown:
            folds.setdefault(frozenset(_rounded(p) for p in ends), (shown[0], ends))
    signs: list[Sign] = [FoldLine(Sense.VALLEY, tuple(folds.values()))] if folds else []
    arrows: list[Arrow] = []
    for body, lines in sorted(hinges.items()):
        line = line_through(*lines[0])
        if not all(on_line(line, p) for ends in lines for p in ends):
            continue
        members = [k for k, one in enumerate(closing.bodies) if one == body]
        corners = [p for k in members for p in closing.flat[k]]
        far = max(abs(signed_distance(line, p)) for p in corners)
        tips = sorted({_rounded(p) for p in corners if abs(signed_distance(line, p)) > far - _ON})
        tip = midpoint(tips[0], tips[-1])
        there = foot(line, tip)
        if set(state.facets_at(midpoint(tip, there))[:1]) & {facet[k] for k in members}:
            arrows.append(Arrow("raise", tip, there))
    return (*signs, *arrows, *(RaisedAngle(a.tail, a.head, _SQUARE) for a in arrows))


def _beside(ends: Segment) -> tuple[Point, Point]:
    """Places on either side of the middle of a segment."""
    (px, py), (qx, qy) = ends
    n = distance(*ends) / _BESIDE
    (x, y), (dx, dy) = midpoint(*ends), ((py - qy) / n, (qx - px) / n)
    return (x + dx, y + dy), (x - dx, y - dy)


def _rounded(p: Point) -> Point:
    return round(p[0], 9), round(p[1], 9)
