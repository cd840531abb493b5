"""How far signs stand out from the paper, so that figure and signs fit their frame together.

In: a panel, and where its middle lies. Out: the largest scale at which paper and signs at points fit a
room, wherever the figure lies in it. Signs keep their size whatever the scale, so they need the more of a
frame the smaller it is. Arrows, repeats and letters find places of their own.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from ...folding.steps import Panel
from ...geometry import polygons
from ...geometry.polygons import Polygon
from ...paper.signs import EqualLengths, Measure, PointSign, landmark_points
from ..scene.outlines import Box
from ..scene.scene import Point
from ..scene.view import View
from ..signs.glyph import PointGlyph
from ..signs.registry import glyph_for

#: How far edges of layers stand out (points).
_LAYERS = 1.0
#: How far a row of lengths reaches beyond the edge that it lies along (points).
_ROW = 10.5
#: The least part of what the paper alone could have.
_LEAST = 0.5


def most(
    panel: Panel,
    middle: Point,
    hull: Polygon,
    room: tuple[float, float],
    scale: float,
) -> float:
    """The largest scale, `scale` at most, at which everything fits a room (width and height).

    `hull` lies about the middle of the figure, y down, in sheet units.
    """
    x0, y0, x1, y1 = polygons.bounds(hull)
    about = (-_LAYERS, -_LAYERS, _LAYERS, _LAYERS)
    parts = [
        ((x0, y0), about),
        ((x1, y1), about),
        *_point_signs(panel, middle, scale),
        *_rows(panel, middle),
    ]
    least = min(_along(parts, axis, room[axis]) for axis in (0, 1))
    return min(scale, max(least, _LEAST * scale))


def _along(parts: Sequence[tuple[Point, Box]], axis: int, room: float) -> float:
    """The largest scale at which no two of these parts are farther apart than the room."""
    most = math.inf
    for p, before in parts:
        for q, after in parts:
            apart = q[axis] - p[axis]
            if apart > 1e-6:
                most = min(most, (room + before[axis] - after[axis + 2]) / apart)
    return most


def _rows(panel: Panel, middle: Point) -> Iterator[tuple[Point, Box]]:
    """Ends of rows of lengths, and how far they reach beyond the paper beside an edge of it."""
    view = View(1.0, middle)
    for sign in panel.signs:
        if isinstance(sign, EqualLengths | Measure):
            ends = landmark_points(sign)
            (x0, y0), (x1, y1) = view(ends[0]), view(ends[-1])
            long = math.hypot(x1 - x0, y1 - y0)
            if long > 1e-6:
                nx, ny = (y0 - y1) / long, (x1 - x0) / long
                out = _ROW if nx * (x0 + x1) + ny * (y0 + y1) > 0 else -_ROW
                dx, dy = out * nx, out * ny
                about = (min(dx, 0.0), min(dy, 0.0), max(dx, 0.0), max(dy, 0.0))
                yield (x0, y0), about
                yield (x1, y1), about


def _point_signs(panel: Panel, middle: Point, scale: float) -> Iterator[tuple[Point, Box]]:
    """Where signs at points are, about the middle, and how far their ink reaches from there."""
    view = View(1.0, middle)
    for sign in panel.signs:
        if isinstance(sign, PointSign):
            box = glyph_for(sign, PointGlyph, panel.signs).reach(sign, view, scale)
            if box is not None:
                yield view(sign.at), box
