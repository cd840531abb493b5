"""Isometries of the plane: how a piece of the sheet lies in the folded model."""

from __future__ import annotations

import math
from typing import NamedTuple

from .lines import Line, Point, Segment
from .tolerance import FOLDED, is_zero


class Isometry(NamedTuple):
    """(x, y) -> (a*x + b*y + tx, c*x + d*y + ty): a rotation or reflection with a shift."""

    a: float
    b: float
    tx: float
    c: float
    d: float
    ty: float

    def __call__(self, p: Point) -> Point:
        x, y = p
        return (self.a * x + self.b * y + self.tx, self.c * x + self.d * y + self.ty)

    @property
    def flips(self) -> bool:
        """Whether it turns the paper over (determinant -1)."""
        return self.a * self.d - self.b * self.c < 0


IDENTITY = Isometry(1.0, 0.0, 0.0, 0.0, 1.0, 0.0)


def compose(outer: Isometry, inner: Isometry) -> Isometry:
    """`outer` after `inner`, its matrix made orthogonal again so that long products do not drift."""
    a = outer.a * inner.a + outer.b * inner.c
    b = outer.a * inner.b + outer.b * inner.d
    c = outer.c * inner.a + outer.d * inner.c
    d = outer.c * inner.b + outer.d * inner.d
    tx = outer.a * inner.tx + outer.b * inner.ty + outer.tx
    ty = outer.c * inner.tx + outer.d * inner.ty + outer.ty
    if a * d - b * c < 0:
        u, v = (a - d) / 2, (c + b) / 2
        n = math.hypot(u, v)
        u, v = u / n, v / n
        return Isometry(u, v, tx, v, -u, ty)
    u, v = (a + d) / 2, (c - b) / 2
    n = math.hypot(u, v)
    u, v = u / n, v / n
    return Isometry(u, -v, tx, v, u, ty)


def inverse(m: Isometry) -> Isometry:
    return Isometry(m.a, m.c, -(m.a * m.tx + m.c * m.ty), m.b, m.d, -(m.b * m.tx + m.d * m.ty))


def reflection(line: Line) -> Isometry:
    """Reflection in a line."""
    nx, ny, c = line
    return Isometry(
        1 - 2 * nx * nx, -2 * nx * ny, 2 * c * nx, -2 * nx * ny, 1 - 2 * ny * ny, 2 * c * ny
    )


def rotation(angle: float, about: Point = (0.0, 0.0)) -> Isometry:
    """Counter-clockwise rotation by an angle in radians."""
    co, si = math.cos(angle), math.sin(angle)
    x, y = about
    return Isometry(co, -si, x - co * x + si * y, si, co, y - si * x - co * y)


def translation(v: Point) -> Isometry:
    return Isometry(1.0, 0.0, v[0], 0.0, 1.0, v[1])


def same_isometry(m: Isometry, n: Isometry) -> bool:
    """Whether both send the unit sheet to the same place within tolerance."""
    return all(is_zero(x - y) for x, y in zip(m, n, strict=True))


def nearly_same(m: Isometry, n: Isometry) -> bool:
    """Whether two placements of paper agree, the rounding of many folds apart."""
    return all(abs(x - y) <= FOLDED for x, y in zip(m, n, strict=True))


def map_segment(m: Isometry, s: Segment) -> Segment:
    return m(s[0]), m(s[1])


def map_line(m: Isometry, line: Line) -> Line:
    """Image of a line, the image of its left side on its left; it runs backwards where `m` flips."""
    nx = m.a * line.nx + m.b * line.ny
    ny = m.c * line.nx + m.d * line.ny
    return Line(nx, ny, line.c + nx * m.tx + ny * m.ty)
