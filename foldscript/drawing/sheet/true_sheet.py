"""The open sheet at its true size, with its lines: for crease patterns and practice sheets.

In: a folded model. Out: a `TrueSheet`: outline, corners and lines in points (1/72 inch) on paper
printed at 100 %, y down, the sheet's front towards the reader, its top left corner at (0, 0).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, pairwise

from ...folding.steps import Model, Step
from ...geometry.isometries import inverse, map_segment
from ...geometry.lines import Point, Segment, distance, midpoint, overlap_of, point_on_segment
from ...geometry.polygons import bounds
from ...geometry.tolerance import is_zero
from ...paper.creases import CreasePattern, Kind, crease_pattern, creases_made, cut_edges
from ...paper.sheet import Sheet
from ...paper.signs import FoldLine, Sense
from ...paper.state import State
from ...paper.union_find import UnionFind
from ..scene.outlines import polyline
from ..scene.scene import Path, Scene
from ..signs.line_cut import scissors

POINTS_PER_MM = 72.0 / 25.4
#: What each kind of line is drawn as.
ROLES = {
    Kind.EDGE: "edge.raw",
    Kind.MOUNTAIN: "fold.mountain",
    Kind.VALLEY: "fold.valley",
    Kind.CREASE: "crease",
    Kind.CUT: "line.cut",
}
#: Space about a pattern that stands alone, in points.
_MARGIN = 8.0
#: Ends of lines nearer than this are one (points).
_SAME = 0.01


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A line of the sheet; `step` is the number of the step that made it, 0 when that is not told.

    tool : whether scissors stand at its start
    """

    kind: Kind
    segment: Segment
    step: int = 0
    tool: bool = False

    @property
    def paths(self) -> tuple[Path, ...]:
        """The line as it is drawn, with scissors where a cut begins."""
        line = Path(ROLES[self.kind], polyline(self.segment))
        return (line, *scissors(self.segment)) if self.tool else (line,)


@dataclass(frozen=True)
class TrueSheet:
    """The open sheet at true size.

    Attributes
    ----------
    width, height : of the box about it
    outline, holes, corners : its rim, those of its holes, and the corners that have names with their places
    lines : in painting order; the sheet's edges are not among them
    lowest : names of the corner, or of the edge's two corners, that lie at the bottom in the
        beginning; () where neither does
    turn : angle in radians, counter-clockwise, by which it is turned before the first step
    """

    width: float
    height: float
    outline: tuple[Point, ...]
    corners: tuple[tuple[str, Point], ...]
    lines: tuple[SheetLine, ...]
    lowest: tuple[str, ...] = ()
    holes: tuple[tuple[Point, ...], ...] = ()
    turn: float = 0.0

    @property
    def upright(self) -> bool:
        """Whether it lies with the same edges level and upright before the first step."""
        return is_zero(math.sin(2 * self.turn))

    @property
    def rings(self) -> tuple[tuple[Point, ...], ...]:
        """The rim and those of the holes."""
        return (self.outline, *self.holes)

    @property
    def edge(self) -> Path:
        """The sheet's edge as one outline, with those of its holes."""
        strokes = (stroke for ring in self.rings for stroke in polyline(ring, closed=True))
        return Path(ROLES[Kind.EDGE], tuple(strokes))


def finished_pattern(model: Model) -> TrueSheet:
    """Every line of the finished model on what is left of its sheet."""
    left = model.finished.sheet
    return _sheet(model, left, _lines(left, crease_pattern(model.finished)))


def lines_of_steps(model: Model, first: int, last: int) -> TrueSheet:
    """The lines that the steps from `first` to `last` make, each with its step's number.

    A line that was made and then laid flat is shown as it was folded, where that is known. With the
    first step come the lines of what the model starts from, without a number. The sheet is shown uncut.
    """
    lines: list[SheetLine] = []
    if not model.steps or first <= model.steps[0].number:
        lines.extend(_lines(model.sheet, crease_pattern(model.start)))
    for step in model.steps:
        if not first <= step.number <= last:
            continue
        made = creases_made(step.before, step.after)
        known = tuple(_as_folded(step))
        for kind, segment in made.segments():
            if kind is Kind.EDGE:
                continue
            for part, sense in (
                _parted(segment, known) if kind is Kind.CREASE else [(segment, kind)]
            ):
                lines.append(_scaled(model.sheet, SheetLine(sense, part, step.number)))
    return _sheet(model, model.sheet, lines)


def pattern_scene(model: Model) -> Scene:
    """The crease pattern of the finished model on its own, at true size."""
    sheet = moved(finished_pattern(model), _MARGIN, _MARGIN)
    name = model.title or model.name
    items = (sheet.edge, *(path for line in sheet.lines for path in line.paths))
    seen = "edges solid, valleys dashed, mountains dash and dots, flat creases thin"
    return Scene(
        sheet.width + 2 * _MARGIN,
        sheet.height + 2 * _MARGIN,
        items,
        f"Crease pattern: {name}",
        f"Crease pattern of {name}, {model.sheet.shape}, seen from the side that faces up before the "
        f"first step: {seen}.",
        model.language,
        frozenset(sign_keys(sheet)),
    )


def sign_keys(sheet: TrueSheet) -> list[str]:
    """Keys of the signs on a sheet, for the page's key."""
    kinds = {line.kind for line in sheet.lines}
    return [ROLES[kind] for kind in Kind if kind in kinds]


def moved(sheet: TrueSheet, dx: float, dy: float) -> TrueSheet:
    """The sheet further right and down."""
    return _mapped(sheet, lambda p: (p[0] + dx, p[1] + dy))


