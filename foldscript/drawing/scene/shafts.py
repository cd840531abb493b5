"""Shafts of arrows as curves: cut to leave room for a head, side by side, or widening towards the eye.

In: cubic curves on the page. Out: curves, directions, and hollow shafts that grow or shrink.
"""

from __future__ import annotations

import math

from .heads import HALF, LENGTH
from .outlines import Cubic, at, curve_segments, length, parameter_at, part
from .scene import Close, Curve, Draw, Path, Point

#: Half the width of a hollow shaft, far from the eye and near it (points).
_FAR, _NEAR = 0.35, 1.7


def heading(curve: Cubic, reach: float = LENGTH) -> Point:
    """Direction of a head that sits on the end of a curve: from its back to its tip."""
    n = length(curve)
    back = at(curve, parameter_at(curve, max(0.0, n - reach)))
    dx, dy = curve[3][0] - back[0], curve[3][1] - back[1]
    d = math.hypot(dx, dy) or 1.0
    return (dx / d, dy / d)


def shortened(curve: Cubic, short_by: float) -> Cubic:
    """A curve without its last points, where a head will be."""
    n = length(curve)
    return part(curve, 0.0, parameter_at(curve, max(n * 0.2, n - short_by)))


def backward(curve: Cubic) -> Cubic:
    """The same curve from its end to its start."""
    return (curve[3], curve[2], curve[1], curve[0])


def beside(curve: Cubic, off: float, off_at_end: float | None = None) -> Cubic:
    """A curve that runs beside another, `off` points to its left as seen on the page.

    With `off_at_end` it comes as far from the other as that, little by little.
    """
    more = 0.0 if off_at_end is None else (off_at_end - off) / 3
    moved: list[Point] = []
    for k, (p, q) in enumerate(
        ((curve[0], curve[1]), (curve[0], curve[2]), (curve[1], curve[3]), (curve[2], curve[3]))
    ):
        d = math.dist(p, q) or 1.0
        by = (off + k * more) / d
        moved.append((curve[k][0] + by * (q[1] - p[1]), curve[k][1] - by * (q[0] - p[0])))
    return (moved[0], moved[1], moved[2], moved[3])


def growing(curve: Cubic, size: float = 1.0) -> Path:
    """A hollow arrow that is wider the nearer it comes to the eye."""
    return _hollow(curve, size, _FAR, _NEAR * size)


def shrinking(curve: Cubic, size: float = 1.0) -> Path:
    """A hollow arrow that is narrower the farther it goes from the eye."""
    return _hollow(curve, size, _NEAR * size, _FAR)


def _hollow(curve: Cubic, size: float, start: float, end: float) -> Path:
    """A hollow arrow whose shaft is so wide at its start and its end, half of that to either side."""
    shaft = shortened(curve, LENGTH * size)
    left, right = (beside(shaft, side * start, side * end) for side in (1.0, -1.0))
    (tx, ty), (hx, hy) = curve[3], heading(curve, LENGTH * size)
    barb = (HALF + 1.5) * size
    x, y = tx - LENGTH * size * hx, ty - LENGTH * size * hy
    return Path(
        "arrow.open",
        (
            *curve_segments(left),
            Draw((x + barb * hy, y - barb * hx)),
            Draw((tx, ty)),
            Draw((x - barb * hy, y + barb * hx)),
            Draw(right[3]),
            Curve(right[2], right[1], right[0]),
            Close(),
        ),
    )
