"""What every page at true size carries: the sheet's lines, its corners' names, a ruler to check by.

In: the open sheet in points. Out: items for a page. Nothing here is ever scaled.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from ...drawing.scene.outlines import polyline
from ...drawing.scene.scene import Path, Point, Text
from ...drawing.sheet.true_sheet import TrueSheet
from ...geometry import polygons
from ...geometry.lines import Segment, between, distance, segment_distance
from ...geometry.polygons import edges
from .. import measures
from ..document import Block, Page, Placed
from ..parts import Part, PartKind
from ..sizes import POINTS_PER_MM
from ..typesetting import Typesetter, text_block

Box = tuple[float, float, float, float]


def placed(item: Path | Text) -> Placed:
    """An item at its own coordinates."""
    return Placed((0.0, 0.0), item)


def told(page: Page, says: str) -> Page:
    """The page with the lines of its sheet as one figure, which is read as these words."""
    sheet = Part(PartKind.FIGURE, instead=says)

    def part(item: Placed) -> Part | None:
        drawn = isinstance(item.content, Path) and not item.content.role.startswith("page.")
        return sheet if drawn else item.part

    return replace(page, items=tuple(replace(item, part=part(item)) for item in page.items))


def ruler() -> Block:
    """A line of exactly 50 mm with a tick every 10 mm, and its length below."""
    m, mm = measures.TRUE_SIZE, POINTS_PER_MM
    long = m.ruler * mm
    items = [Path("page.rule", polyline(((0.0, 0.0), (long, 0.0))))]
    for k in range(0, m.ruler + 1, m.ruler_step):
        deep = m.tick if k in (0, m.ruler) else m.tick_small
        items.append(Path("page.rule", polyline(((k * mm, 0.0), (k * mm, deep)))))
    at = (long / 2, m.ruler_label_at)
    label = Text("text.note", at, f"{m.ruler} mm", m.ruler_label, "middle")
    return Block(long, m.ruler_height, (*map(placed, items), placed(label)))


def inner_lines(sheet: TrueSheet, window: Box | None = None) -> list[Placed]:
    """The sheet's lines, those parts of them that lie in a window."""
    out: list[Placed] = []
    for line in sheet.lines:
        segment = line.segment if window is None else clipped(line.segment, window)
        if segment is not None:
            out.extend(map(placed, replace(line, segment=segment).paths))
    return out


def edge_lines(sheet: TrueSheet, window: Box) -> list[Placed]:
    """The sheet's edge, those parts of it that lie in a window."""
    role = sheet.edge.role
    sides = (side for ring in sheet.rings for side in polygons.edges(ring))
    found = (clipped(side, window) for side in sides)
    return [placed(Path(role, polyline(side))) for side in found if side is not None]


def clipped(segment: Segment, window: Box) -> Segment | None:
    """The part of a segment inside a box; None where there is none."""
    left, top, right, low = window
    corners = ((left, top), (right, top), (right, low), (left, low))
    part = polygons.clip_segment(corners, segment)
    long_enough = part is not None and distance(*part) > measures.TRUE_SIZE.shortest
    return part if long_enough else None


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
    lines = [*(line.segment for line in sheet.lines), *(s for r in sheet.rings for s in edges(r))]
    out: list[tuple[Point, Text]] = []
    for name, corner in sheet.corners:
        at = between(corner, middle, away / distance(corner, middle))
        if away > 0:
            at = _free_spot(corner, at, size, lines, sheet.outline)
        down = measures.TYPE.centred * size
        out.append((at, Text(role, (at[0], at[1] + down), name, size, "middle")))
    return out