def as_it_lies(sheet: TrueSheet) -> TrueSheet:
    """The sheet turned as it lies before the first step."""
    if is_zero(sheet.turn):
        return sheet
    cos, sin = math.cos(sheet.turn), math.sin(sheet.turn)
    turned = _mapped(sheet, lambda p: (p[0] * cos + p[1] * sin, p[1] * cos - p[0] * sin))
    left, top, right, low = bounds(turned.outline)
    here = moved(turned, -left, -top)
    return replace(here, width=right - left, height=low - top, turn=0.0)


def _mapped(sheet: TrueSheet, go: Callable[[Point], Point]) -> TrueSheet:
    """The sheet with every point of it brought elsewhere."""
    return replace(
        sheet,
        outline=tuple(go(p) for p in sheet.outline),
        holes=tuple(tuple(go(p) for p in hole) for hole in sheet.holes),
        corners=tuple((name, go(p)) for name, p in sheet.corners),
        lines=tuple(
            replace(line, segment=(go(line.segment[0]), go(line.segment[1])))
            for line in sheet.lines
        ),
    )


def _sheet(model: Model, sheet: Sheet, lines: Sequence[SheetLine]) -> TrueSheet:
    left, low, right, high = bounds(sheet.outline)
    k = sheet.unit_mm * POINTS_PER_MM
    lowest = _lowest(model.start)
    return TrueSheet(
        (right - left) * k,
        (high - low) * k,
        tuple(_to_points(sheet, p) for p in sheet.outline),
        tuple((name, _to_points(sheet, p)) for name, p in sheet.corners),
        _with_tools(lines),
        lowest if set(lowest) <= set(sheet.corner_names) else (),
        tuple(tuple(_to_points(sheet, p) for p in hole) for hole in sheet.holes),
        _turn(model.start),
    )


def _turn(start: State) -> float:
    """How far an open sheet is turned in the beginning, in radians."""
    if len(start.facets) != 1 or start.facets[0].place.flips:
        return 0.0
    place = start.facets[0].place
    return math.atan2(place.c, place.a)


def _with_tools(lines: Sequence[SheetLine]) -> tuple[SheetLine, ...]:
    """The lines, with scissors at the first of all cuts that hang together."""
    cuts = [k for k, line in enumerate(lines) if line.kind is Kind.CUT]
    together = UnionFind(len(lines))
    for k, m in combinations(cuts, 2):
        one, two = lines[k].segment, lines[m].segment
        if any(distance(p, q) < _SAME for p in one for q in two):
            together.unite(k, m)
    first = {min(group) for group in together.sets()} & set(cuts)
    return tuple(replace(line, tool=k in first) for k, line in enumerate(lines))


def _to_points(sheet: Sheet, p: Point) -> Point:
    left, _, _, high = bounds(sheet.outline)
    k = sheet.unit_mm * POINTS_PER_MM
    return ((p[0] - left) * k, (high - p[1]) * k)


def _scaled(sheet: Sheet, line: SheetLine) -> SheetLine:
    start, end = line.segment
    return replace(line, segment=(_to_points(sheet, start), _to_points(sheet, end)))


def _lines(sheet: Sheet, found: CreasePattern) -> list[SheetLine]:
    lines = [
        *(SheetLine(kind, seg) for kind, seg in found.segments() if kind is not Kind.EDGE),
        *(SheetLine(Kind.CUT, seg) for seg in cut_edges(sheet, found.sheet)),
    ]
    return [_scaled(sheet, line) for line in lines]


def _lowest(start: State) -> tuple[str, ...]:
    """The corner or edge of an open sheet that lies at the bottom."""
    if len(start.plates) != 1:
        return ()
    named = [(start.where(p)[1], name) for name, p in start.sheet.corners]
    if not named:
        return ()
    bottom = min(y for y, _ in named)
    return tuple(name for y, name in named if y < bottom + 1e-6)


# --- lines that lie flat after their step ---------------------------------------------------------


def _as_folded(step: Step) -> Iterable[tuple[Segment, Kind]]:
    """The step's fold lines on the sheet, as seen from its front."""
    for record in step.records:
        for sign in record.signs:
            if not isinstance(sign, FoldLine):
                continue
            for facet, segment in sign.parts:
                piece = record.before.facets[facet]
                valley = (sign.sense is Sense.VALLEY) == piece.shows_front
                on_sheet = map_segment(inverse(piece.place), segment)
                yield on_sheet, Kind.VALLEY if valley else Kind.MOUNTAIN


def _parted(
    segment: Segment, known: Sequence[tuple[Segment, Kind]]
) -> Iterable[tuple[Segment, Kind]]:
    """A flat crease in stretches of one sense; CREASE where none is known."""
    stops = {0.0: segment[0], 1.0: segment[1]}
    for other, _ in known:
        part = overlap_of(segment, other)
        for p in part or ():
            stops[round(_along(segment, p), 9)] = p
    at = sorted(t for t in stops if 0.0 <= t <= 1.0)
    run: tuple[Point, Kind] | None = None
    for lo, hi in pairwise(at):
        middle = midpoint(stops[lo], stops[hi])
        kind = next((k for s, k in known if point_on_segment(s, middle)), Kind.CREASE)
        if run is None:
            run = (stops[lo], kind)
        elif run[1] is not kind:
            yield (run[0], stops[lo]), run[1]
            run = (stops[lo], kind)
    if run is not None:
        yield (run[0], segment[1]), run[1]


def _along(segment: Segment, p: Point) -> float:
    (px, py), (qx, qy) = segment
    dx, dy = qx - px, qy - py
    return ((p[0] - px) * dx + (p[1] - py) * dy) / (dx * dx + dy * dy)
