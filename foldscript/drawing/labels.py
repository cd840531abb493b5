"""Letters at points of the paper.

In: names, their points on the page, and what lies around. Out: `Text`s, outside the paper and clear
of each other, of arrows and of fold lines where there is room.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from .outlines import Box, polyline
from .scene import Path, Point, Text
from .styles import Style
from .surroundings import Surroundings, held, near, shared

_DIRECTIONS = 16
_DISTANCES = (3.4, 4.8, 6.4, 9.0, 13.0, 18.0, 24.0)
#: From here on a fine line leads to the point.
_FAR = 12.0


def place_labels(
    labels: Sequence[tuple[str, Point]], around: Surroundings, style: Style
) -> list[tuple[Path | Text, ...]]:
    """Items for each (name, point on the page); names at the same point are written together.

    A letter that had to go far from its point is led to it by a fine line.
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
    out: list[tuple[Path | Text, ...]] = []
    for p, names in at:
        words = ", ".join(names)
        box, away = _best(p, words, around, taken, style)
        taken.append(box)
        middle = (box[0] + box[2]) / 2
        baseline = box[3] - 0.06 * style.label
        items: list[Path | Text] = []
        if away >= _FAR:
            items.append(Path("leader", polyline(_leader(p, box))))
        if around.covers([(middle, (box[1] + box[3]) / 2)])[0]:
            items.append(Text("text.halo", (middle, baseline), words, style.label, "middle"))
        items.append(Text("text.label", (middle, baseline), words, style.label, "middle"))
        out.append(tuple(items))
    return out


def _leader(p: Point, box: Box) -> tuple[Point, Point]:
    """From near a point to the nearest side of a box."""
    x, y = min(max(p[0], box[0] - 1), box[2] + 1), min(max(p[1], box[1] - 1), box[3] + 1)
    n = math.dist(p, (x, y)) or 1.0
    return (p[0] + 1.6 * (x - p[0]) / n, p[1] + 1.6 * (y - p[1]) / n), (x, y)


def _best(
    p: Point, words: str, around: Surroundings, taken: list[Box], style: Style
) -> tuple[Box, float]:
    """The box about a point where its letters disturb least, and how far from the point it lies."""
    import numpy

    wide, high = 0.6 * style.label * len(words), 0.8 * style.label
    ways: list[tuple[float, Point]] = [
        (d, (math.cos(a), math.sin(a)))
        for d in _DISTANCES
        for a in (2 * math.pi * k / _DIRECTIONS for k in range(_DIRECTIONS))
    ]
    boxes: list[Box] = []
    for d, (c, s) in ways:
        reach = d + 1 / max(abs(c) / (wide / 2), abs(s) / (high / 2))
        x, y = p[0] + reach * c, p[1] + reach * s
        boxes.append((x - wide / 2, y - high / 2, x + wide / 2, y + high / 2))
    at = numpy.array(boxes)
    cost = _cover(at, around)
    cost += numpy.array([0.04 * d + (1.5 if d >= _FAR else 0.0) for d, _ in ways])
    cost += 6.0 * shared(at, taken, 1.0) + 9.0 * shared(at, around.taken, 0.5)
    cost += 1.2 * _led_across(p, ways, around)
    over = held(at, around.arrows, 1.8)
    cost += 1.2 * (over > 0) + 0.5 * numpy.minimum(6, over)
    across = held(at, around.folds, 0.8)
    cost += 1.4 * (across > 0) + 0.4 * numpy.minimum(4, across)
    cost += 0.9 * held(at, [q for q in around.marks if math.dist(q, p) > 1], 3.6)
    fx0, fy0, fx1, fy1 = around.box
    out = numpy.maximum(
        numpy.maximum(fx0 - at[:, 0], at[:, 2] - fx1), numpy.maximum(fy0 - at[:, 1], at[:, 3] - fy1)
    )
    cost += 0.5 * numpy.maximum(0.0, out)
    far = math.hypot(*p)
    if far > 1:
        cost += 0.35 * (1 - numpy.array([p[0] * x + p[1] * y for _, (x, y) in ways]) / far)
    best = min(range(len(boxes)), key=lambda k: (round(float(cost[k]), 6), k))
    return boxes[best], ways[best][0]


def _led_across(p: Point, ways: list[tuple[float, Point]], around: Surroundings) -> Any:
    """Whether the fine line to each place would cross an arrow."""
    import numpy

    out = numpy.zeros(len(ways))
    far = [k for k, (d, _) in enumerate(ways) if d >= _FAR]
    if far and around.arrows:
        steps = numpy.linspace(0.2, 1.0, 8)[:, None]
        lines = numpy.array([numpy.array(p) + steps * d * numpy.array(way) for d, way in
                             (ways[k] for k in far)])  # fmt: skip
        out[far] = near(lines, around.arrows, 1.8).any(1)
    return out


def _cover(at: Any, around: Surroundings) -> Any:
    """What it costs each box to lie on the paper, and to lie across or hard by an edge of it."""
    import numpy

    across = numpy.array([0.0, 0.5, 1.0])
    x = at[:, 0, None] + (at[:, 2] - at[:, 0])[:, None] * across
    y = at[:, 1, None] + (at[:, 3] - at[:, 1])[:, None] * across
    grid = numpy.stack(
        [numpy.repeat(x[:, :, None], 3, 2), numpy.repeat(y[:, None, :], 3, 1)], axis=-1
    )
    on_paper = around.on_paper(grid).mean((1, 2))
    across = held(at, around.edge_points, 0.7)
    return 2.0 * on_paper + 1.6 * (across > 0) + 0.22 * numpy.minimum(12, across)
