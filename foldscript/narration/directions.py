"""Directions as a folder at a table has them: near and far, left and right.

In: vectors of the folded plane (x to the right, y away from the folder). Out: phrases. What the eye
calls the bottom of the figure is near here, and its top is far.
"""

from __future__ import annotations

import math

from ..geometry.lines import Point, Segment, distance, subtract
from ..languages.wording import Phrase

#: Vectors this close to an axis (degrees) run along it.
_STRAIGHT = 0.5

_WAYS = (
    Phrase("to the right"),
    Phrase("away from you and to the right"),
    Phrase("away from you"),
    Phrase("away from you and to the left"),
    Phrase("to the left"),
    Phrase("toward you and to the left"),
    Phrase("toward you"),
    Phrase("toward you and to the right"),
)


def way(v: Point) -> Phrase:
    """Which way a hand moves: 'away from you', 'toward you and to the left'."""
    eighth = round(math.atan2(v[1], v[0]) / (math.pi / 4)) % 8
    steep = min(abs(v[0]), abs(v[1])) < 0.12 * max(abs(v[0]), abs(v[1]))
    if eighth % 2 and steep:
        eighth = round(math.atan2(v[1], v[0]) / (math.pi / 2)) * 2 % 8
    return _WAYS[eighth]


def sides(normal: Point) -> tuple[str, str]:
    """('far', ''), ('', 'left'), ('near', 'right'): where an edge with this outward normal faces."""
    limit = math.sin(math.radians(_STRAIGHT)) * math.hypot(*normal)
    depth = "far" if normal[1] > limit else "near" if normal[1] < -limit else ""
    width = "right" if normal[0] > limit else "left" if normal[0] < -limit else ""
    return depth, width


def run(segment: Segment) -> str:
    """How a line runs: 'level', 'upright', 'rising' (near left to far right) or 'falling'."""
    depth, width = sides(subtract(segment[1], segment[0]))
    if not depth:
        return "level"
    if not width:
        return "upright"
    return "rising" if (depth == "far") == (width == "right") else "falling"


RUNS = {
    "level": Phrase("from left to right"),
    "upright": Phrase("from near to far"),
    "rising": Phrase("from near left to far right"),
    "falling": Phrase("from far left to near right"),
}


def in_reading_order(segment: Segment) -> Segment:
    """The segment from its left end to its right end, an upright one from near to far."""
    p, q = segment
    if abs(p[0] - q[0]) > 1e-6 * max(distance(p, q), 1e-9):
        return (p, q) if p[0] < q[0] else (q, p)
    return (p, q) if p[1] < q[1] else (q, p)
