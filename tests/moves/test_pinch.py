"""Pinch: only short marks of the crease stay."""

from __future__ import annotations

import pytest

from foldscript.geometry.lines import distance
from foldscript.moves.pinch import HALF_MARK
from foldscript.paper.signs import FoldLine, GuideLine

from ..scripts import captions, creases, folded, refused


def test_at_an_edge() -> None:
    """Half of the mark lies past the edge, where there is no paper."""
    ((p, q),) = creases(folded("pinch left edge onto right edge, at edge A B"))
    assert p == (50, 0)
    assert q == (50, pytest.approx(100 * HALF_MARK))


def test_at_a_point_and_another() -> None:
    model = folded("crease B to D as d", "pinch left edge onto right edge, at edge C D and d")
    marks = [seg for seg in creases(model) if seg[0][0] == 50]
    assert [distance(*seg) for seg in marks] == [
        pytest.approx(200 * HALF_MARK),
        pytest.approx(100 * HALF_MARK),
    ]
    assert marks[0][0][1] < 50 < marks[0][1][1]
    assert marks[1][1] == (50, 100)


def test_the_paper_lies_as_before_and_the_line_is_short() -> None:
    model = folded("pinch A to B, at midpoint of A B, as m", "mark M at where m meets edge A B")
    assert len(model.finished.facets) == 1
    (line,) = [s for s in model.steps[0].panels[0].signs if isinstance(s, FoldLine)]
    assert line.pinch
    assert (
        captions(model)[0]
        == "Bring corner A over to corner B. Pinch the fold only at the middle of edge AB, and unfold."
    )


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("pinch A to C", "say where to pinch"),
        ("pinch left edge onto right edge, at line through A parallel to edge A D", "never meets"),
        ("pinch left edge onto right edge, at A", "does not come near"),
    ],
)
def test_where(line: str, says: str) -> None:
    found = refused(line)
    assert found.code == "pinch-where"
    assert says in found.message


def test_halving_the_error() -> None:
    """Each pinch halves the error of a guess at a third (S. Fujimoto): 0.4 gives 0.7, 0.35, 0.675, 0.3375."""
    steps = ["mark P0 at 2/5 of A B"]
    for k, corner in enumerate("BABA"):
        steps.append(
            f"pinch P{k} to {corner}, at edge A B, as n{k + 1}; "
            f"mark P{k + 1} at where n{k + 1} meets edge A B"
        )
    marks = [p for p, _ in creases(folded(*steps)) if p[1] == 0]
    assert sorted(x for x, _ in marks) == [33.75, 35, 67.5, 70]


def test_the_rest_of_the_line_is_shown_as_a_guide() -> None:
    model = folded("pinch left edge onto right edge, at edge A B")
    (guide,) = [s for s in model.steps[0].panels[0].signs if isinstance(s, GuideLine)]
    low, high = sorted(guide.segment, key=lambda p: p[1])
    assert low[0] == pytest.approx(high[0])
    assert low[1] == pytest.approx(HALF_MARK * high[1])
