"""What every page at true size carries: the sheet's lines, its corners' names, a ruler to check by.

In: the open sheet in points. Out: items for a page. Nothing here is ever scaled.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...drawing.scene.outlines import polyline
from ...drawing.scene.scene import Path, Point, Text
from ...drawing.sheet.true_sheet import SheetLine, TrueSheet
from ...geometry import polygons
from ...geometry.lines import Segment, between, distance
from ..document import Block, Placed
from ..sizes import POINTS_PER_MM
from ..text import Measure, text_block

RULER_MM = 50
_TICK, _SMALL_TICK = 6.0, 3.5
#: Where along its line a step's number may stand, best first.
_STANDS = (0.3, 0.7, 0.5, 0.2, 0.8, 0.4, 0.6, 0.1, 0.9)
#: Space that a number keeps from lines and other numbers where it can.
_CLEAR = 9.0

Box = tuple[float, float, float, float]


def placed(item: Path | Text) -> Placed:
    """An item at its own coordinates."""
    return Placed((0.0, 0.0), item)


def ruler() -> Block:
    """A line of exactly 50 mm with a tick every 10 mm, and its length below."""
    mm = POINTS_PER_MM
    long = RULER_MM * mm
    items = [Path("page.rule", polyline(((0.0, 0.0), (long, 0.0))))]
    for k in range(0, RULER_MM + 1, 10):
        deep = _TICK if k in (0, RULER_MM) else _SMALL_TICK
        items.append(Path("page.rule", polyline(((k * mm, 0.0), (k * mm, deep)))))
    label = Text("text.note", (long / 2, 13.0), f"{RULER_MM} mm", 8.0, "middle")
    return Block(long, 15.0, (*map(placed, items), placed(label)))


def inner_lines(sheet: TrueSheet, window: Box | None = None) -> list[Placed]:
    """The sheet's lines, those parts of them that lie in a window."""
    out: list[Placed] = []
    for line in sheet.lines:
        segment = line.segment if window is None else clipped(line.segment, window)
        if segment is not None:
            out.extend(map(placed, SheetLine(line.kind, segment).paths))
    return out


def edge_lines(sheet: TrueSheet, window: Box) -> list[Placed]:
    """The sheet's edge, those parts of it that lie in a window."""
    role = sheet.edge.role
    sides = zip(sheet.outline, (*sheet.outline[1:], sheet.outline[0]), strict=True)
    found = (clipped(side, window) for side in sides)
    return [placed(Path(role, polyline(side))) for side in found if side is not None]


def clipped(segment: Segment, window: Box) -> Segment | None:
    """The part of a segment inside a box; None where there is none."""
    left, top, right, low = window
    corners = ((left, top), (right, top), (right, low), (left, low))
    part = polygons.clip_segment(corners, segment)
    return part if part is not None and distance(*part) > 0.2 else None


def within(p: Point, window: Box, by: float = 0.0) -> bool:
    """Whether a point lies in a box, so far from its sides."""
    left, top, right, low = window
    return left + by <= p[0] <= right - by and top + by <= p[1] <= low - by


def corner_names(
    sheet: TrueSheet, size: float, away: float, role: str = "text.soft"
) -> list[tuple[Point, Text]]:
    """The corners' names, so far from their corners: inside the sheet, or outside where negative.

    Each comes with the point that it is centred on.
    """
    n = len(sheet.outline)
    middle = (sum(p[0] for p in sheet.outline) / n, sum(p[1] for p in sheet.outline) / n)
    out: list[tuple[Point, Text]] = []
    for name, corner in sheet.corners:
        at = between(corner, middle, away / distance(corner, middle))
        out.append((at, Text(role, (at[0], at[1] + 0.35 * size), name, size, "middle")))
    return out


def step_numbers(sheet: TrueSheet, size: float) -> list[tuple[Point, Text]]:
    """A small number at each line that a step has made, clear of other lines where there is room."""
    out: list[tuple[Point, Text]] = []
    for line in sheet.lines:
        if not line.step or distance(*line.segment) < 2 * size:
            continue
        others = [other.segment for other in sheet.lines if other is not line]
        at = _stand(line.segment, others, [p for p, _ in out])
        spot = _beside(line.segment, at, 0.62 * size)
        text = Text("text.soft", (spot[0], spot[1] + 0.35 * size), str(line.step), size, "middle")
        out.append((spot, text))
    return out


def _stand(segment: Segment, others: Sequence[Segment], taken: Sequence[Point]) -> Point:
    spots = [between(*segment, t) for t in _STANDS]

    def room(p: Point) -> float:
        near = [_from_segment(p, other) for other in others]
        near += [distance(p, q) / 1.6 for q in taken]
        return min(_CLEAR, *near) if near else _CLEAR

    return max(spots, key=lambda p: round(room(p), 3))


def _from_segment(p: Point, segment: Segment) -> float:
    (ax, ay), (bx, by) = segment
    dx, dy = bx - ax, by - ay
    long = dx * dx + dy * dy
    t = max(0.0, min(1.0, ((p[0] - ax) * dx + (p[1] - ay) * dy) / long)) if long > 0 else 0.0
    return distance(p, (ax + t * dx, ay + t * dy))


def _beside(segment: Segment, p: Point, off: float) -> Point:
    """A point beside a line: above it, or right of an upright one."""
    (ax, ay), (bx, by) = segment
    long = distance(*segment)
    nx, ny = (by - ay) / long, (ax - bx) / long
    if ny > 1e-6 or (abs(ny) <= 1e-6 and nx < 0):
        nx, ny = -nx, -ny
    return (p[0] + off * nx, p[1] + off * ny)


def lines_of_text(
    texts: Sequence[str], width: float, size: float, measure: Measure, role: str = "text.note"
) -> Block:
    """Short paragraphs one below the other."""
    items: list[Placed] = []
    y = 0.0
    for text in texts:
        block = text_block(text, width, size, measure, role)
        items.extend(block.at(0.0, y))
        y += block.height + 0.25 * size
    return Block(width, y, tuple(items))
