"""Outlines of sheets: named paper sizes, regular polygons, and what no sheet may be.

In: sizes in millimetres. Out: corners in millimetres, counter-clockwise from the bottom left.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from ..source.diagnostics import Refusal, Span

Outline = tuple[tuple[float, float], ...]

#: Shortest side, longest length, and the most that a sheet may be longer than wide.
SHORTEST_SIDE_MM = 1.0
LONGEST_MM = 10_000.0
THINNEST = 200.0

#: Common US sizes in inches, width by height (ANSI/ASME Y14.1 for letter and tabloid; the others are
#: common practice in the US paper trade).
_US_INCHES = {
    "letter": (8.5, 11.0),
    "half letter": (5.5, 8.5),
    "legal": (8.5, 14.0),
    "tabloid": (11.0, 17.0),
    "ledger": (17.0, 11.0),
    "executive": (7.25, 10.5),
}
US_NAMES = tuple(_US_INCHES)

REGULAR = {
    "triangle": 3,
    "pentagon": 5,
    "hexagon": 6,
    "heptagon": 7,
    "octagon": 8,
    "nonagon": 9,
    "decagon": 10,
    "dodecagon": 12,
}
MOST_CORNERS = 24


def paper_size(name: str) -> tuple[float, float] | None:
    """Width and height in mm of a named size, upright as its standard gives it; None if unknown.

    ISO 216 series A and B are made by the rule of the standard: halve the longer side and drop the
    part of a millimetre, from A0 841 x 1189 and B0 1000 x 1414.
    """
    if name.lower() in _US_INCHES:
        width, height = _US_INCHES[name.lower()]
        return width * 25.4, height * 25.4
    series = re.fullmatch(r"([AaBb])(10|[0-9])", name)
    if series is None:
        return None
    width, height = (841, 1189) if series[1] in "Aa" else (1000, 1414)
    for _ in range(int(series[2])):
        width, height = height // 2, width
    return float(width), float(height)


def rectangle(width: float, height: float) -> Outline:
    """Corners of an upright rectangle."""
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def regular_polygon(corners: int, side: float) -> Outline:
    """Corners of a regular polygon that lies on one side."""
    radius = side / (2 * math.sin(math.pi / corners))
    turn = 2 * math.pi / corners
    first = -math.pi / 2 - turn / 2
    ring = [
        (radius * math.cos(first + i * turn), radius * math.sin(first + i * turn))
        for i in range(corners)
    ]
    left, low = min(x for x, _ in ring), min(y for _, y in ring)
    return tuple((x - left, y - low) for x, y in ring)


def regular_width(corners: int) -> float:
    """Width of the regular polygon of side 1 that lies on one side."""
    return max(x for x, _ in regular_polygon(corners, 1.0))


def outline_area(outline: Sequence[tuple[float, float]]) -> float:
    """Signed area in square millimetres, positive when counter-clockwise."""
    return (
        sum(
            x0 * y1 - x1 * y0
            for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True)
        )
        / 2
    )


def check_outline(outline: Outline, names: tuple[str, ...], span: Span) -> None:
    """Refuses what is no sheet: nothing, too small, huge, a mere thread, not convex.

    `outline` is counter-clockwise; `names` are what the messages call its corners.
    """
    width = max(x for x, _ in outline) - min(x for x, _ in outline)
    height = max(y for _, y in outline) - min(y for _, y in outline)
    longest = max(width, height)
    if not longest > 0 or min(width, height) <= 0:
        raise Refusal("sheet-empty", "this sheet has no size", "give it a size: 15 cm", span=span)
    if longest > LONGEST_MM:
        raise Refusal(
            "sheet-too-large",
            f"this sheet is {longest / 1000:.4g} m long: nobody folds that",
            f"{LONGEST_MM / 1000:g} m is the most; is the unit right?",
            span=span,
        )
    count = len(outline)
    sides = [math.dist(outline[i], outline[(i + 1) % count]) for i in range(count)]
    for i, length in enumerate(sides):
        if length < SHORTEST_SIDE_MM:
            ends = f"{names[i]} {names[(i + 1) % count]}"
            raise Refusal(
                "sheet-too-small",
                f"the edge {ends} is {length:.3g} mm long: too short to fold",
                f"make every edge at least {SHORTEST_SIDE_MM:g} mm long; is the unit right?",
                span=span,
            )
    total = 0.0
    for i in range(count):
        (ax, ay), (bx, by), (cx, cy) = outline[i - 1], outline[i], outline[(i + 1) % count]
        ux, uy, vx, vy = bx - ax, by - ay, cx - bx, cy - by
        angle = math.atan2(ux * vy - uy * vx, ux * vx + uy * vy)
        total += angle
        if abs(angle) < 1e-6:
            raise Refusal(
                "sheet-corner-straight",
                f"{names[i]} lies on a straight edge, so it is no corner",
                "leave it out here, and mark it in a step",
                span=span,
            )
        if angle < 0 or abs(angle) > math.pi - 1e-6:
            raise _not_convex(f"this sheet turns inwards at {names[i]}", span)
    if abs(total - 2 * math.pi) > 1e-6:
        raise _not_convex("the edges of this sheet cross one another", span)
    diameter = max(math.dist(p, q) for p in outline for q in outline)
    if diameter * diameter > THINNEST * outline_area(outline):
        raise Refusal(
            "sheet-too-thin",
            "this sheet is too thin to fold",
            f"make it at most {THINNEST:g} times as long as it is wide",
            span=span,
        )


def _not_convex(message: str, span: Span) -> Refusal:
    return Refusal(
        "sheet-not-convex",
        f"{message}; only sheets without dents can be folded",
        "give the corners in the order in which they lie round the sheet",
        span=span,
    )
