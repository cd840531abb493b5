"""Arrowheads, drawn as filled shapes: every renderer shows them alike.

In: the tip, the direction it points, and a size. Out: `Path`s. Proportions are our own: a slim head
with a hollow back.
"""

from __future__ import annotations

from .outlines import mapped, placed_at, polyline
from .scene import Path, Point

#: Length, half width and depth of the hollow back, in points at size 1.
LENGTH, HALF, HOLLOW = 7.6, 2.7, 1.5


def solid_head(tip: Point, towards: Point, size: float = 1.0) -> Path:
    """Two-sided solid head: paper moves in front."""
    shape = polyline(
        ((0.0, 0.0), (-LENGTH, -HALF), (HOLLOW - LENGTH, 0.0), (-LENGTH, HALF)), closed=True
    )
    return Path("arrow.head", mapped(shape, placed_at(tip, towards, size)))


def open_head(tip: Point, towards: Point, size: float = 1.0) -> Path:
    """Two-sided hollow head: paper comes back or is opened."""
    shape = polyline(((0.0, 0.0), (-LENGTH, -HALF - 0.3), (-LENGTH, HALF + 0.3)), closed=True)
    return Path("arrow.open", mapped(shape, placed_at(tip, towards, size)))


def half_head(tip: Point, towards: Point, left: bool, size: float = 1.0) -> Path:
    """One-sided head: paper moves behind. `left`: its barb lies left of the direction, on the page."""
    side = -1.0 if left else 1.0
    shape = polyline(
        ((0.0, 0.0), (-LENGTH - 1.4, side * (HALF + 1.6)), (HOLLOW - LENGTH, 0.0)), closed=True
    )
    return Path("arrow.head", mapped(shape, placed_at(tip, towards, size)))


def fat_arrow(tip: Point, towards: Point, length: float) -> Path:
    """Broad hollow arrow."""
    neck = 7.0
    shape = polyline(
        (
            (0.0, 0.0),
            (-neck, -4.4),
            (-neck, -1.9),
            (-length, -1.9),
            (-length, 1.9),
            (-neck, 1.9),
            (-neck, 4.4),
        ),
        closed=True,
    )
    return Path("arrow.open", mapped(shape, placed_at(tip, towards)))
