"""A step whose fold lines are short on the page, shown larger in a circle beside the model.

In: a panel, its paper as drawn, and all other ink of the figure. Out: the `Part` of the figure to be
shown larger, or None where its lines are long enough; then a `Window`, the circle in a place that
all ink leaves free, or None where no circle finds room. Sketch outside the circle is cut away.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import reduce
from typing import Any

from ..folding.steps import Panel
from ..paper.signs import (
    Act,
    Arrow,
    EqualAngles,
    EqualLengths,
    FoldLine,
    PointSign,
    RepeatSign,
    RightAngle,
    Sign,
)
from .groups import Group, Sketch
from .lines import Drawn
from .outlines import Box, box_of, circle, item_box, polyline, shifted, text_box
from .scene import Path, Point, Text
from .surroundings import Surroundings
from .view import View
from .visible import Visible, line_points, ring_points

#: A step is shown larger when none of its fold lines is as long as this on the page (millimetres).
SHORT = 7.0
_MM = 72 / 25.4
#: Radii that are tried, and how much larger the part must become to be worth it.
_RADII, _WORTH, _MOST = (32.0, 29.0, 26.0, 23.0, 21.0, 19.0), 1.6, 8.0
#: Of the circle's radius, what the part takes; what is shown round the part: half of its own size,
#: within these limits (points of the figure).
_FULL, _ROUND = 0.8, (1.5, 3.2)
#: The part is ringed at least as widely as this (points).
_LEAST_RING = 4.5
#: Lines shorter than this do not show what kind they are, and are left to the circle (points).
_LEGIBLE = 8.0
#: How far the circle keeps off all ink and off the frame's edge (points).
_AIR, _EDGE = 3.0, 1.5
#: How far apart the places are that are tried (points).
_STEP = 5.0


@dataclass(frozen=True)
class Part:
    """A disc of the figure, about the figure's middle: where the step's fold lines are.

    strokes : the fold lines in it; whole : whether all that the step does is to be seen in it
    """

    spot: Point
    reach: float
    strokes: tuple[tuple[Point, Point], ...]
    whole: bool

    def holds(self, p: Point) -> bool:
        """Whether a point on the page lies well within it."""
        return math.dist(p, self.spot) < 0.95 * self.reach

    @property
    def ring(self) -> float:
        """Radius of the ring about it."""
        return max(self.reach, _LEAST_RING)

    @property
    def rim(self) -> list[Point]:
        """Points along its outline."""
        turns = [2 * math.pi * k / 24 for k in range(24)]
        (x, y), r = self.spot, self.ring
        return [(x + r * math.cos(a), y + r * math.sin(a)) for a in turns]


@dataclass(frozen=True)
class Window:
    """A part of a figure and the circle where it is drawn larger, about the figure's middle.

    at, radius : of the circle; view : onto the circle about its own middle, so many times larger;
    shift : how far the whole figure, with the circle, is to be moved to make room
    """

    part: Part
    at: Point
    radius: float
    view: View
    larger: float
    shift: Point

    @property
    def limits(self) -> Box:
        """Where signs may go, about the circle's middle."""
        r = 0.8 * self.radius
        return (-r, -r, r, r)

    def holds(self, p: Point) -> bool:
        """Whether a point, about the circle's middle, lies well within it."""
        return math.hypot(*p) < 0.9 * self.radius


def part(panel: Panel, visible: Visible, drawn: Drawn) -> Part | None:
    """What is to be drawn larger: all that the step does, or else its fold lines; None if long enough."""
    folds = [s for s in panel.signs if isinstance(s, FoldLine)]
    if not folds or not drawn.strokes or any(s.pinch for s in folds):
        return None
    if not any(isinstance(s, Arrow) for s in panel.signs):
        return None
    if max(math.dist(*stroke) for stroke in drawn.strokes) >= SHORT * _MM:
        return None
    view = visible.view
    lines = [p for stroke in drawn.strokes for p in stroke]
    tips = [view(p) for s in panel.signs if isinstance(s, Arrow) for p in (s.tail, s.head)]
    tips += [view(s.at) for s in panel.signs if isinstance(s, PointSign)]
    longest = max(math.dist(*stroke) for stroke in drawn.strokes)
    everything = _disc([*lines, *tips])
    if not any(isinstance(s, RepeatSign) for s in panel.signs):
        factor = min(_MOST, _FULL * _RADII[2] / everything[1])
        if factor >= _WORTH and factor * longest >= SHORT * _MM:
            return Part(*everything, drawn.strokes, whole=True)
    spot, reach = _disc(lines)
    if _FULL * _RADII[0] / reach < _WORTH:
        return None
    return Part(spot, reach, drawn.strokes, whole=False)