def _free_spot(
    corner: Point, at: Point, size: float, lines: Sequence[Segment], outline: Sequence[Point]
) -> Point:
    """A place in the sheet near a corner that no line runs through, as near as there is one."""
    m = measures.TRUE_SIZE
    x, y = at[0] - corner[0], at[1] - corner[1]
    spots = [
        (corner[0] + k * (x * cos - y * sin), corner[1] + k * (x * sin + y * cos))
        for k in m.name_reaches
        for cos, sin in (
            (math.cos(turn), math.sin(turn)) for turn in map(math.radians, m.name_turns)
        )
    ]
    found = [
        (min(segment_distance(line, p) for line in lines), p) for p in spots if _within(outline, p)
    ]
    clear = m.text_clear * size
    first = next((p for room, p in found if room >= clear), None)
    return first or max(found, default=(0.0, at), key=lambda one: round(one[0], 3))[1]


def _within(outline: Sequence[Point], p: Point) -> bool:
    """Whether a point lies in a ring: a line to its right crosses it an odd number of times."""
    crossed = False
    for (ax, ay), (bx, by) in edges(tuple(outline)):
        if (ay > p[1]) is not (by > p[1]):
            crossed ^= p[0] < ax + (p[1] - ay) * (bx - ax) / (by - ay)
    return crossed


def step_numbers(
    sheet: TrueSheet, size: float, taken: Sequence[Point] = ()
) -> list[tuple[Point, Text]]:
    """A small number beside each line that a step has made, where no line runs through it.

    `taken` are the middles of other letters on the sheet. A line with no such place goes without where
    another one of its step has a number, or a stretch of it.
    """
    m, down = measures.TRUE_SIZE, measures.TYPE.centred
    out: list[tuple[Point, Text]] = []
    edge = [side for ring in sheet.rings for side in edges(ring)]
    lines = [*(line.segment for line in sheet.lines), *edge]
    told: set[int] = set()
    crowded: list[tuple[float, int, Point]] = []
    for line in sheet.lines:
        if not line.step or distance(*line.segment) < m.number_line * size:
            continue
        middles = [*taken, *(p for p, _ in out)]
        room, spot = _stand(line.segment, size, lines, middles)
        if room < m.text_clear * size:
            crowded.append((room, line.step, spot))
            continue
        told.add(line.step)
        out.append((spot, _number(line.step, spot, size, down)))
    for _, step, spot in sorted(crowded, reverse=True):
        if step not in told:
            told.add(step)
            out.append((spot, _number(step, spot, size, down)))
    return out


def _number(step: int, spot: Point, size: float, down: float) -> Text:
    return Text("text.soft", (spot[0], spot[1] + down * size), str(step), size, "middle")


def _stand(
    segment: Segment, size: float, lines: Sequence[Segment], taken: Sequence[Point]
) -> tuple[float, Point]:
    """The place beside a line that is freest, and how free it is."""
    m = measures.TRUE_SIZE
    far = m.number_beside * size
    spots = [
        _beside(segment, between(*segment, t), off) for t in m.number_places for off in (far, -far)
    ]

    def room(p: Point) -> float:
        near = [segment_distance(line, p) for line in lines]
        near += [distance(p, q) / m.number_apart for q in taken]
        return min(m.number_clear, *near)

    return max(((room(p), p) for p in spots), key=lambda one: round(one[0], 3))


def _beside(segment: Segment, p: Point, off: float) -> Point:
    """A point beside a line: above it, or right of an upright one."""
    (ax, ay), (bx, by) = segment
    long = distance(*segment)
    nx, ny = (by - ay) / long, (ax - bx) / long
    if ny > measures.ROUNDING or (abs(ny) <= measures.ROUNDING and nx < 0):
        nx, ny = -nx, -ny
    return (p[0] + off * nx, p[1] + off * ny)


def lines_of_text(
    texts: Sequence[str], width: float, size: float, typesetter: Typesetter, role: str = "text.note"
) -> Block:
    """Short paragraphs one below the other."""
    items: list[Placed] = []
    y = 0.0
    for text in texts:
        block = text_block(text, width, size, typesetter, role)
        items.extend(block.at(0.0, y))
        y += block.height + measures.TRUE_SIZE.between * size
    return Block(width, y, tuple(items))
