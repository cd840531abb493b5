"""Where a figure lies in its frame, and where the signs between figures go.

In: the panels of a model, the style, and the frame of its figures (points). Out: a `Framing` for each.
Paper that does not move stays at its place in the frame from one figure to the next, as long as the
figure lies near the middle and its signs have room. A sign between figures stands beside the paper
where there is room, else in a corner that the paper leaves free; only when neither is possible at the
model's scale does the scale give way. A change of scale is told above the figure's left side.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...folding.steps import Panel
from ...geometry import polygons
from ...geometry.polygons import Polygon
from ...geometry.tolerance import same
from ...paper.signs import Arrow, Rotate, TurnOver
from ..scene.outlines import Box
from ..scene.scene import Point
from ..scene.view import SMALLEST, View, views
from ..signs.scale import scale_size
from ..space.standing import outline
from ..style.styles import Style
from . import scale_places
from .close_up import CloseUp, close_ups
from .corner_places import Plan, Turn, clear, plans
from .reaches import most

#: How far from the middle of its room a figure may lie, as a part of the frame.
_ASIDE = 0.21
#: Free space round all ink, in points; and round signs whose places are only known roughly.
EDGE, _AIR = 2.0, 0.5


@dataclass(frozen=True)
class Framing:
    """How one figure lies.

    Attributes
    ----------
    view : folded plane to points about the middle of the paper and of where arrows lead
    origin : where that middle lies in the frame
    limits : where ink may go, about that middle
    turns : signs between figures, with their middle in the frame
    taken : boxes of all these signs, about the middle of the paper
    grown : top right corner of the scale sign in the frame, where the scale changes
    close_up : how the active part is drawn larger instead, where that is small
    """

    view: View
    origin: Point
    limits: Box
    turns: tuple[tuple[Turn, Point], ...]
    taken: tuple[Box, ...]
    grown: Point | None = None
    close_up: CloseUp | None = None


@dataclass(frozen=True)
class Outlined:
    """A panel, the middle of its figure, and the hull about that; no frame changes them.

    `beside` is how many points of its frame's width it leaves free; `anew` is whether the model has been
    turned since the figure before.
    """

    panel: Panel
    middle: Point
    hull: Polygon
    beside: float = 0.0
    anew: bool = False


def outlined(
    panels: Sequence[Panel], beside: Sequence[float] = (), anew: Sequence[bool] = ()
) -> list[Outlined]:
    """Panels with their outlines; for each what it leaves free beside it, and whether it shows the model
    turned."""
    free, turned = beside or [0.0] * len(panels), anew or [False] * len(panels)
    return [Outlined(p, *_hull(p), f, t) for p, f, t in zip(panels, free, turned, strict=True)]


def framings(row: Sequence[Outlined], style: Style, frame: tuple[float, float]) -> list[Framing]:
    """A framing for every panel, at the scale they share."""
    options = [_with_signs(one, frame) for one in row]
    seen = _views(row, options)
    hulls = [one.hull for one in row]
    chosen = [
        next(p for p in some if p.scale >= view.scale * (1 - 1e-9))
        for some, view in zip(options, seen, strict=True)
    ]
    spots = _steady(seen, chosen, hulls, frame)
    out: list[Framing] = []
    before = 1.0
    closer = close_ups(row, seen, style.enlarged, frame)
    for k, view in enumerate(seen):
        larger = None if chosen[k].turns else closer[k]
        told = before if larger is None else view.factor
        found = _framing(view, chosen[k], hulls[k], spots[k], told, style, frame)
        out.append(replace(found, close_up=larger))
        before = view.factor if larger is None else before
    return out


def chosen_views(row: Sequence[Outlined], frame: tuple[float, float]) -> list[View]:
    """How every panel is seen, at the scale they share."""
    return _views(row, [_with_signs(one, frame) for one in row])


def _views(row: Sequence[Outlined], options: Sequence[Sequence[Plan]]) -> list[View]:
    return views([one.middle for one in row], [max(p.scale for p in some) for some in options])


def _with_signs(one: Outlined, frame: tuple[float, float]) -> list[Plan]:
    """The plans, each at a scale that leaves room for the signs that stand out from the paper."""
    out: list[Plan] = []
    for plan in plans(one.hull, *_turns(one.panel), frame, one.beside):
        left, margin, right, _ = plan.room
        room = (right - left + 2 * (margin - _AIR), frame[1] - 2 * _AIR)
        scale = most(one.panel, one.middle, one.hull, room, plan.scale)
        out.append(replace(plan, scale=max(scale, SMALLEST)))
    return out


def _turns(panel: Panel) -> tuple[list[Turn], list[Turn]]:
    """Signs between figures: those before this one, those after it."""
    before = [s for s in panel.before_turns if isinstance(s, TurnOver | Rotate)]
    after = [s for s in (*panel.signs, *panel.after_turns) if isinstance(s, TurnOver | Rotate)]
    return before, after


def _hull(panel: Panel) -> tuple[Point, Polygon]:
    """Middle of the box about the paper and the ends of its arrows, and their convex hull.

    The hull lies about that middle, y down, counter-clockwise in that sense.
    """
    import shapely

    if panel.pose is not None:
        unit = panel.state.sheet.unit_mm
        points = [(x / unit, y / unit) for x, y in outline(panel.pose)]
    else:
        points = [p for ring in panel.state.placed for p in ring]
    points += [p for s in panel.signs if isinstance(s, Arrow) for p in (s.tail, s.head)]
    x0, y0, x1, y1 = polygons.bounds(points)
    cx, cy = (x0 + x1) / 2, (y0 + y1) / 2
    hull = shapely.convex_hull(shapely.multipoints([(x - cx, cy - y) for x, y in points]))
    ring = tuple((float(x), float(y)) for x, y in shapely.get_coordinates(hull)[:-1])
    return (cx, cy), polygons.counter_clockwise(polygons.tidy(ring) or ring)


def _middle(box: Box) -> Point:
    return ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


def _steady(
    seen: Sequence[View],
    chosen: Sequence[Plan],
    hulls: Sequence[Polygon],
    frame: tuple[float, float],
) -> list[Point]:
    """Where the middle of the paper lies in each frame.

    Of every row of figures of one scale as many as can share a place do, for either direction.
    """
    out = [_middle(plan.room) for plan in chosen]
    start = 0
    for k in range(1, len(seen) + 1):
        if k < len(seen) and same(seen[k].scale, seen[start].scale):
            continue
        run = range(start, k)
        xs = _shared(run, seen, chosen, hulls, 0, _ASIDE * frame[0])
        ys = _shared(run, seen, chosen, hulls, 1, _ASIDE * frame[1])
        for j, x, y in zip(run, xs, ys, strict=True):
            if clear(hulls[j], (x, y), chosen[j].boxes, seen[j].scale):
                out[j] = (x, y)
        start = k
    return out


def _shared(
    run: range,
    seen: Sequence[View],
    chosen: Sequence[Plan],
    hulls: Sequence[Polygon],
    axis: int,
    aside: float,
) -> list[float]:
    """The middles of a row of figures along one axis.

    Each figure allows an interval for where the origin of the folded plane may lie; neighbours whose
    intervals meet take one value for all of them.
    """
    allowed: list[tuple[float, float, float, float]] = []
    for j in run:
        view, room = seen[j], chosen[j].room
        offset = view.scale * (view.centre[0] if axis == 0 else -view.centre[1])
        middle = (room[axis] + room[axis + 2]) / 2
        half = max(p[axis] for p in hulls[j]) * view.scale
        slack = min(aside, max(0.0, (room[axis + 2] - room[axis]) / 2 - half))
        allowed.append((middle - offset - slack, middle - offset + slack, middle - offset, offset))
    out: list[float] = []
    group: list[tuple[float, float, float, float]] = []
    for one in [*allowed, None]:
        if one is not None:
            lo = max([one[0], *(g[0] for g in group)])
            hi = min([one[1], *(g[1] for g in group)])
            if lo <= hi + 1e-6:
                group.append(one)
                continue
        lo, hi = max(g[0] for g in group), min(g[1] for g in group)
        wanted = sum(g[2] for g in group) / len(group)
        at = min(max(wanted, lo), max(lo, hi))
        out += [at + g[3] for g in group]
        group = [one] if one is not None else []
    return out


def _framing(
    view: View,
    plan: Plan,
    hull: Polygon,
    spot: Point,
    before: float,
    style: Style,
    frame: tuple[float, float],
) -> Framing:
    moved = _lowered(plan, hull, spot, view.scale)
    boxes, grown = list(moved.boxes), None
    if not same(view.factor, before):
        wide, high = scale_size(view.factor, style)
        grown, down = scale_places.planned(hull, view.scale, spot, boxes, (wide, high), frame)
        boxes.append((grown[0] - wide, grown[1], grown[0], grown[1] + high))
        spot = (spot[0], spot[1] + down)
    x, y = spot
    free = plan.beside / 2
    left = max((b[2] for b in plan.boxes if b[2] < plan.room[0]), default=free)
    right = min((b[0] for b in plan.boxes if b[0] > plan.room[2]), default=frame[0] - free)
    limits = (left + EDGE - x, EDGE - y, right - EDGE - x, frame[1] - EDGE - y)
    taken = tuple((b[0] - x, b[1] - y, b[2] - x, b[3] - y) for b in boxes)
    return Framing(view, spot, limits, moved.turns, taken, grown)


def _lowered(plan: Plan, hull: Polygon, spot: Point, scale: float) -> Plan:
    """Signs in the upper corners come down to the paper's upper end, so that the figure stays low."""
    top = spot[1] + min(p[1] for p in hull) * scale
    boxes: list[Box] = []
    signs: list[tuple[Turn, Point]] = []
    for box, (sign, at) in zip(plan.boxes, plan.turns, strict=True):
        high = box[3] - box[1]
        down = 0.0
        if box[3] < spot[1] and box[1] < top:
            for goal in (top, top - high - 3.0):
                shift = goal - box[1]
                low = (box[0], box[1] + shift, box[2], box[3] + shift)
                others = [b for b in (*boxes, *plan.boxes) if b[0] < box[2] and b[2] > box[0]]
                alone = sum(1 for b in others if b is not box) == 0
                if shift > 0 and alone and clear(hull, spot, (low,), scale):
                    down = shift
                    break
        boxes.append((box[0], box[1] + down, box[2], box[3] + down))
        signs.append((sign, (at[0], at[1] + down)))
    return replace(plan, boxes=tuple(boxes), turns=tuple(signs))
