"""The paper itself as ink: tinted and plain areas, edges, earlier creases.

In: what is visible. Out: `Path`s by role, in painting order.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import cast

from ...geometry.isometries import map_segment
from ...geometry.lines import Point, Segment, distance
from ...geometry.polygons import bounds, clip_segment
from ...paper.seams import merged
from ..scene.outlines import polyline
from ..scene.scene import Path
from ..scene.scene import Segment as Stroke
from ..scene.strokes import kept_short
from ..signs.paper_sides import role_on
from ..style.styles import Style
from .visible import Visible, line_points, line_strings, ring_points

#: Paper whose longest side is shorter than this is small: 30 mm (points).
_SMALL = 30 * 72 / 25.4
#: A new line this near to a crease runs along it (points).
_ALONG = 1.8
#: A line this near to an edge stands for it (points).
_ON = 0.9


def fills(visible: Visible, front_colour: str = "", back_colour: str = "") -> list[Path]:
    """Visible areas, a path for each plate."""
    out: list[Path] = []
    state = visible.state
    for facet, area in visible.fills:
        front = state.facets[facet].shows_front
        role = role_on(state, (front_colour, back_colour), facet, front)
        strokes: list[Stroke] = []
        for rings in ring_points(area):
            for ring in rings:
                strokes.extend(polyline(ring, closed=True))
        out.append(Path(role, tuple(strokes)))
    return out


def edges(visible: Visible, instead: Sequence[Segment] = ()) -> list[Path]:
    """Visible edges, those of layers behind first; none where lines on the page stand for them.

    Those of small paper are finer, so that its corners do not fill with ink.
    """
    out: list[Path] = []
    seen = visible.edges
    small = ".small" if is_small(visible.silhouette.bounds) else ""
    for role, lines in (
        ("edge.under", seen.under),
        (f"edge{small}.folded", seen.folded),
        (f"edge{small}.raw", seen.raw),
    ):
        strokes: list[Stroke] = []
        for points in line_points(lines):
            closed = len(points) > 3 and distance(points[0], points[-1]) < 1e-6
            if instead:
                left = [(run, _beside(run, instead, _ON)) for run in pairwise(points)]
                if any(parts != [run] for run, parts in left):
                    strokes.extend(s for _, parts in left for part in parts for s in polyline(part))
                    continue
            strokes.extend(polyline(points[:-1] if closed else points, closed))
        if strokes:
            out.append(Path(role, tuple(strokes)))
    return out


def is_small(bounds: Sequence[float]) -> bool:
    """Whether paper with these bounds (left, top, right, bottom on the page, in points) is a small figure."""
    return max(bounds[2] - bounds[0], bounds[3] - bounds[1]) < _SMALL


def creases(visible: Visible, style: Style, fresh: Sequence[Segment] = ()) -> list[Path]:
    """Visible earlier creases, each stopping short of the edges; none where `fresh` lines lie.

    `fresh` : new lines on the page.
    """
    import shapely

    taken, lines = _crease_parts(visible)
    if not taken:
        return []
    found = visible.seen([i for i, _ in taken], shapely.linestrings(lines))
    pieces = [line for geometry in found for line in line_strings(geometry)]
    if not pieces:
        return []
    seen = pieces[0]
    if len(pieces) > 1:
        seen = shapely.line_merge(cast("shapely.MultiLineString", shapely.multilinestrings(pieces)))
    runs = [left for run in _straight_runs(line_points(seen)) for left in _beside(run, fresh)]
    if not runs:
        return []
    strokes = kept_short(runs, visible.edge_lines, style.crease_inset)
    return [Path("crease", strokes)] if strokes else []


def _beside(run: Segment, fresh: Sequence[Segment], along: float = _ALONG) -> list[Segment]:
    """What is left of a crease or edge where no new line runs along it."""
    (ax, ay), (bx, by) = run
    n = math.dist(*run)
    if n < 1e-6:
        return []
    ux, uy = (bx - ax) / n, (by - ay) / n
    left = [(0.0, n)]
    for line in fresh:
        off = [ux * (y - ay) - uy * (x - ax) for x, y in line]
        if max(abs(d) for d in off) > along:
            continue
        lo, hi = sorted(ux * (x - ax) + uy * (y - ay) for x, y in line)
        left = [
            (s, e) for a, b in left for s, e in ((a, min(b, lo)), (max(a, hi), b)) if e - s > 0.5
        ]
    if len(left) == 1 and left[0][1] - left[0][0] > n - 1e-9:
        return [run]
    return [((ax + s * ux, ay + s * uy), (ax + e * ux, ay + e * uy)) for s, e in left]


def _crease_parts(visible: Visible) -> tuple[list[tuple[int, Segment]], list[Segment]]:
    """(facet, piece of a crease on the sheet) where anything may be seen of it, and it on the page."""
    state, view = visible.state, visible.view
    taken: list[tuple[int, Segment]] = []
    lines: list[Segment] = []
    if not state.creases:
        return taken, lines
    boxes = [(i, bounds(state.facets[i].outline)) for i in visible.shown]
    for crease in merged(state.creases):
        (px, py), (qx, qy) = crease
        for i, (x0, y0, x1, y1) in boxes:
            if max(px, qx) < x0 or min(px, qx) > x1 or max(py, qy) < y0 or min(py, qy) > y1:
                continue
            facet = state.facets[i]
            inside = clip_segment(facet.outline, crease)
            if inside is None or _on_edge(i, inside, taken):
                continue
            taken.append((i, inside))
            p, q = map_segment(facet.place, inside)
            lines.append((view(visible.spread.at(i, p)), view(visible.spread.at(i, q))))
    return taken, lines


def _on_edge(facet: int, part: Segment, taken: list[tuple[int, Segment]]) -> bool:
    """Whether the same piece of crease was taken on the neighbouring facet, or is an edge."""
    for other, done in taken:
        if other == facet:
            continue
        for a, b in ((0, 1), (1, 0)):
            if distance(done[a], part[0]) < 1e-7 and distance(done[b], part[1]) < 1e-7:
                return True
    return False


def _straight_runs(lines: tuple[tuple[Point, ...], ...]) -> list[Segment]:
    """Polylines cut at their bends; collinear pieces (up to layers drawn apart) in one."""
    out: list[Segment] = []
    for points in lines:
        start = points[0]
        for i in range(1, len(points)):
            here = points[i]
            if i + 1 < len(points):
                ahead = points[i + 1]
                turn = abs(
                    math.remainder(
                        math.atan2(ahead[1] - here[1], ahead[0] - here[0])
                        - math.atan2(here[1] - start[1], here[0] - start[0]),
                        2 * math.pi,
                    )
                )
                if turn < 0.06:
                    continue
            out.append((start, here))
            start = here
    return out
