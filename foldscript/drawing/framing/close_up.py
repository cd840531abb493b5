"""A step that acts in a small place: where its figure shows that place larger, and how.

In: the panels of a row with their views, and the frame. Out: a `CloseUp` for each whose fold lines would be
short on the page, and for the figures after it that act in the same place. What is done there fills a window,
no larger than that, nor higher than the figures beside it where its lines are long enough; the whole model
stands beside it small, with the window marked on it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Protocol

from ...folding.steps import Panel
from ...geometry import polygons
from ...paper.signs import (
    Arrow,
    EqualAngles,
    EqualLengths,
    FoldLine,
    Measure,
    PointSign,
    RepeatSign,
    RightAngle,
    landmark_points,
)
from ..scene.outlines import Box
from ..scene.scene import Point
from ..scene.view import View

_MM = 72 / 25.4
#: A step is shown larger where none of its fold lines would be as long as this on the page (points).
SHORT = 12.0 * _MM
#: How many times larger: at least; and at most, unless the lines would still be short.
LEAST, MOST = 2.0, 4.0
#: Lines as long as this part of that are seen well enough in a window that stays.
_SEEN = 0.6
#: How far what is done lies from the middle of the window, of what would be possible.
_ASIDE = 0.6
#: Sides of the room for a window (points): it should be no smaller, and need be no larger; least width and
#: height of a window that shows little.
_WINDOW, _WIDEST, _TRIMMED = 45.0 * _MM, 60.0 * _MM, (34.0 * _MM, 22.0 * _MM)
#: Kept free about what is done, for heads and rings, and between the window and the small model (points).
_AIR, _APART, _EDGE = 11.0, 5.0, 2.0
#: A window may be narrower than that by this part, where it is as high as that.
_NARROWEST = 0.7
#: By which steps a window is drawn less large, to be as high as its neighbours.
_STEP = 0.96
#: How far an arrow may bulge, as a part of its length; how far rows beside a line reach, each more (points).
_BULGE, _ROW = 0.3, 10.5
#: How far the box of a repeat may stand from its place (points).
_REPEAT = 30.0
#: Width beside the window that is enough for the small model, and how large that is at most (points).
_NARROW, _SMALL = 28.0, 44.0
#: Height beside the window that is left to the number of the step, and what the small model has at least
#: (points).
_NUMBER, _LOW = 24.0, 24.0


@dataclass(frozen=True)
class CloseUp:
    """How the active part of a figure is drawn larger.

    view : onto the window, about its middle; size : of the window; at : its middle in the frame
    small : view onto the whole model, about its middle; small_at : that middle in the frame
    """

    view: View
    size: tuple[float, float]
    at: Point
    small: View
    small_at: Point

    @property
    def window(self) -> Box:
        """The window about its own middle."""
        wide, high = self.size
        return (-wide / 2, -high / 2, wide / 2, high / 2)

    @property
    def marked(self) -> Box:
        """The window on the small model, about that one's middle."""
        k = self.small.scale / self.view.scale
        x, y = self.small(self.view.centre)
        return (
            x - k * self.size[0] / 2,
            y - k * self.size[1] / 2,
            x + k * self.size[0] / 2,
            y + k * self.size[1] / 2,
        )

    def holds(self, box: Box) -> bool:
        """Whether a box of the folded plane lies in the window, with what surrounds it."""
        x0, y0 = self.view((box[0], box[3]))
        x1, y1 = self.view((box[2], box[1]))
        wide, high = self.size
        return max(-x0, x1) + _AIR <= wide / 2 + 1e-6 and max(-y0, y1) + _AIR <= high / 2 + 1e-6


class Placed(Protocol):
    """A panel of a row; `anew` where the model has been turned since the one before."""

    @property
    def panel(self) -> Panel:
        """What is shown."""
        ...

    @property
    def beside(self) -> float:
        """How much of the frame's width is left free."""
        ...

    @property
    def anew(self) -> bool:
        """Whether it shows the model turned."""
        ...


def close_ups(
    row: Sequence[Placed], views: Sequence[View], enlarged: float, frame: tuple[float, float]
) -> list[CloseUp | None]:
    """What is drawn larger of every panel; `enlarged` is how much larger the style prints figures."""
    found: list[CloseUp | None] = []
    for one, view in zip(row, views, strict=True):
        before = found[-1] if found and not one.anew else None
        found.append(_close_up(one, view, before, enlarged, frame))
    out: list[CloseUp | None] = []
    for _, run in groupby(range(len(row)), key=lambda k: id(found[k]) if found[k] else -k - 1):
        places = list(run)
        first, last = places[0], places[-1]
        whole = found[first]
        if whole is not None:
            high = max(_height(row[k], views[k]) for k in _with_neighbours(first, last, len(row)))
            some = [row[k] for k in places]
            whole = _trimmed(some, views[first], whole, high, enlarged, frame)
        out += [whole] * len(places)
    return out


