"""Segments along each other: common parts, unions, remainders."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.geometry.lines import Point, Segment, distance, point_on_segment
from foldscript.paper.seams import along_lines, collinear_overlaps, merged, remainder

from ..conftest import examples

A: Segment = ((0.0, 0.0), (1.0, 0.0))


def total(segments: list[Segment]) -> float:
    return sum(distance(*s) for s in segments)


def test_common_parts() -> None:
    found = list(
        collinear_overlaps([(0, A), (1, ((0.4, 0.0), (2.0, 0.0))), (2, ((0.0, 0.1), (1.0, 0.1)))])
    )
    assert found == [((0, 1), ((0.4, 0.0), (1.0, 0.0)))] or found == [
        ((1, 0), ((0.4, 0.0), (1.0, 0.0)))
    ]


def test_segments_of_one_tag_and_those_that_only_touch() -> None:
    assert list(collinear_overlaps([(0, A), (0, A)])) == []
    assert list(collinear_overlaps([(0, A), (1, ((1.0, 0.0), (2.0, 0.0)))])) == []


def test_only_opposite_ones() -> None:
    back = (A[1], A[0])
    assert list(collinear_overlaps([(0, A), (1, A)], opposite=True)) == []
    assert len(list(collinear_overlaps([(0, A), (1, back)], opposite=True))) == 1


def test_merged() -> None:
    assert merged([A, ((1.0, 0.0), (1.5, 0.0)), ((1.2, 0.0), (1.4, 0.0))]) == [
        ((0.0, 0.0), (1.5, 0.0))
    ]
    assert len(merged([A, ((1.5, 0.0), (2.0, 0.0)), ((0.0, 0.0), (0.0, 1.0))])) == 3


@pytest.mark.parametrize(
    ("taken", "left"),
    [
        ([], [A]),
        ([A], []),
        ([((0.25, 0.0), (0.5, 0.0))], [((0.0, 0.0), (0.25, 0.0)), ((0.5, 0.0), (1.0, 0.0))]),
        ([((0.5, 0.0), (0.25, 0.0)), ((0.4, 0.0), (9.0, 0.0))], [((0.0, 0.0), (0.25, 0.0))]),
        ([((-1.0, 0.0), (0.25, 0.0))], [((0.25, 0.0), (1.0, 0.0))]),
        ([((0.0, 1e-6), (1.0, 1e-6))], [A]),
        ([((0.5, -1.0), (0.5, 1.0))], [A]),
    ],
)
def test_remainder(taken: list[Segment], left: list[Segment]) -> None:
    assert remainder([A], taken) == left
    back = [(q, p) for p, q in left]
    assert remainder([(A[1], A[0])], taken) == back[::-1]


def test_remainder_keeps_the_order_of_segments() -> None:
    other: Segment = ((0.0, 1.0), (0.0, 2.0))
    assert remainder([other, A], [((0.0, 0.0), (0.5, 0.0))]) == [other, ((0.5, 0.0), (1.0, 0.0))]


def test_grouped_by_line_whatever_the_direction() -> None:
    a, b = (0.1, 0.3), (0.9, 0.7)
    near = (0.1 + 1e-12, 0.3)
    lines = along_lines([(0, (a, b)), (1, (b, near)), (2, (a, (0.9, 0.71)))])
    assert sorted(sorted(tag for *_, tag, _ in line) for line in lines) == [[0, 1], [2]]


places = st.integers(0, 20)


@st.composite
def on_one_line(draw: st.DrawFn) -> tuple[float, list[tuple[int, int]], list[tuple[int, int]]]:
    spans = st.tuples(places, places).filter(lambda s: s[0] != s[1])
    return (
        draw(st.floats(0, math.pi)),
        draw(st.lists(spans, min_size=1, max_size=4)),
        draw(st.lists(spans, max_size=4)),
    )


@examples(60)
@given(on_one_line())
def test_lengths_add_up(made: tuple[float, list[tuple[int, int]], list[tuple[int, int]]]) -> None:
    """Measured against sets of unit pieces along the line."""
    angle, spans, taken = made

    def at(t: int) -> Point:
        return (0.3 + t * math.cos(angle) / 20, 0.2 + t * math.sin(angle) / 20)

    def seg(s: tuple[int, int]) -> Segment:
        return at(s[0]), at(s[1])

    def cells(of: list[tuple[int, int]]) -> set[int]:
        return {k for a, b in of for k in range(min(a, b), max(a, b))}

    whole = [seg(s) for s in spans]
    assert total(merged(whole)) == pytest.approx(len(cells(spans)) / 20)
    left = remainder(merged(whole), [seg(s) for s in taken])
    assert total(left) == pytest.approx(len(cells(spans) - cells(taken)) / 20)
    for piece in left:
        assert any(point_on_segment(s, piece[0]) for s in whole)
