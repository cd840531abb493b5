"""The ends of edges and creases by words, and corners that tie told by them."""

from __future__ import annotations

import pytest

from ..scripts import captions, folded, lies, refused

OCTAGON = "sheet regular octagon, side 100 mm, edge A B at the bottom\n"


@pytest.mark.parametrize(
    ("words", "corner"),
    [  # corners of an octagon on an edge, anticlockwise from the left end of the lowest one
        ("left end of the bottom edge", "A"),
        ("right end of the bottom edge", "B"),
        ("lower end of the right edge", "C"),
        ("upper end of the right edge", "D"),
        ("right end of the top edge", "E"),
        ("left end of the top edge", "F"),
        ("top end of the left edge", "G"),
        ("bottom end of left edge", "H"),
        ("upper end of the top right edge", "E"),
        ("right end of the top right edge", "D"),
    ],
)
def test_every_corner_of_an_octagon_is_an_end(words: str, corner: str) -> None:
    model = folded(f"mark P at {words}", sheet=OCTAGON)
    (label,) = model.steps[-1].panels[-1].labels
    state = model.finished
    assert label[1] == pytest.approx(state.where(state.sheet.corner(corner)), abs=1e-9)


def test_an_end_of_a_crease() -> None:
    """A goes to where the level crease of a square ends on the right, in the middle of that edge."""
    model = folded("crease bottom edge onto top edge as k", "valley A to right end of k")
    assert lies(model, "A") == (100.0, 50.0)


def test_captions_say_the_end() -> None:
    model = folded("valley right end of the top edge to lower end of the left edge", sheet=OCTAGON)
    assert captions(model) == [
        "Fold the right end of the top edge over to the lower end of the left edge."
    ]


@pytest.mark.parametrize(
    ("edge", "end", "runs"), [("left", "right", "upright"), ("top", "lower", "level")]
)
def test_an_end_that_a_line_has_not(edge: str, end: str, runs: str) -> None:
    found = refused(f"mark P at {end} end of the {edge} edge")
    assert found.code == "no-such-end"
    assert found.message.startswith(f"the {edge} edge has no {end} end: it runs {runs}")


def test_a_point_has_no_ends() -> None:
    assert refused("mark P at midpoint of A B; mark Q at left end of P").code == "not-a-line"


def test_end_may_name_a_crease_still() -> None:
    model = folded("crease left edge onto right edge as end", "valley A to upper end of end")
    assert lies(model, "A") == (50.0, 100.0)


def test_ties_are_told_by_ends_of_edges() -> None:
    found = refused("valley top right corner to A", sheet=OCTAGON)
    assert found.code == "two-candidates"
    assert found.hints == (
        "say 'right end of the top edge'",
        "or say 'upper end of the right edge'",
    )


def test_where_an_edge_lies_its_middle_is_offered_first() -> None:
    found = refused("valley bottom left corner to top corner")
    assert found.hints == (
        "there lies the top edge: for its middle, say 'midpoint of the top edge'",
        "or say 'top left corner'",
        "or say 'top right corner'",
    )


def test_a_group_holds_on_to_an_end() -> None:
    """The right end of the top edge is C when the group is called, and C is meant after it has moved."""
    group = """sheet square 100 mm
group there-and-back P
  valley P to A
  valley P to 50 mm short of B
end
"""
    model = folded("do there-and-back right end of the top edge", sheet=group)
    assert lies(model, "C") == (50.0, 0.0)


def test_a_length_from_a_point_that_is_no_end_leads_to_what_ends_there() -> None:
    """M is an end of k, which is creased across the sheet, and no end of the left edge."""
    found = refused(
        "crease left edge onto right edge as k",
        "mark M at the upper end of k",
        "mark P at 20 mm from M on the left edge",
    )
    assert found.code == "not-an-end"
    assert found.message.startswith(
        "point M is no end of the left edge; its ends are 'lower end of the left edge' (on corner A) "
        "and 'upper end of the left edge' (on corner D)"
    )
    assert found.hints == (
        "'k' ends at point M",
        "or measure from 'lower end of the left edge'",
        "or measure from 'upper end of the left edge'",
    )
