"""Letters at points of the paper.

In: names, their points on the page, and what lies around. Out: `Text`s, outside the paper and clear
of each other, of arrows and of fold lines where there is room.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING

from ..scene.outlines import Box, polyline
from ..scene.scene import Path, Point, Text
from ..style.styles import Style
from .obstacles import Obstacles, Places, held, near, shared
from .ways import points_between

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

_DIRECTIONS = 16
_DISTANCES = (3.4, 4.8, 6.4, 9.0, 13.0, 18.0, 24.0)
#: How far off what keeps clear of every line may stand, too.
_FARTHEST = (32.0, 42.0, 54.0)
#: At a point with a ring a letter stands at least as far off as this.
_OFF_RING = 4.5
#: From here on a fine line leads to the point.
_FAR = 12.0
#: A letter that stands this far off has a fine line to its point.
_LED = 7.5
#: What it costs to stand so far off.
_FAR_COST = 1.5
#: Numbers of marks, as a part of the size of letters at points.
_VALUE = 0.85
#: How far numbers of marks keep off arrows where they can (points).
_AIR = 2.5
#: What it costs what is to stand clear to lie on a line.
_CROSSED = 20.0
#: What it costs to stand out of the circle in which a part of the figure is drawn.
_OUTSIDE = 100.0


@dataclass(frozen=True)
class _Room:
    """What a letter has to mind: all other ink, letters placed before; `clear` of every line it keeps."""

    around: Obstacles
    taken: tuple[Box, ...] = ()
    clear: bool = False


def place_labels(
    labels: Sequence[tuple[str, Point]],
    around: Obstacles,
    style: Style,
    clear: Collection[str] = (),
) -> list[tuple[Path | Text, ...]]:
    """Items for each (name, point on the page); names at the same point are written together.

    A letter that had to go far from its point is led to it by a fine line. Those that are to stand `clear`
    keep off every edge, fold line and crease. The obstacles learn of all.
    """
    at: list[tuple[Point, list[str]]] = []
    for name, p in labels:
        for q, names in at:
            if math.dist(p, q) < 2.0:
                if name not in names:
                    names.append(name)
                break
        else:
            at.append((p, [name]))
    taken: list[Box] = []
    led: list[tuple[Point, Point]] = []
    out: list[tuple[Path | Text, ...]] = []
    for p, names in at:
        words = ", ".join(names)
        room = _Room(around, tuple(taken), any(name in clear for name in names))
        box, away = _best(p, words, room, style)
        taken.append(box)
        middle = (box[0] + box[2]) / 2
        baseline = box[3] - 0.06 * style.label
        items: list[Path | Text] = []
        if away >= _LED:
            led.append(_leader(p, box))
            items.append(Path("leader", polyline(led[-1])))
        if around.covers([(middle, (box[1] + box[3]) / 2)])[0]:
            items.append(Text("text.halo", (middle, baseline), words, style.label, "middle"))
        items.append(Text("text.label", (middle, baseline), words, style.label, "middle"))
        out.append(tuple(items))
    around.taken.extend(taken)
    around.arrows.extend(p for line in led for p in points_between(*line))
    return out


def place_value(places: Places, words: str, around: Obstacles, style: Style) -> list[Path | Text]:
    """A number at the first place of a mark where it disturbs nothing, with air to arrows and letters if it
    can, else near the first one."""
    small = replace(style, label=_VALUE * style.label)
    wide, high = 0.6 * small.label * len(words), 0.8 * small.label
    boxes: list[Box] = []
    for (x, y), (dx, dy) in places:
        reach = 2.0 + (wide * abs(dx) + high * abs(dy)) / 2
        x, y = x + reach * dx, y + reach * dy
        boxes.append((x - wide / 2, y - high / 2, x + wide / 2, y + high / 2))
    free = [box for box in boxes if not _disturbs(box, around)]
    box = next((box for box in free if not _squeezed(box, around)), free[0] if free else None)
    if box is None:
        box, _ = _best(places[0][0], words, _Room(around), small)
    around.taken.append(box)
    at = ((box[0] + box[2]) / 2, box[3] - 0.06 * small.label)
    text = Text("text.sign", at, words, small.label, "middle")
    on_paper = around.covers([((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)])[0]
    return [replace(text, role="text.halo"), text] if on_paper else [text]


def _disturbs(box: Box, around: Obstacles) -> bool:
    """Whether a number in a box would lie on other ink, across an edge, or out of the frame."""
    import numpy
    import shapely

    x0, y0, x1, y1 = around.box
    if box[0] < x0 or box[1] < y0 or box[2] > x1 or box[3] > y1:
        return True
    at = numpy.array([box])
    lies = (around.arrows, around.folds, around.edge_points)
    if any(held(at, points, 0.6)[0] for points in lies) or shared(at, around.taken, 0.5)[0]:
        return True
    strokes = around.strokes
    return bool(strokes) and bool(
        shapely.intersects(shapely.box(*box), shapely.linestrings(strokes)).any()
    )


def _squeezed(box: Box, around: Obstacles) -> bool:
    """Whether a number in a box would touch arrows, other than its own mark, or rings."""
    at, ruled = [box], set(around.ruled)
    ways = [p for p in around.arrows if p not in ruled]
    return bool(held(at, ways, _AIR)[0] or held(at, around.marks, _OFF_RING)[0])


def _leader(p: Point, box: Box) -> tuple[Point, Point]:
    """From near a point to the nearest side of a box."""
    x, y = min(max(p[0], box[0] - 1), box[2] + 1), min(max(p[1], box[1] - 1), box[3] + 1)
    n = math.dist(p, (x, y)) or 1.0
    return (p[0] + 1.6 * (x - p[0]) / n, p[1] + 1.6 * (y - p[1]) / n), (x, y)


def _best(p: Point, words: str, room: _Room, style: Style) -> tuple[Box, float]:
    """The box about a point where its letters disturb least, and how far from the point it lies.

    Places far off are only looked at when all near ones disturb more than those must cost.
    """
    near_by = _least(p, words, room, style, False)
    if near_by[0] < _FAR_COST and not room.clear:
        return near_by[1:]
    return min(near_by, _least(p, words, room, style, True), key=lambda one: one[0])[1:]


def _least(
    p: Point, words: str, room: _Room, style: Style, far_off: bool
) -> tuple[float, Box, float]:
    """Cost, box and distance of the best place near by, or far off."""
    import numpy

    wide, high = 0.6 * style.label * len(words), 0.8 * style.label
    away, ways = _ways(far_off, room.clear)
    reach = away + 1 / (numpy.abs(ways) / (wide / 2, high / 2)).max(1)
    middles, half = numpy.array(p) + reach[:, None] * ways, numpy.array((wide / 2, high / 2))
    at = numpy.hstack([middles - half, middles + half])
    around = room.around
    cost = _cover(at, around)
    cost += 0.09 * away
    cost += 6.0 * shared(at, room.taken, 1.0) + 9.0 * shared(at, around.taken, 0.5)
    if far_off:
        cost += _FAR_COST + 1.2 * _led_across(p, around, room.clear)
    over = held(at, around.arrows, 1.8)
    cost += 1.2 * (over > 0) + 0.5 * numpy.minimum(6, over)
    cost += 3.0 * (held(at, around.ruled, 0.5) > 0)
    across = held(at, around.folds, 0.8)
    cost += 1.4 * (across > 0) + 0.4 * numpy.minimum(4, across)
    if room.clear:
        lines = held(at, around.edge_points, 0.7) + held(at, around.creases, 0.7) + across
        cost += _CROSSED * (lines > 0)
    cost += 0.9 * held(at, [q for q in around.marks if math.dist(q, p) > 1], 3.6)
    if any(math.dist(q, p) < 1 for q in around.marks):
        cost += 0.4 * (away < _OFF_RING)
    fx0, fy0, fx1, fy1 = around.box
    out = numpy.maximum(
        numpy.maximum(fx0 - at[:, 0], at[:, 2] - fx1), numpy.maximum(fy0 - at[:, 1], at[:, 3] - fy1)
    )
    cost += 0.5 * numpy.maximum(0.0, out)
    if around.radius < math.inf:
        farthest = numpy.hypot(*numpy.maximum(numpy.abs(at[:, :2]), numpy.abs(at[:, 2:])).T)
        cost += _OUTSIDE * (farthest > around.radius)
    far = math.hypot(*p)
    if far > 1:
        cost += 0.3 * (1 - ways @ numpy.array(p) / far)
    best = int(numpy.argmin(numpy.round(cost, 6)))
    x0, y0, x1, y1 = (float(v) for v in at[best])
    return float(cost[best]), (x0, y0, x1, y1), float(away[best])


@cache
def _ways(far_off: bool, clear: bool) -> tuple[NDArray[numpy.float64], NDArray[numpy.float64]]:
    """Distances and directions of all places that are tried; far ones in fewer directions."""
    import numpy

    every = (*_DISTANCES, *(_FARTHEST if clear else ()))
    distances = [d for d in every if (d >= _FAR) is far_off]
    count = _DIRECTIONS // 2 if far_off else _DIRECTIONS
    away = numpy.repeat(distances, count)
    turns = numpy.tile(2 * math.pi * numpy.arange(count) / count, len(distances))
    return away, numpy.stack([numpy.cos(turns), numpy.sin(turns)], axis=1)


def _led_across(p: Point, around: Obstacles, clear: bool) -> NDArray[numpy.bool_]:
    """Whether the fine line to each place far off would cross an arrow."""
    import numpy

    away, ways = _ways(True, clear)
    steps = numpy.linspace(0.2, 1.0, 8)[:, None]
    lines = numpy.array(p) + steps * (away[:, None] * ways)[:, None, :]
    return numpy.asarray(near(lines, around.arrows, 1.8).any(1))


def _cover(at: NDArray[numpy.float64], around: Obstacles) -> NDArray[numpy.float64]:
    """What it costs each box to lie on the paper, and to lie across or hard by an edge of it."""
    import numpy

    x, y = at[:, 0::2], at[:, 1::2]
    corners = numpy.stack([x[:, (0, 1, 0, 1)], y[:, (0, 0, 1, 1)]], axis=-1)
    middle = numpy.stack([x.mean(1), y.mean(1)], axis=-1)[:, None]
    on_paper = around.on_paper(numpy.concatenate([corners, middle], axis=1)).mean(1)
    across = held(at, around.edge_points, 0.7)
    return 2.0 * on_paper + 1.6 * (across > 0) + 0.22 * numpy.minimum(12, across)
