"""Lines to be folded, cut or used as guides.

In: the fold, cut and guide signs of a figure and what is visible. Out: `Path`s by role. A fold line
is one path from edge to edge where it can be seen, whatever number of layers it runs through, and
dots where it runs behind other layers. In the slit between two flaps it lies where it truly is, and
stands for their edges; along the edge of one flap it lies where that edge is drawn, and stands for it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ...geometry.lines import Point, Segment, cross, distance, dot, subtract
from ...paper.signs import Arrow, CutLine, FoldLine, GuideLine
from ..offsets.half_edges import HalfEdge
from ..scene.outlines import Box, item_box, polyline
from ..scene.scene import Path
from ..signs.glyph import LineGlyph
from ..signs.line_cut import scissors
from ..signs.registry import glyph_for
from .runs import Run, found, sides, unseen
from .visible import Visible, line_strings

#: A line behind layers, along the edge of one, is drawn this far beside it (points).
_CLEAR = 1.4


@dataclass(frozen=True)
class DrawnLines:
    """Paths, the keys of the signs used, and the strokes as lines on the page (for placing arrows).

    instead : strokes that stand for the edges they lie on; boxes : round scissors
    """

    paths: tuple[Path, ...]
    signs: frozenset[str]
    strokes: tuple[Segment, ...]
    instead: tuple[Segment, ...] = ()
    boxes: tuple[Box, ...] = ()


NONE = DrawnLines((), frozenset(), ())


def fold_lines(
    visible: Visible,
    signs: Sequence[FoldLine | CutLine | GuideLine],
    arrows: Sequence[Arrow] = (),
) -> DrawnLines:
    """All line signs of a figure; its arrows tell on which side of a line paper moves."""
    paths: list[Path] = []
    used: set[str] = set()
    strokes: list[Segment] = []
    instead: list[Segment] = []
    boxes: list[Box] = []
    each_line = [found(visible, s.parts) for s in signs if not isinstance(s, GuideLine)]
    whole = [line for lines in each_line for line in lines]
    each = iter(each_line)
    for sign in signs:
        key = glyph_for(sign, LineGlyph).key
        used.add(key)
        if isinstance(sign, GuideLine):
            ends = (visible.view(sign.segment[0]), visible.view(sign.segment[1]))
            paths.append(Path(key, polyline(ends)))
            continue
        runs: list[Segment] = []
        role = f"fold.{sign.sense.value}" if isinstance(sign, FoldLine) else key
        for line in next(each):
            origin, direction, seen = line.origin, line.direction, line.seen
            hidden = unseen(line, whole, 2.0 / visible.view.scale)
            moving = _moving_side(origin, direction, arrows)
            for run in seen:
                true = _true_ends(visible, origin, direction, run)
                ends, stands_for_edge = _ends(visible, origin, direction, run)
                if stands_for_edge:
                    instead.append(ends)
                paths.append(Path(role, polyline(ends)))
                strokes += [ends, true]
                runs.append(ends)
            for run in hidden:
                ends = _hidden_ends(visible, origin, direction, run, moving)
                paths.append(Path("fold.hidden", polyline(ends)))
                strokes.append(ends)
                used.add("fold.hidden")
        if isinstance(sign, CutLine) and runs:
            start = visible.view(sign.parts[0][1][0])
            tool = scissors(_from_start(start, runs), clear=True)
            paths.extend(tool)
            boxes.extend(box for path in tool if (box := item_box(path)) is not None)
    return DrawnLines(tuple(paths), frozenset(used), tuple(strokes), tuple(instead), tuple(boxes))


def _from_start(start: Point, runs: Sequence[Segment]) -> Segment:
    """The stretch of a cut that begins nearest to where the scissors do, from there."""
    both = [way for run in runs for way in (run, (run[1], run[0]))]
    return min(both, key=lambda way: round(distance(way[0], start), 3))


def _moving_side(origin: Point, direction: Point, arrows: Sequence[Arrow]) -> Point | None:
    """Normal of a line that points to the paper which an arrow carries across it."""
    n = (-direction[1], direction[0])
    for arrow in arrows:
        tail, head = (dot(subtract(p, origin), n) for p in (arrow.tail, arrow.head))
        shift = dot(subtract(arrow.head, arrow.tail), direction)
        if abs(tail) > 1e-6 and abs(tail + head) < 1e-6 and abs(shift) < 1e-6:
            return n if tail > 0 else (-n[0], -n[1])
    return None


def _spots(visible: Visible, origin: Point, direction: Point, run: Run) -> Segment:
    """Ends of an interval in folded coordinates, as its layers are drawn apart."""

    def spot(t: float, facet: int) -> Point:
        p = (origin[0] + t * direction[0], origin[1] + t * direction[1])
        return visible.spread.at(facet, p)

    return spot(run.lo, run.first), spot(run.hi, run.last)


def _ends(visible: Visible, origin: Point, direction: Point, run: Run) -> tuple[Segment, bool]:
    """Ends of an interval on the page, and whether it stands for edges that lie there."""
    side, is_slit = _open_side(visible, origin, direction, run)
    if is_slit:
        return _true_ends(visible, origin, direction, run), True
    if side is not None:
        ends = _on_edge(visible, origin, direction, run)
        return _on_paper(visible, (visible.view(ends[0]), visible.view(ends[1]))), True
    ends = _spots(visible, origin, direction, run)
    return (visible.view(ends[0]), visible.view(ends[1])), False


def _on_edge(visible: Visible, origin: Point, direction: Point, run: Run) -> Segment:
    """Ends of an interval where the uppermost edges that it runs along are drawn."""
    state, spread = visible.state, visible.spread
    shown = set(visible.shown)
    half_edges: list[tuple[float, float, HalfEdge]] = []
    for half_edge in spread.half_edges:
        if half_edge.facet not in shown or not (
            state.above(half_edge.facet, run.first) or state.above(half_edge.facet, run.last)
        ):
            continue
        if any(abs(cross(subtract(p, origin), direction)) > 1e-7 for p in half_edge.segment):
            continue
        lo, hi = sorted(dot(subtract(p, origin), direction) for p in half_edge.segment)
        half_edges.append((lo, hi, half_edge))

    def at(t: float, facet: int) -> Point:
        here = (origin[0] + t * direction[0], origin[1] + t * direction[1])
        found = [half_edge.facet for lo, hi, half_edge in half_edges if lo - 1e-6 < t < hi + 1e-6]
        top = next((i for i in found if not any(state.above(j, i) for j in found)), facet)
        return spread.at(top, here)

    return at(run.lo, run.first), at(run.hi, run.last)


def _on_paper(visible: Visible, line: Segment) -> Segment:
    """The longest part of a line that lies on the paper; all of it where it only passes beside.

    A line along the very edge of the paper lies on it, whichever way its numbers were rounded.
    """
    import shapely

    inside = shapely.intersection(shapely.LineString(line), visible.reach)
    parts = line_strings(inside)
    if not parts:
        return line
    start, *_, end = shapely.get_coordinates(max(parts, key=shapely.length)).tolist()
    return (start[0], start[1]), (end[0], end[1])


def _hidden_ends(
    visible: Visible, origin: Point, direction: Point, run: Run, moving: Point | None
) -> Segment:
    """Ends of an interval behind other layers: clear of their edges, on the side that moves."""
    ends = _spots(visible, origin, direction, run)
    if moving is not None:
        ends = _beside_edge(visible, origin, direction, run, ends, moving)
    return visible.view(ends[0]), visible.view(ends[1])


def _true_ends(visible: Visible, origin: Point, direction: Point, run: Run) -> Segment:
    """Where the line would be with no layer drawn aside."""
    (x, y), (u, v) = origin, direction
    return (
        visible.view((x + run.lo * u, y + run.lo * v)),
        visible.view((x + run.hi * u, y + run.hi * v)),
    )


def _open_side(
    visible: Visible, origin: Point, direction: Point, run: Run
) -> tuple[Point | None, bool]:
    """Where a line runs along the edge of layers above it: the normal that points away from them.

    And whether it lies in the slit between two flaps instead.
    """
    n = (-direction[1], direction[0])
    slit = 0
    spots = ((run.first, 1), (run.first, 4), (run.last, 8), (run.last, 11))
    for facet, k in spots:
        t = run.lo + (run.hi - run.lo) * k / 12
        spot = (origin[0] + t * direction[0], origin[1] + t * direction[1])
        left, right = sides(visible, facet, spot, direction)
        if left and right:
            slit += not left & right
        elif left or right:
            return ((-n[0], -n[1]) if left else n), False
    return None, slit > 0


def _beside_edge(
    visible: Visible, origin: Point, direction: Point, run: Run, ends: Segment, away: Point
) -> Segment:
    """The line just clear of those edges, however they are drawn apart."""
    state, spread = visible.state, visible.spread
    reach: float | None = None
    for half_edge in spread.half_edges:
        if any(abs(cross(subtract(p, origin), direction)) > 1e-7 for p in half_edge.segment):
            continue
        lo, hi = sorted(dot(subtract(p, origin), direction) for p in half_edge.segment)
        if hi < run.lo + 1e-6 or lo > run.hi - 1e-6 or not state.above(half_edge.facet, run.first):
            continue
        out = max(dot(spread.moves[v], away) for v in (half_edge.start, half_edge.end))
        reach = out if reach is None else max(reach, out)
    if reach is None:
        return ends
    off = reach + _CLEAR / visible.view.scale

    def moved(p: Point) -> Point:
        now = dot(subtract(p, origin), away)
        k = max(0.0, off - now)
        return (p[0] + k * away[0], p[1] + k * away[1])

    return moved(ends[0]), moved(ends[1])


def stroke_points(strokes: Sequence[Segment], step: float = 2.5) -> list[Point]:
    """Points along strokes, at most `step` apart."""
    out: list[Point] = []
    for a, b in strokes:
        n = max(1, math.ceil(math.dist(a, b) / step))
        out.extend(
            (a[0] + (b[0] - a[0]) * k / n, a[1] + (b[1] - a[1]) * k / n) for k in range(n + 1)
        )
    return out