def _disc(points: Sequence[Point]) -> tuple[Point, float]:
    """Middle and radius of a disc about points, with some of what lies round them."""
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    spot = ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
    half = max(math.dist(p, spot) for p in points)
    return spot, half + min(max(0.5 * half, _ROUND[0]), _ROUND[1])


def divided(signs: Sequence[Sign], chosen: Part, view: View) -> tuple[list[Sign], list[Sign]]:
    """Signs that are drawn in the figure, and those that are drawn in the circle."""
    outer: list[Sign] = []
    inner: list[Sign] = []
    for s in signs:
        held = all(chosen.holds(view(p)) for p in _points(s)) and not isinstance(s, RepeatSign)
        (inner if held or _zigzag(s) else outer).append(s)
    return outer, inner


def _zigzag(sign: Sign) -> bool:
    return isinstance(sign, Arrow) and sign.act in (Act.PLEAT, Act.CRIMP)


def settled(sign: Sign, window: Window) -> Sign:
    """A sign as it is drawn in the circle: pleats, which lie at their lines, below these."""
    if not isinstance(sign, Arrow) or not _zigzag(sign):
        return sign
    dx, dy = sign.head[0] - sign.tail[0], sign.head[1] - sign.tail[1]
    n = math.hypot(dx, dy) or 1.0
    ux, uy = dx / n, dy / n
    down = -1.0 if ux > 0 else 1.0
    (x, y), off, half = window.view.centre, 0.5 * window.radius, 0.3 * window.radius
    x, y = x - down * off * uy / window.view.scale, y + down * off * ux / window.view.scale
    k = half / window.view.scale
    return replace(sign, tail=(x - k * ux, y - k * uy), head=(x + k * ux, y + k * uy))


def _points(sign: Sign) -> Sequence[Point]:
    """Where a sign has to be in view to be understood."""
    if isinstance(sign, Arrow):
        return (sign.tail, sign.head)
    if isinstance(sign, PointSign):
        return (sign.at,)
    if isinstance(sign, EqualAngles | RightAngle):
        return (sign.apex,)
    if isinstance(sign, EqualLengths):
        return [p for segment in sign.segments for p in segment]
    return ()


def window(
    chosen: Part, view: View, ink: Sketch, around: Surroundings, fixed: bool
) -> Window | None:
    """The circle for a part, in free room; where `fixed` the figure cannot be moved aside for it."""
    import numpy

    x0, y0, x1, y1 = _union(around.silhouette.bounds, ink)
    spot, reach = chosen.spot, chosen.reach
    far = _RADII[0] + _AIR
    places = numpy.array(
        [
            (x, y)
            for x in numpy.arange(x0 - far, x1 + far, _STEP)
            for y in numpy.arange(y0 - far, y1 + far, _STEP)
        ]
    )
    least = min(_RADII)
    places = places[_fitting(places, least, chosen, (x0, y0, x1, y1), around.box, fixed)[0]]
    places = places[around.off_paper(places, least + _AIR)]
    free = _distances(places, ink, around, fixed)
    for radius in _RADII:
        factor = min(_MOST, _FULL * radius / reach)
        if factor < _WORTH:
            return None
        fits, shifts = _fitting(places, radius, chosen, (x0, y0, x1, y1), around.box, fixed)
        found = numpy.flatnonzero(fits & (free > radius + _AIR))
        if not len(found):
            continue
        cost = numpy.hypot(*(places[found] - numpy.array(spot)).T)
        cost = cost + 0.8 * numpy.hypot(*shifts[found].T)
        cost = cost + _crossing(places[found], chosen, around)
        best = int(found[int(numpy.argmin(numpy.round(cost, 4)))])
        at = (float(places[best][0]), float(places[best][1]))
        shift = (float(shifts[best][0]), float(shifts[best][1]))
        larger = View(view.scale * factor, view.back(spot))
        return Window(chosen, at, radius, larger, factor, shift)
    return None


