"""The one place that decides when two numbers or points are the same.

Lengths are in sheet units: the longer side of the sheet's bounding box is 1, so one tolerance
serves every sheet, whatever its size in millimetres.
"""

from __future__ import annotations

import math

#: Lengths closer than this are equal (sheet units). Doubles carry about 1e-15 here.
EPS = 1e-9
#: Angles closer than this are equal (radians).
EPS_ANGLE = 1e-9
#: Areas below this are nothing (square sheet units).
EPS_AREA = 1e-12
#: Placements that many folds have led to are equal within this (sheet units).
FOLDED = 1e-7

#: No hand folds nearer beside a corner, an edge or a fold than this (millimetres of the real paper): about as
#: thick as the paper is. Common practice; no source gives a number.
NEAREST_MM = 0.1
#: On sheets shorter than 10 cm: this part of the longer side instead.
NEAREST = 1e-3


def nearest(unit_mm: float) -> float:
    """How near a fold line may pass a corner, an edge or a fold that it misses (sheet units)."""
    return min(NEAREST_MM / unit_mm, NEAREST)


def is_zero(value: float) -> bool:
    """Whether a length is nothing."""
    return -EPS <= value <= EPS


def same(a: float, b: float) -> bool:
    """Whether two lengths are the same."""
    return -EPS <= a - b <= EPS


def same_point(p: tuple[float, float], q: tuple[float, float]) -> bool:
    """Whether two points coincide."""
    return math.hypot(p[0] - q[0], p[1] - q[1]) <= EPS


def sign(value: float) -> int:
    """-1, 0 or 1: the side of a line a signed distance stands for."""
    return 0 if -EPS <= value <= EPS else (1 if value > 0 else -1)
