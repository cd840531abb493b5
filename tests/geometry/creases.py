"""What any crease must keep to, and level and upright lines, for the tests of constructions."""

from __future__ import annotations

import math

import pytest

from foldscript.geometry.constructions import Crease
from foldscript.geometry.lines import Line, Point, distance, mirrored, signed_distance
from foldscript.geometry.tolerance import EPS

#: Distances that may differ by two roundings at the tolerance.
CLOSE = 2 * EPS


def level(y: float) -> Line:
    return Line(0.0, 1.0, y)


def upright(x: float) -> Line:
    return Line(1.0, 0.0, x)


def sound(crease: Crease, *moved: Point) -> None:
    """The images are the reflections, and the first that moves lies on the crease's left."""
    assert len(crease.images) == len(moved)
    assert math.hypot(crease.line.nx, crease.line.ny) == pytest.approx(1.0, abs=1e-14)
    for p, image in zip(moved, crease.images, strict=True):
        assert distance(mirrored(crease.line, p), image) <= CLOSE
    way = max(distance(p, image) for p, image in zip(moved, crease.images, strict=True))
    assert crease.idle == (way <= EPS) or EPS / 2 < way < 2 * EPS
    depths = [signed_distance(crease.line, image) for image in crease.images]
    assert next((d for d in depths if abs(d) > EPS), 1.0) > 0