def _with_neighbours(first: int, last: int, count: int) -> range:
    return range(max(0, first - 1), min(count, last + 2))


def _height(one: Placed, view: View) -> float:
    """How high the paper of a figure is, drawn as the others (points)."""
    _, y0, _, y1 = polygons.bounds(p for ring in one.panel.state.placed for p in ring)
    return (y1 - y0) * view.scale


def _trimmed(
    some: Sequence[Placed],
    view: View,
    whole: CloseUp,
    high: float,
    enlarged: float,
    frame: tuple[float, float],
) -> CloseUp:
    """A window, the same for some figures, cut down to what they show; drawn less large where it would be
    higher than `high`, as long as lines are long enough."""
    room = _room(some[0], frame)
    longest = min(_longest(one.panel) for one in some)
    scale = whole.view.scale
    least = min(scale, max(LEAST * view.scale, SHORT / enlarged**0.5 / max(longest, 1e-6)))
    while True:
        seen = View(scale, whole.view.centre, view.factor)
        box = _shown(some, seen, whole.size, enlarged)
        if box[3] - box[1] <= high or scale <= least:
            break
        scale = max(least, _STEP * scale)
    middle = seen.back(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
    size = (box[2] - box[0], box[3] - box[1])
    return _framed(some[0], View(scale, middle, view.factor), size, room)


def _shown(some: Sequence[Placed], view: View, most: tuple[float, float], enlarged: float) -> Box:
    """Box about what is done in some figures, with its signs, within a window about the same middle."""
    points = [p for one in some for p in _signs(one.panel, view)]
    x0, y0, x1, y1 = polygons.bounds(points)
    box = (x0 - _AIR, y0 - _AIR, x1 + _AIR, y1 + _AIR)
    sides: list[tuple[float, float]] = []
    for k in (0, 1):
        half = most[k] / 2
        low, up = max(box[k], -half), min(box[k + 2], half)
        more = max(0.0, min(_TRIMMED[k] / enlarged, most[k]) - (up - low)) / 2
        low, up = low - more, up + more
        aside = max(0.0, -half - low) - max(0.0, up - half)
        sides.append((low + aside, up + aside))
    return (sides[0][0], sides[1][0], sides[0][1], sides[1][1])


def _signs(panel: Panel, view: View) -> list[Point]:
    """Corners of all that a step does, on the page, with bulges of arrows and rows of lengths."""
    acting = _acting(panel)
    out = [] if acting is None else [view(acting[:2]), view(acting[2:])]
    x0, y0, x1, y1 = polygons.bounds(p for ring in panel.state.placed for p in ring)
    middle = view(((x0 + x1) / 2, (y0 + y1) / 2))
    for sign in panel.signs:
        if isinstance(sign, Arrow):
            tail, head = view(sign.tail), view(sign.head)
            out += [_aside(tail, head, way * _BULGE * math.dist(tail, head)) for way in (1.0, -1.0)]
        elif isinstance(sign, RepeatSign) and sign.at is not None:
            x, y = view(sign.at)
            out += [(x - _REPEAT, y - _REPEAT), (x + _REPEAT, y + _REPEAT)]
    rows = [s for s in panel.signs if isinstance(s, EqualLengths | Measure)]
    for k, sign in enumerate(rows, 1):
        ends = landmark_points(sign)
        start, end = view(ends[0]), view(ends[-1])
        ways = (_aside(start, end, k * _ROW), _aside(start, end, -k * _ROW))
        x, y = max(ways, key=lambda p: math.dist(p, middle))
        mx, my = _aside(start, end, 0.0)
        out += [(px + x - mx, py + y - my) for px, py in (start, end)]
    return out


def _aside(p: Point, q: Point, far: float) -> Point:
    """The middle between two places, moved so far to the side."""
    n = math.dist(p, q) or 1.0
    x, y = (p[0] + q[0]) / 2, (p[1] + q[1]) / 2
    return (x - far * (q[1] - p[1]) / n, y + far * (q[0] - p[0]) / n)


def _room(one: Placed, frame: tuple[float, float]) -> tuple[float, float]:
    """Width and height that window and small model have together."""
    return (frame[0] - one.beside - 2 * _EDGE, frame[1] - 2 * _EDGE)


def _close_up(
    one: Placed, view: View, before: CloseUp | None, enlarged: float, frame: tuple[float, float]
) -> CloseUp | None:
    box = _acting(one.panel)
    if box is None:
        return None
    longest, short = _longest(one.panel), SHORT / enlarged**0.5
    if before is not None and before.holds(box) and longest * before.view.scale >= _SEEN * short:
        return before
    if longest * view.scale >= short:
        return None
    room = _room(one, frame)
    size = _window(room, enlarged)
    if size is None:
        return None
    sides = [(box[k + 2] - box[k]) * view.scale for k in (0, 1)]
    fits = [(most - 2 * _AIR) / max(side, 1e-6) for side, most in zip(sides, size, strict=True)]
    factor = min(max(MOST, short / max(longest * view.scale, 1e-6)), *fits)
    if factor < LEAST:
        return None
    scale = factor * view.scale
    middle = _middle(one.panel, box, (size[0] / scale, size[1] / scale), _AIR / scale)
    return _framed(one, View(scale, middle, view.factor), size, room)


def _middle(panel: Panel, box: Box, size: tuple[float, float], air: float) -> Point:
    """Middle of a window of the folded plane that holds a box, as much of the paper beside it as can be."""
    whole = polygons.bounds(p for ring in panel.state.placed for p in ring)
    out: list[float] = []
    for k in (0, 1):
        at, slack = (box[k] + box[k + 2]) / 2, (size[k] - box[k + 2] + box[k]) / 2 - air
        wanted = (whole[k] + whole[k + 2]) / 2 - at
        out.append(at + _ASIDE * min(max(wanted, -slack), slack))
    return (out[0], out[1])


def _window(room: tuple[float, float], enlarged: float) -> tuple[float, float] | None:
    """Width and height of the window beside the small model; None where it would be too small."""
    least, most = _WINDOW / enlarged, _WIDEST / enlarged
    wide = min(max(least, room[0] - _APART - _SMALL), most, room[0] - _APART - _NARROW)
    high = min(max(least, wide), room[1])
    return (wide, high) if wide >= _NARROWEST * least and high >= least - 1e-6 else None


def _framed(
    one: Placed, view: View, size: tuple[float, float], room: tuple[float, float]
) -> CloseUp:
    """The window, and the small model at the left of it, low; both in the middle of their room."""
    x0, y0, x1, y1 = polygons.bounds(p for ring in one.panel.state.placed for p in ring)
    wide, high = size
    beside = min(_SMALL, room[0] - wide - _APART)
    lower = max(_LOW, min(_SMALL, high - _NUMBER))
    small = min(beside / max(x1 - x0, 1e-6), lower / max(y1 - y0, 1e-6))
    left = _EDGE + one.beside / 2 + (room[0] - wide - _APART - small * (x1 - x0)) / 2
    top = _EDGE + (room[1] - high) / 2
    at = (left + small * (x1 - x0) + _APART + wide / 2, top + high / 2)
    small_at = (left + small * (x1 - x0) / 2, top + high - small * (y1 - y0) / 2)
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    return CloseUp(view, size, at, View(small, middle), small_at)


def _acting(panel: Panel) -> Box | None:
    """Box about all that a step does, in the folded plane; None where it is not shown larger."""
    if panel.pose is not None or panel.next_pose is not None or panel.finished:
        return None
    folds = [s for s in panel.signs if isinstance(s, FoldLine) and not s.opens]
    arrows = [s for s in panel.signs if isinstance(s, Arrow)]
    if not folds or not arrows or any(fold.pinch for fold in folds):
        return None
    points = [p for fold in folds for _, segment in fold.parts for p in segment]
    points += [p for arrow in arrows for p in (arrow.tail, arrow.head)]
    points += [s.at for s in panel.signs if isinstance(s, PointSign)]
    points += [s.at for s in panel.signs if isinstance(s, RepeatSign) and s.at is not None]
    points += [s.apex for s in panel.signs if isinstance(s, EqualAngles | RightAngle)]
    points += [p for s in panel.signs if isinstance(s, Measure) for p in (s.start, s.end)]
    lengths = [s for s in panel.signs if isinstance(s, EqualLengths)]
    points += [p for s in lengths for segment in s.segments for p in segment]
    points += [p for _, p in panel.letters]
    return polygons.bounds(points)


def _longest(panel: Panel) -> float:
    """The longest of the lines that a step folds, in sheet units."""
    longest = 0.0
    for sign in panel.signs:
        if isinstance(sign, FoldLine) and not sign.opens:
            ends = [p for _, segment in sign.parts for p in segment]
            longest = max([longest, *(math.dist(p, q) for p in ends for q in ends)])
    return longest
