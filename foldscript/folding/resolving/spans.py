"""How far lines reach on paper: rims of the sheet, hulls of segments."""

from __future__ import annotations

from ...geometry import lines as geo
from ...geometry.lines import Line, Point, Segment
from ...geometry.tolerance import same
from ...paper.sheet import Sheet

#: How the ends of a line are told.
SIDE_WORDS = {"left": "left", "right": "right", "top": "upper", "bottom": "lower"}


def rim_side(sheet: Sheet, p: Point, q: Point) -> Segment | None:
    """The sheet's edge that holds both points, if one does."""
    for side in sheet.all_sides:
        if geo.point_on_segment(side, p) and geo.point_on_segment(side, q):
            return side
    return None


def from_left(segment: Segment) -> Segment:
    """The segment from its left end, or from its lower one when it is upright."""
    start, end = sorted(segment)
    if same(start[0], end[0]) and start[1] > end[1]:
        start, end = end, start
    return start, end


def ends_by_side(segment: Segment) -> dict[str, Point]:
    """Its two ends by the words that tell them apart: first those that say best how the segment runs.

    'left' and 'right' for one that is nearly level, 'bottom' and 'top' for a steep one; of a slanting
    one all four, of a level or upright one only two.
    """
    (x0, y0), (x1, y1) = segment
    level: dict[str, Point] = {}
    upright: dict[str, Point] = {}
    if not same(x0, x1):
        level = dict(zip(("left", "right"), sorted(segment), strict=True))
    if not same(y0, y1):
        low, high = sorted(segment, key=lambda p: p[1])
        upright = {"bottom": low, "top": high}
    steep = abs(y1 - y0) > abs(x1 - x0) and not same(abs(y1 - y0), abs(x1 - x0))
    return {**upright, **level} if steep else {**level, **upright}


def hull(segments: list[Segment]) -> Segment | None:
    """From the first to the last point of collinear segments."""
    if not segments:
        return None
    points = [p for s in segments for p in s]
    a = points[0]
    p = max(points, key=lambda x: round(geo.distance(a, x), 12))
    q = max(points, key=lambda x: round(geo.distance(p, x), 12))
    return (q, p) if (q[0], q[1]) <= (p[0], p[1]) else (p, q)


def by_line(tagged: list[tuple[int, Segment]]) -> list[tuple[Line, list[tuple[int, Segment]]]]:
    """Segments with their tags, those along one line together."""
    groups: list[tuple[Line, list[tuple[int, Segment]]]] = []
    for tag, seg in tagged:
        home = next(
            (g for at, g in groups if geo.on_line(at, seg[0]) and geo.on_line(at, seg[1])), None
        )
        if home is None:
            groups.append((geo.line_through(*seg), [(tag, seg)]))
        else:
            home.append((tag, seg))
    return groups
