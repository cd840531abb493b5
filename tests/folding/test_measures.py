"""Places by a length, on every kind of line, and lines so far from another one."""

from __future__ import annotations

import math

import pytest

from foldscript.folding.steps import Model
from foldscript.geometry.lines import Point

from ..scripts import captions, creases, folded, lies, refused


def crossing(model: Model) -> tuple[Point, Point]:
    """The ends of the one crease, in mm."""
    (found,) = creases(model)
    return found


@pytest.mark.parametrize(
    ("place", "at"),
    [
        ("2 cm from A on edge A B", (20, 0)),
        ("2 cm from B on edge A B", (80, 0)),
        ("20 mm from A along A B", (20, 0)),
        ("the point 1 in from A on edge A B", (25.4, 0)),
        ("1 1/2 inches from A on the edge A B", (38.1, 0)),
        ("2 cm from the bottom left corner on the left edge", (0, 20)),
        ("2 cm from the top left corner on the left edge", (0, 80)),
        ("2 cm from midpoint of A D on edge D A", None),
        ("1 cm from A on line A C", (10 / math.sqrt(2), 10 / math.sqrt(2))),
        ("10 cm from A on edge A B", (100, 0)),
    ],
)
def test_where_it_lies(place: str, at: Point | None) -> None:
    """Seen by the crease that runs from there to a corner; worked out by hand on a square of 100 mm."""
    if at is None:
        assert refused(f"mark P at {place}").code == "not-an-end"
        return
    away = "C" if at[1] > 0 and at[0] < 1 else "D"
    ends = crossing(folded(f"mark P at {place}; crease through P {away}"))
    corner = (100.0, 100.0) if away == "C" else (0.0, 100.0)
    (x, y), (u, v) = at, corner
    for p, q in ends:  # the crease runs through both points
        assert (p - x) * (v - y) - (q - y) * (u - x) == pytest.approx(0, abs=1e-3)


def test_from_the_end_of_a_crease() -> None:
    """The crease from D to B is 141.4 mm long."""
    model = folded("crease A to C as k", "mark P at 50 mm from B on k; crease through P C")
    wanted = 100 - 50 / math.sqrt(2)
    (x, y), (u, v) = next(c for c in creases(model) if (100, 100) in c)
    assert (wanted - x) * (v - y) == pytest.approx((50 / math.sqrt(2) - y) * (u - x))


def test_on_an_edge_that_is_bent_now() -> None:
    """Measured on the paper, round the fold, as a fraction is."""
    model = folded(
        "valley B to midpoint of A B", "mark P at 9 cm from A on edge A B; valley P to D"
    )
    assert len(model.finished.facets) > 2


def test_the_paper_that_carries_it_moves() -> None:
    """Two layers lie there, loose at the top: the one whose edge was named moves."""
    model = folded(
        "valley bottom edge onto top edge", "valley 3 cm from D on edge C D to midpoint of C D"
    )
    assert lies(model, "D") != lies(folded("valley bottom edge onto top edge"), "D")


@pytest.mark.parametrize(
    ("line", "code", "message", "hint", "words"),
    [
        ("mark P at 12 cm from A on edge A B", "too-long", "edge AB is 10 cm long", "1/4", "12 cm"),
        ("mark P at 5 in from A on edge A B", "too-long", "is 3.94 inches long", "", "5 in"),
        ("mark P at 15 cm from A on line A C", "too-long", "line AC is 14.14 cm long", "", "15 cm"),
        ("mark P at 2 cm from C on edge A B", "not-an-end", "corner C is no end", "from A", "C"),
        (
            "mark P at 2 cm from C on the bottom edge",
            "not-an-end",
            "no end of the bottom edge",
            "measure from 'left end of the bottom edge'",
            "C",
        ),
        (
            "mark P at 2 cm from C on the left edge",
            "not-an-end",
            "no end",
            "measure from 'lower end of the left edge'",
            "C",
        ),
        (
            "mark M at midpoint of A B; mark P at 2 cm from M on edge A B",
            "not-an-end",
            "lies between the ends of edge AB",
            "'edge M A' or 'edge M B'",
            "M",
        ),
        ("mark P at 2 cm from A on edge A C", "not-an-edge", "one edge", "line A C", "edge A C"),
        ("mark P at midpoint of edge A C", "not-an-edge", "one edge", "line A C", "A C"),
        ("mark P at 1/3 of edge B D", "not-an-edge", "one edge", "line B D", "B D"),
        ("mark P at 1/3 of A", "not-a-line", "'A' is one point", "1/3 of A P", "A"),
        (
            "valley along line 12 cm from edge A B, moving A",
            "too-long",
            "reaches 10 cm from edge AB",
            "shorter",
            "12 cm",
        ),
        (
            "valley A to line 2 cm from line A C, through D",
            "several-lines",
            "two lines fit",
            "name the crease",
            "line 2 cm from line A C",
        ),
    ],
)
def test_refused(line: str, code: str, message: str, hint: str, words: str) -> None:
    found = refused(line)
    assert (found.code, found.words) == (code, words)
    assert message in found.message
    assert any(hint in h for h in found.hints)


def test_a_strip_along_an_edge_lies_on_the_paper() -> None:
    for edge in ("the bottom edge", "edge A B", "edge B A"):
        model = folded(f"crease along line 1 cm from {edge}")
        assert crossing(model) == ((0, 10), (100, 10))


def test_a_line_beside_a_crease_is_on_either_side() -> None:
    found = refused("crease bottom edge onto top edge as k", "crease along line 1 cm from k")
    assert found.code == "several-folds"
    model = folded("crease bottom edge onto top edge as k", "crease along line 1 cm from k, near A")
    assert ((0, 40), (100, 40)) in creases(model)
    assert ((0, 60), (100, 60)) not in creases(model)


def test_an_edge_comes_to_a_line() -> None:
    model = folded("valley bottom edge onto line 2 cm from the top edge")
    assert [round(y * 100, 6) for _, y in model.finished.placed[1]].count(80) <= 2
    assert captions(model) == ["Fold the bottom edge up to the line 2 cm from the top edge."]


def test_said_as_it_was_written() -> None:
    said = captions(
        folded(
            "valley the point 2.5 cm from A on edge A B to C",
            "unfold",
            "valley 1/2 inch from the bottom left corner on the bottom edge to C",
            "unfold",
            "valley 1 1/2 inches from B on edge B C to D",
        )
    )
    assert "the point 2.5 cm from corner A on edge AB" in said[0]
    assert "the point 1/2 inch from the bottom left corner on the bottom edge" in said[2]
    assert "the point 1 1/2 inches from corner B on edge BC" in said[4]


def test_parts_of_a_crease() -> None:
    """Counted from its left end: of the upright one, from its lower end."""
    model = folded(
        "crease A to C as k; mark P at 1/4 of k; mark Q at midpoint of k; crease through P A"
    )
    assert any({(0, 0)} < set(c) for c in creases(model))
    (far,) = [q for c in creases(model) if (0, 0) in c for q in c if q != (0, 0)]
    assert far[0] == pytest.approx(100 / 3)  # P lies at (25, 75)
