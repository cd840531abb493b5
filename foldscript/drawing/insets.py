"""A step that is small against the model, shown larger in a circle beside it.

In: a panel, its paper as drawn, and the room round it. Out: the `Window` to be drawn larger, or None
where the step is large enough, or where no circle finds room. Sketch outside the circle is cut away.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ..folding.steps import Panel
from ..paper.signs import Arrow, FoldLine, PointSign, RepeatSign
from .groups import Group, Sketch
from .lines import Drawn
from .outlines import Box, box_of, circle, polyline, shifted, text_box
from .scene import Path, Point, Text
from .surroundings import Surroundings
from .view import View
from .visible import Visible, line_points, ring_points

#: A step whose lines and arrows take no more than this is small (points, and part of the paper).
_SMALL, _SMALL_PART = 30.0, 0.28
#: Radii that are tried, and how much larger the part must become to be worth it.
_RADII, _WORTH, _MOST = (33.0, 29.0, 25.0, 22.0, 20.0), 1.6, 4.0
_AIR = 2.5


@dataclass(frozen=True)
class Window:
    """A part of a figure and the circle where it is drawn larger, about the figure's middle.

    spot, reach : middle and radius of the part; at, radius : of the circle; view : onto the circle
    about its own middle
    """

    spot: Point
    reach: float
    at: Point
    radius: float
    view: View

    @property
    def limits(self) -> Box:
        """Where signs may go, about the circle's middle."""
        r = 0.8 * self.radius
        return (-r, -r, r, r)

    def holds(self, p: Point) -> bool:
        """Whether a point, about the circle's middle, lies well within it."""
        return math.hypot(*p) < 0.9 * self.radius


def window(panel: Panel, visible: Visible, drawn: Drawn, around: Surroundings) -> Window | None:
    """Where the step is to be drawn larger; None where that is not needed or not possible."""
    view = visible.view
    points = [p for stroke in drawn.strokes for p in stroke]
    arrows = [s for s in panel.signs if isinstance(s, Arrow)]
    points += [view(p) for s in arrows for p in (s.tail, s.head)]
    points += [view(s.at) for s in panel.signs if isinstance(s, PointSign)]
    folds = any(isinstance(s, FoldLine) for s in panel.signs)
    if not arrows or not folds or any(isinstance(s, RepeatSign) for s in panel.signs):
        return None
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    x0, y0, x1, y1 = visible.silhouette.bounds
    size = max(wide, high)
    if size > _SMALL or size > _SMALL_PART * max(x1 - x0, y1 - y0):
        return None
    spot = ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
    reach = 0.5 * math.hypot(wide, high) + 3.5
    for radius in _RADII:
        factor = min(_MOST, 0.8 * radius / reach)
        if factor < _WORTH:
            return None
        at = _room(radius, reach, spot, visible.silhouette, around)
        if at is not None:
            middle = view.back(spot)
            return Window(spot, reach, at, radius, View(view.scale * factor, middle))
    return None


def _room(
    radius: float, reach: float, spot: Point, paper: Any, around: Surroundings
) -> Point | None:
    """The nearest place for the circle beside the paper and all signs, if there is one."""
    import shapely

    x0, y0, x1, y1 = around.box
    best: tuple[float, Point] | None = None
    taken = [shapely.box(*b) for b in around.taken]
    steps = 14
    for i in range(steps + 1):
        for j in range(steps + 1):
            x = x0 + radius + (x1 - x0 - 2 * radius) * i / steps
            y = y0 + radius + (y1 - y0 - 2 * radius) * j / steps
            disc = shapely.Point(x, y)
            if paper.distance(disc) < radius + _AIR:
                continue
            if any(box.distance(disc) < radius + 1.0 for box in taken):
                continue
            away = math.dist((x, y), spot)
            if away > radius + reach + 4 and (best is None or away < best[0] - 1e-6):
                best = (away, (x, y))
    return best[1] if best is not None else None


def place(window: Window, inner: Sketch, ink: Sketch) -> None:
    """Puts what was drawn for the circle into the figure, with the line that leads to it."""
    import shapely

    disc = shapely.Point(0.0, 0.0).buffer(window.radius, quad_segs=32)
    items: list[Path | Text] = [Path("sign.open", circle((0.0, 0.0), window.radius))]
    for group in inner.groups:
        items += _within(group, disc, window.radius)
    items.append(Path("sign", circle((0.0, 0.0), window.radius)))
    ink.groups[:] = [g for g in ink.groups if g.kind != "fold" or not _near(g, window)]
    ink.add("ring", [Path("sign", circle(window.spot, window.reach))])
    ink.add("leader", [Path("leader", polyline(_leader(window)))])
    ink.add("inset", [shifted(i, *window.at) for i in items], *inner.signs, "inset")


def _near(group: Group, window: Window) -> bool:
    box = group.box
    if box is None:
        return False
    return math.dist(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2), window.spot) < window.reach


def _leader(window: Window) -> tuple[Point, Point]:
    (ax, ay), (bx, by) = window.spot, window.at
    n = math.dist(window.spot, window.at)
    ux, uy = (bx - ax) / n, (by - ay) / n
    return (
        (ax + window.reach * ux, ay + window.reach * uy),
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

    lines = [p for p in polylines([path]) if len(p) > 1]
    if not area:
        left = shapely.intersection(shapely.MultiLineString(lines), disc)
        if left.geom_type not in ("LineString", "Point"):
            left = shapely.line_merge(left)
        return [Path(path.role, polyline(p)) for p in line_points(left)]
    shape = shapely.Polygon()
    for ring in lines:
        shape = shapely.symmetric_difference(shape, shapely.Polygon(ring).buffer(0))
    return [
        Path(path.role, tuple(s for ring in rings for s in polyline(ring, closed=True)))
        for rings in ring_points(shapely.intersection(shape, disc))
    ]