def _fitting(
    places: Any, radius: float, chosen: Part, taken: Box, frame: Box, fixed: bool
) -> tuple[Any, Any]:
    """Whether a circle about each place fits the frame, and how the figure is moved aside for it."""
    import numpy

    (x0, y0, x1, y1), (fx0, fy0, fx1, fy1) = taken, frame
    r = radius + _EDGE
    lo, hi = places - r, places + r
    if fixed:
        fits = (lo > (fx0, fy0)).all(1) & (hi < (fx1, fy1)).all(1)
        shifts = numpy.zeros_like(places)
    else:
        left, right = numpy.minimum(lo[:, 0], x0), numpy.maximum(hi[:, 0], x1)
        top, low = numpy.minimum(lo[:, 1], y0), numpy.maximum(hi[:, 1], y1)
        fits = (right - left <= fx1 - fx0) & (low - top <= fy1 - fy0)
        dx = numpy.maximum(0.0, fx0 - left) - numpy.maximum(0.0, right - fx1)
        dy = numpy.maximum(0.0, fy0 - top) - numpy.maximum(0.0, low - fy1)
        shifts = numpy.stack([dx, dy], axis=1)
    away = numpy.hypot(*(places - numpy.array(chosen.spot)).T)
    return fits & (away > radius + chosen.ring + 4.0), shifts


def _union(bounds: Sequence[float], ink: Sketch) -> Box:
    boxes = [b for g in ink.groups if (b := g.box) is not None]
    every = [(float(bounds[0]), float(bounds[1]), float(bounds[2]), float(bounds[3])), *boxes]
    return (
        min(b[0] for b in every),
        min(b[1] for b in every),
        max(b[2] for b in every),
        max(b[3] for b in every),
    )


def _distances(places: Any, ink: Sketch, around: Surroundings, fixed: bool) -> Any:
    """How far each place lies from all ink, less than nothing for places on the paper."""
    import numpy
    import shapely

    shapes: list[Any] = [around.silhouette]
    for group in ink.groups:
        if group.kind in ("paper", "crease", "edge"):
            continue
        for item in group.items:
            shapes += _shape(item)
    if fixed:
        shapes += [shapely.box(*b) for b in around.taken]
    out = numpy.full(len(places), numpy.inf)
    if not len(places):
        return out
    tree = shapely.STRtree(shapes)
    (at, _), far = tree.query_nearest(shapely.points(places), return_distance=True)
    out[at] = far
    return out


def _shape(item: Path | Text) -> list[Any]:
    import shapely

    from .clashes import polylines

    if isinstance(item, Path) and item.role.startswith("arrow"):
        return [shapely.LineString(p) for p in polylines([item]) if len(p) > 1]
    box = item_box(item)
    return [] if box is None else [shapely.box(*box)]


def _crossing(places: Any, chosen: Part, around: Surroundings) -> Any:
    """What it costs the line that leads to each place to run over paper or across an arrow."""
    import numpy
    import shapely

    from .surroundings import near

    ends = numpy.broadcast_to(numpy.array(chosen.spot), places.shape)
    ways = shapely.linestrings(numpy.stack([ends, places], axis=1))
    over = shapely.length(shapely.intersection(ways, around.silhouette))
    way = places - ends
    first = (chosen.ring + 4.0) / numpy.hypot(way[:, 0], way[:, 1])
    steps = first[:, None] + (1.0 - first[:, None]) * numpy.linspace(0.0, 0.8, 12)
    along = ends[:, None, :] + steps[:, :, None] * way[:, None, :]
    return 2.3 * over + 60.0 * near(along, around.arrows, 2.5).any(1)


