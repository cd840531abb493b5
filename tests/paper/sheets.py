"""Sheets and crease patterns that several tests use."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from foldscript.geometry.lines import Point, Segment
from foldscript.paper.sheet import Sheet
from foldscript.paper.signs import Sense

from .patterns import Pattern, pattern

M, V = Sense.MOUNTAIN, Sense.VALLEY
SENSES = {"M": M, "V": V, "?": None}


def rectangle(width: float = 1.0, height: float = 1.0, unit_mm: float = 100.0) -> Sheet:
    """A rectangle with corners A, B, C, D from the bottom left."""
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return Sheet(corners, ("A", "B", "C", "D"), unit_mm)


def vertex(angles: Sequence[float], first: float = 0.0) -> Pattern:
    """Creases from the centre of a unit square, with these angles between them (degrees)."""
    centre = (0.5, 0.5)
    creases: list[Segment] = []
    at = first
    for angle in angles:
        rad = math.radians(at)
        creases.append((centre, (0.5 + math.cos(rad), 0.5 + math.sin(rad))))
        at += angle
    return pattern(rectangle(), creases)


def grid_creases(widths: Sequence[float], heights: Sequence[float]) -> list[Segment]:
    """Creases between cells: first those between columns, row by row, then those between rows."""
    xs, ys = _sums(widths), _sums(heights)
    upright = [((x, y0), (x, y1)) for y0, y1 in pairwise(ys) for x in xs[1:-1]]
    level = [((x0, y), (x1, y)) for y in ys[1:-1] for x0, x1 in pairwise(xs)]
    return [*upright, *level]


def grid(widths: Sequence[float], heights: Sequence[float]) -> Pattern:
    """A map with cells of these widths and heights (any unit); cell 0 is at the bottom left."""
    unit = max(sum(widths), sum(heights))
    w, h = [x / unit for x in widths], [y / unit for y in heights]
    return pattern(rectangle(sum(w), sum(h)), grid_creases(w, h))


def strip(widths: Sequence[float]) -> Pattern:
    """A strip of cells of these widths."""
    unit = sum(widths)
    return grid([w / unit for w in widths], [0.1])


def _sums(parts: Sequence[float]) -> list[float]:
    out = [0.0]
    for part in parts:
        out.append(out[-1] + part)
    return out


def spread(groups: Sequence[tuple[Sense, Sequence[Segment]]]) -> tuple[list[Segment], list[Sense]]:
    """Creases and their senses, from groups of creases of one sense."""
    return (
        [crease for _, creases in groups for crease in creases],
        [sense for sense, creases in groups for _ in creases],
    )


def star(centre: Point, *tips: Point) -> list[Segment]:
    """Creases from one point to others."""
    return [(centre, tip) for tip in tips]
