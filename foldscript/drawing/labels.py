"""Letters at points of the paper.

In: names, their points on the page, and what lies around. Out: `Text`s, outside the paper and clear
of each other, of arrows and of fold lines where there is room.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from .outlines import Box
from .routes import Surroundings
from .scene import Point, Text
from .styles import Style

_DIRECTIONS = 16
_DISTANCES = (3.4, 6.0, 9.0)


def place_labels(
    labels: Sequence[tuple[str, Point]], around: Surroundings, style: Style
) -> list[Text]:
    """A text for each (name, point on the page); names at the same point are written together."""
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
    out: list[Text] = []
    for p, names in at:
        words = ", ".join(names)
        box = _best(p, words, around, taken, style)
        taken.append(box)
        middle = (box[0] + box[2]) / 2
        baseline = box[3] - 0.06 * style.label
        on_paper = any(around.covers([(middle, (box[1] + box[3]) / 2)]))
        if on_paper:
            out.append(Text("text.halo", (middle, baseline), words, style.label, "middle"))
        out.append(Text("text.label", (middle, baseline), words, style.label, "middle"))
    return out


def _best(p: Point, words: str, around: Surroundings, taken: list[Box], style: Style) -> Box:
    """The box about a point where its letters disturb least."""
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
    on_paper, on_edge = around.under(boxes)
    costs = [
        2.0 * on_paper[k]
        + 2.6 * on_edge[k]
        + 0.04 * ways[k][0]
        + _cost(boxes[k], p, ways[k][1], around, taken)
        for k in range(len(boxes))
    ]
    return boxes[min(range(len(boxes)), key=lambda k: (round(costs[k], 6), k))]


def _cost(box: Box, p: Point, way: Point, around: Surroundings, taken: list[Box]) -> float:
    x0, y0, x1, y1 = box
    cost = 6.0 * sum(1 for t in taken if _meet(box, t, 1.0))
    cost += 0.5 * min(6, sum(1 for q in around.arrows if _holds(box, q, 1.8)))
    cost += 0.25 * min(6, sum(1 for q in around.folds if _holds(box, q, 0.6)))
    cost += 0.5 * sum(1 for q in around.marks if math.dist(q, p) > 1 and _holds(box, q, 3.0))
    fx0, fy0, fx1, fy1 = around.box
    cost += 0.5 * max(fx0 - x0, x1 - fx1, fy0 - y0, y1 - fy1, 0.0)
    out = math.hypot(*p)
    if out > 1:
        cost += 0.35 * (1 - (p[0] * way[0] + p[1] * way[1]) / out)
    return cost


def _meet(a: Box, b: Box, slack: float) -> bool:
    return (
        a[0] < b[2] + slack and b[0] < a[2] + slack and a[1] < b[3] + slack and b[1] < a[3] + slack
    )


def _holds(box: Box, p: Point, slack: float) -> bool:
    return box[0] - slack < p[0] < box[2] + slack and box[1] - slack < p[1] < box[3] + slack
