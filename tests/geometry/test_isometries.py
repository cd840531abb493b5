"""Placements of paper: they keep lengths, compose, invert, and do not drift."""

from __future__ import annotations

import math

import pytest
from hypothesis import given

from foldscript.geometry.isometries import (
    IDENTITY,
    Isometry,
    compose,
    inverse,
    map_line,
    map_segment,
    nearly_same,
    reflection,
    rotation,
    same_isometry,
    translation,
)
from foldscript.geometry.lines import Line, Point, distance, line_at, mirrored, signed_distance

from .plane import isometries, lines_anywhere, points

TINY = 1e-12


@given(isometries, points, points)
def test_lengths_are_kept(m: Isometry, p: Point, q: Point) -> None:
    assert distance(m(p), m(q)) == pytest.approx(distance(p, q), abs=TINY)


@given(isometries, isometries, points)
def test_composition(m: Isometry, n: Isometry, p: Point) -> None:
    both = compose(m, n)
    assert both(p) == pytest.approx(m(n(p)), abs=1e-11)
    assert both.flips == (m.flips != n.flips)


@given(isometries, points)
def test_inverse(m: Isometry, p: Point) -> None:
    assert inverse(m)(m(p)) == pytest.approx(p, abs=TINY)
    assert same_isometry(compose(m, inverse(m)), IDENTITY)
    assert same_isometry(compose(inverse(m), m), IDENTITY)


@given(lines_anywhere, points)
def test_reflection(line: Line, p: Point) -> None:
    assert reflection(line)(p) == pytest.approx(mirrored(line, p), abs=TINY)
    assert reflection(line).flips


def test_rotation_and_translation() -> None:
    quarter = rotation(math.pi / 2, (1.0, 0.0))
    assert quarter((2.0, 0.0)) == pytest.approx((1.0, 1.0), abs=TINY)
    assert quarter((1.0, 0.0)) == pytest.approx((1.0, 0.0), abs=TINY)
    assert not quarter.flips
    assert translation((0.5, -1.0))((1.0, 1.0)) == (1.5, 0.0)


@given(isometries, lines_anywhere, points)
def test_lines_go_with_the_points(m: Isometry, line: Line, p: Point) -> None:
    """Distances stay, so also the side on which a point lies, even where the paper flips."""
    image = map_line(m, line)
    assert math.hypot(image.nx, image.ny) == pytest.approx(1.0, abs=TINY)
    assert signed_distance(image, m(p)) == pytest.approx(signed_distance(line, p), abs=1e-11)


@given(isometries, points, points)
def test_segments_go_with_the_points(m: Isometry, p: Point, q: Point) -> None:
    assert map_segment(m, (p, q)) == (m(p), m(q))


def test_long_products_do_not_drift() -> None:
    """Ten thousand reflections and back; the kernel asks for 1e-9 of the sheet after 60 steps."""
    creases = [line_at((0.5, 0.5), (math.cos(k), math.sin(k))) for k in range(100)]
    m = IDENTITY
    for _ in range(50):
        for line in creases:
            m = compose(reflection(line), m)
        for line in reversed(creases):
            m = compose(reflection(line), m)
    assert max(abs(x - y) for x, y in zip(m, IDENTITY, strict=True)) < 1e-11
    assert m.a * m.a + m.c * m.c == pytest.approx(1.0, abs=1e-15)


def test_placements_are_nearly_the_same_where_rounding_alone_parts_them() -> None:
    """Rounding is far below a tenth of a millionth of the sheet, a fold of paper far above it."""
    away = translation((5e-8, 0.0))
    assert nearly_same(away, IDENTITY)
    assert not same_isometry(away, IDENTITY)
    assert not nearly_same(translation((0.0, 2e-7)), IDENTITY)
    assert not nearly_same(reflection(Line(1.0, 0.0, 0.0)), IDENTITY)
