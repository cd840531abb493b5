"""Ways to place the signs that stand between figures, and the scale each of them leaves.

In: the outline of the paper, the signs before and after a figure, and its frame. Out: `Plan`s, the
preferred ones first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from ...geometry import polygons
from ...geometry.polygons import Polygon
from ...paper.signs import Rotate, TurnOver
from ..scene.outlines import Box
from ..scene.scene import Point
from ..signs.glyph import TurnGlyph
from ..signs.registry import glyph_for

Turn = TurnOver | Rotate

#: Width kept free beside a figure for such a sign (points).
_STRIP = 36.0
#: Width kept free all about a figure's paper, for what stands out from it (points).
_MARGIN = 6.5
#: Preference where several places do.
_PLACES = ("beside", "top", "bottom")


@dataclass(frozen=True)
class Plan:
    """One way to place a panel's signs.

    room : where the paper may lie; boxes : what the signs take; turns : the signs with their
    middles; scale : the largest at which the paper, in the middle of its room, keeps clear of them;
    beside : how much of the frame's width is left free in any case
    """

    room: Box
    boxes: tuple[Box, ...]
    turns: tuple[tuple[Turn, Point], ...]
    scale: float
    beside: float = 0.0


def plans(
    hull: Polygon,
    before: Sequence[Turn],
    after: Sequence[Turn],
    frame: tuple[float, float],
    beside: float = 0.0,
) -> list[Plan]:
    """Every way to place the signs, preferred ones first. `hull` lies about the paper's middle.

    `beside` is how much of the frame's width the paper leaves free in any case.
    """
    out: list[Plan] = []
    for left, right in product(_PLACES if before else (None,), _PLACES if after else (None,)):
        margin = _MARGIN
        strip = min(_STRIP, 0.3 * frame[0])
        room = (
            margin + beside / 2 + (strip if left == "beside" else 0.0),
            margin,
            frame[0] - margin - beside / 2 - (strip if right == "beside" else 0.0),
            frame[1] - margin,
        )
        placed = [
            *_stack(before, left or "", True, frame),
            *_stack(after, right or "", False, frame),
        ]
        boxes = tuple(box for _, _, box in placed)
        signs = tuple((sign, at) for sign, at, _ in placed)
        out.append(Plan(room, boxes, signs, _fit(hull, room, boxes), beside))
    return out


def _stack(
    signs: Sequence[Turn], place: str, at_left: bool, frame: tuple[float, float]
) -> list[tuple[Turn, Point, Box]]:
    """Signs one below the other at a side of the frame."""
    gap = 7.0
    total = sum(glyph_for(s, TurnGlyph).size[1] for s in signs) + gap * (len(signs) - 1)
    y = {"top": 1.0, "bottom": frame[1] - total - 1.0}.get(place, (frame[1] - total) / 2)
    out: list[tuple[Turn, Point, Box]] = []
    for s in signs:
        wide, high = glyph_for(s, TurnGlyph).size
        x = wide / 2 + 1 if at_left else frame[0] - wide / 2 - 1
        box = (x - wide / 2 - 1, y, x + wide / 2 + 1, y + high)
        out.append((s, (x, y + high / 2), box))
        y += high + gap
    return out


def _fit(hull: Polygon, room: Box, boxes: Sequence[Box]) -> float:
    """Largest scale at which the paper lies in its room and clear of the signs."""
    x0, y0, x1, y1 = polygons.bounds(hull)
    scale = min((room[2] - room[0]) / max(x1 - x0, 1e-6), (room[3] - room[1]) / max(y1 - y0, 1e-6))
    middle = ((room[0] + room[2]) / 2, (room[1] + room[3]) / 2)
    if clear(hull, middle, boxes, scale):
        return scale
    lo, hi = 0.0, scale
    for _ in range(14):
        k = (lo + hi) / 2
        lo, hi = (k, hi) if clear(hull, middle, boxes, k) else (lo, k)
    return lo


def clear(
    hull: Polygon, middle: Point, boxes: Sequence[Box], scale: float, slack: float = 5.0
) -> bool:
    """Whether the paper, about `middle`, keeps this far from all the boxes."""
    if scale <= 0 or not boxes:
        return True
    x, y = middle
    shape = tuple((x + p[0] * scale, y + p[1] * scale) for p in hull)
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
