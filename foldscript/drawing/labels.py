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
    wide, high = 0.6 * style.label * len(words), 0.8 * style.label
    best: tuple[float, Box] | None = None
    for distance in _DISTANCES:
        for k in range(_DIRECTIONS):
            a = 2 * math.pi * k / _DIRECTIONS
            c, s = math.cos(a), math.sin(a)
            reach = 1 / max(abs(c) / (wide / 2), abs(s) / (high / 2))
            x, y = p[0] + (distance + reach) * c, p[1] + (distance + reach) * s
            box = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
            cost = _cost(box, p, (c, s), around, taken) + 0.04 * distance
            if best is None or cost < best[0] - 1e-6:
                best = (cost, box)
    assert best is not None
    return best[1]


def _cost(box: Box, p: Point, way: Point, around: Surroundings, taken: list[Box]) -> float:
    x0, y0, x1, y1 = box
    corners = [(x, y) for x in (x0, (x0 + x1) / 2, x1) for y in (y0, (y0 + y1) / 2, y1)]
    cost = 2.0 * sum(around.covers(corners)) / len(corners)
    cost += 6.0 * sum(1 for t in taken if _meet(box, t, 1.0))
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