def closer(visible: Visible, window: Window) -> Visible:
    """The paper for the circle, its layers as far apart on the page as in the figure itself.

    Facets that do not reach into the circle are left empty, for none of them would be seen.
    """
    import shapely

    k = 1.0 / window.larger
    spread = visible.spread
    moves = tuple((k * x, k * y) for x, y in spread.moves)
    near = Visible(replace(spread, moves=moves), window.view)
    r = window.radius + 1.0
    x0, y0, x1, y1 = shapely.bounds(near.shapes).T
    near.without((x0 > r) | (x1 < -r) | (y0 > r) | (y1 < -r))
    return near


def place(window: Window, inner: Sketch, ink: Sketch) -> None:
    """Puts what was drawn for the circle into the figure, with the line that leads to it."""
    import shapely

    disc = shapely.Point(0.0, 0.0).buffer(window.radius, quad_segs=32)
    items: list[Path | Text] = [Path("sign.open", circle((0.0, 0.0), window.radius))]
    for group in inner.groups:
        items += _within(group, disc, window.radius)
    items.append(Path("sign", circle((0.0, 0.0), window.radius)))
    if window.part.whole or max(math.dist(*s) for s in window.part.strokes) < _LEGIBLE:
        ink.groups[:] = [g for g in ink.groups if g.kind != "fold" or not _near(g, window)]
    ink.add("lens", [Path("sign", circle(window.part.spot, window.part.ring))])
    ink.add("leader", [Path("leader", polyline(_leader(window)))])
    ink.add("inset", [shifted(i, *window.at) for i in items], *inner.signs, "inset")


def _near(group: Group, window: Window) -> bool:
    box = group.box
    if box is None:
        return False
    return window.part.holds(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))


def _leader(window: Window) -> tuple[Point, Point]:
    (ax, ay), (bx, by) = window.part.spot, window.at
    n = math.dist(window.part.spot, window.at)
    ux, uy = (bx - ax) / n, (by - ay) / n
    return (
        (ax + window.part.ring * ux, ay + window.part.ring * uy),
        (bx - window.radius * ux, by - window.radius * uy),
    )


def _within(group: Group, disc: Any, radius: float) -> Sequence[Path | Text]:
    """What of a group lies in the circle: paper and lines cut, letters and heads whole or not at all."""
    out: list[Path | Text] = []
    for item in group.items:
        box = text_box(item) if isinstance(item, Text) else box_of(item.segments)
        if box is None:
            continue
        far = max(math.hypot(x, y) for x in (box[0], box[2]) for y in (box[1], box[3]))
        if far < radius:
            out.append(item)
        elif isinstance(item, Path) and item.role not in ("arrow.head", "arrow.open"):
            out += _cut(item, group.kind == "paper", disc)
    return out


def _cut(path: Path, area: bool, disc: Any) -> list[Path]:
    """The part of an area or of lines that lies in the circle."""
    import shapely

    from .clashes import polylines

    x0, y0, x1, y1 = disc.bounds
    lines = [
        p
        for p in polylines([path])
        if len(p) > 1
        and min(x for x, _ in p) < x1
        and max(x for x, _ in p) > x0
        and min(y for _, y in p) < y1
        and max(y for _, y in p) > y0
    ]
    if not lines:
        return []
    if not area:
        left = shapely.intersection(shapely.MultiLineString(lines), disc)
        if left.geom_type not in ("LineString", "Point"):
            left = shapely.line_merge(left)
        return [Path(path.role, polyline(p)) for p in line_points(left)]
    areas = [shapely.Polygon(ring) for ring in lines]
    areas = [a if shapely.is_valid(a) else shapely.buffer(a, 0) for a in areas]
    shape = reduce(shapely.symmetric_difference, areas)
    return [
        Path(path.role, tuple(s for ring in rings for s in polyline(ring, closed=True)))
        for rings in ring_points(shapely.intersection(shape, disc))
    ]
