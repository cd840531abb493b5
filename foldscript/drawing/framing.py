"""Where a figure lies in its frame, and where the signs between figures go.

In: the panels of a model and the frame of its figures (points). Out: a `Framing` for each. A sign
between figures stands beside the paper where there is room, else in a corner that the paper leaves
free; only when neither is possible at the model's scale does the scale give way.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from ..folding.steps import Panel
from ..geometry import polygons
from ..geometry.polygons import Polygon
from ..paper.signs import Rotate, TurnOver
from . import turns
from .outlines import Box
from .scene import Point
from .view import View, views

Turn = TurnOver | Rotate

#: Preference where several places do.
_PLACES = ("beside", "top", "bottom")


@dataclass(frozen=True)
class Framing:
    """How one figure lies.

    Attributes
    ----------
    view : folded plane to points about the middle of the paper
    origin : where that middle lies in the frame
    limits : where ink may go, about that middle
    turns : signs between figures, with their middle in the frame
    taken : boxes of those signs, about the middle of the paper
    """

    view: View
    origin: Point
    limits: Box
    turns: tuple[tuple[Turn, Point], ...]
    taken: tuple[Box, ...]


@dataclass(frozen=True)
class _Plan:
    """One way to place a panel's signs, and the scale it leaves."""

    room: Box
    boxes: tuple[Box, ...]
    turns: tuple[tuple[Turn, Point], ...]
    scale: float


def framings(panels: Sequence[Panel], frame: tuple[float, float]) -> list[Framing]:
    """A framing for every panel, at the scale they share."""
    plans = [_plans(panel, frame) for panel in panels]
    best = [max(p.scale for p in options) for options in plans]
    seen = views([p.state for p in panels], best)
    out: list[Framing] = []
    for options, view in zip(plans, seen, strict=True):
        plan = next(p for p in options if p.scale >= view.scale * (1 - 1e-9))
        x, y = _middle(plan.room)
        edge = 2.0
        left = max((b[2] for b in plan.boxes if b[2] < plan.room[0]), default=0.0)
        right = min((b[0] for b in plan.boxes if b[0] > plan.room[2]), default=frame[0])
        out.append(
            Framing(
                view,
                (x, y),
                (left + edge - x, edge - y, right - edge - x, frame[1] - edge - y),
                plan.turns,
                tuple((b[0] - x, b[1] - y, b[2] - x, b[3] - y) for b in plan.boxes),
            )
        )
    return out


def _middle(box: Box) -> Point:
    return ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


def _turns(panel: Panel) -> tuple[list[Turn], list[Turn]]:
    """Signs between figures: those before this one, those after it."""
    before = [s for s in panel.before_turns if isinstance(s, TurnOver | Rotate)]
    after = [s for s in (*panel.signs, *panel.after_turns) if isinstance(s, TurnOver | Rotate)]
    return before, after


def _plans(panel: Panel, frame: tuple[float, float]) -> list[_Plan]:
    """Every way to place the signs, preferred ones first."""
    before, after = _turns(panel)
    hull = _hull(panel)
    out: list[_Plan] = []
    for left, right in product(_PLACES if before else (None,), _PLACES if after else (None,)):
        margin = max(10.0, 0.095 * min(frame))
        strip = min(turns.STRIP, 0.3 * frame[0])
        room = (
            margin + (strip if left == "beside" else 0.0),
            margin,
            frame[0] - margin - (strip if right == "beside" else 0.0),
            frame[1] - margin,
        )
        placed = [
            *_stack(before, left or "", True, frame),
            *_stack(after, right or "", False, frame),
        ]
        boxes = tuple(box for _, _, box in placed)
        signs = tuple((sign, at) for sign, at, _ in placed)
        out.append(_Plan(room, boxes, signs, _fit(hull, room, boxes)))
    return out


def _stack(
    signs: Sequence[Turn], place: str, at_left: bool, frame: tuple[float, float]
) -> list[tuple[Turn, Point, Box]]:
    """Signs one below the other at a side of the frame."""
    gap = 7.0
    total = sum(turns.turn_size(s)[1] for s in signs) + gap * (len(signs) - 1)
    y = {"top": 1.0, "bottom": frame[1] - total - 1.0}.get(place, (frame[1] - total) / 2)
    out: list[tuple[Turn, Point, Box]] = []
    for s in signs:
        wide, high = turns.turn_size(s)
        x = wide / 2 + 1 if at_left else frame[0] - wide / 2 - 1
        box = (x - wide / 2 - 1, y, x + wide / 2 + 1, y + high)
        out.append((s, (x, y + high / 2), box))
        y += high + gap
    return out


def _hull(panel: Panel) -> Polygon:
    """Convex hull of the paper about the middle of its box, y down, counter-clockwise in that sense."""
    import shapely

    points = [p for ring in panel.state.placed for p in ring]
    x0, y0, x1, y1 = polygons.bounds(points)
    cx, cy = (x0 + x1) / 2, (y0 + y1) / 2
    hull = shapely.convex_hull(shapely.multipoints([(x - cx, cy - y) for x, y in points]))
    ring = shapely.get_coordinates(hull)[:-1]
    return polygons.counter_clockwise(tuple((float(x), float(y)) for x, y in ring))


def _fit(hull: Polygon, room: Box, boxes: Sequence[Box]) -> float:
    """Largest scale at which the paper lies in its room and clear of the signs."""
    x0, y0, x1, y1 = polygons.bounds(hull)
    scale = min((room[2] - room[0]) / max(x1 - x0, 1e-6), (room[3] - room[1]) / max(y1 - y0, 1e-6))
    if _clear(hull, room, boxes, scale):
        return scale
    lo, hi = 0.0, scale
    for _ in range(14):
        k = (lo + hi) / 2
        lo, hi = (k, hi) if _clear(hull, room, boxes, k) else (lo, k)
    return lo


def _clear(hull: Polygon, room: Box, boxes: Sequence[Box], scale: float) -> bool:
    if scale <= 0:
        return True
    x, y = _middle(room)
    shape = tuple((x + p[0] * scale, y + p[1] * scale) for p in hull)
    slack = 5.0
    return not any(
        polygons.overlap(
            shape,
            (
                (b[0] - slack, b[1] - slack),
                (b[2] + slack, b[1] - slack),
                (b[2] + slack, b[3] + slack),
                (b[0] - slack, b[3] + slack),
            ),
        )
        for b in boxes
    )
