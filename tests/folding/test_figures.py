"""Which signs share a figure, and when a step needs a second one."""

from __future__ import annotations

from foldscript.folding.steps import Panel
from foldscript.geometry.polygons import inside
from foldscript.paper.signs import (
    Arrow,
    EqualAngles,
    EqualLengths,
    FoldLine,
    GuideLine,
    PointSign,
    Rotate,
    TurnOver,
)

from ..scripts import folded


def kinds(panel: Panel) -> list[str]:
    return sorted(type(s).__name__ for s in panel.signs if isinstance(s, FoldLine | Arrow))


def test_one_move_is_one_figure_of_the_paper_before_it() -> None:
    (step,) = folded("valley A to C").steps
    (panel,) = step.panels
    assert panel.state is step.before
    assert kinds(panel) == ["Arrow", "FoldLine"]
    assert dict(panel.labels).keys() == {"A", "C"}


def test_moves_on_paper_that_has_not_moved_share_a_figure() -> None:
    """Two corners folded in: both creases on the paper as it lies before."""
    (step,) = folded("valley A to centre; valley C to centre").steps
    (panel,) = step.panels
    assert panel.state is step.before
    assert kinds(panel) == ["Arrow", "Arrow", "FoldLine", "FoldLine"]


def test_a_crease_on_paper_that_has_moved_needs_a_second_figure() -> None:
    (step,) = folded("valley A to C; valley A to midpoint of B D").steps
    first, second = step.panels
    assert first.state is step.before
    assert len(second.state.facets) == 2
    assert kinds(first) == kinds(second) == ["Arrow", "FoldLine"]


def test_flaps_side_by_side_are_opened_in_one_figure() -> None:
    """Both lie on top in it, where they lie; each has the open arrow of paper that is laid back."""
    *_, step = folded(
        "valley A to centre as a; valley C to centre as c",
        "valley A along a; valley C along c",
    ).steps
    (panel,) = step.panels
    assert panel.state is step.before
    assert [s.act for s in panel.signs if isinstance(s, Arrow)] == ["unfold", "unfold"]


def test_a_flap_that_lay_under_another_is_opened_in_a_figure_of_its_own() -> None:
    """C was folded last, over A: A is seen only when C has been opened."""
    *_, step = folded(
        "mark P at 3/8 of A C; valley A to centre as a",
        "valley C to P as c",
        "valley C along c; valley A along a",
    ).steps
    assert len(step.panels) == 2


def test_a_step_of_marks_alone_shows_the_paper_with_letters() -> None:
    (step,) = folded("mark M at midpoint of A B").steps
    (panel,) = step.panels
    assert panel.signs == ()
    assert dict(panel.labels) == {"M": (0.5, 0.0)}


def test_turning_over_first() -> None:
    """The figure shows the paper after it, the sign stands before."""
    (step,) = folded("turn over; valley A to C").steps
    (panel,) = step.panels
    assert panel.before_turns == (TurnOver(True),)
    assert not panel.state.facets[0].shows_front


def test_turning_over_last() -> None:
    (step,) = folded("valley A to C; turn over").steps
    (panel,) = step.panels
    assert panel.after_turns == (TurnOver(True),)
    assert panel.state is step.before


def test_turning_in_between() -> None:
    (step,) = folded("valley A to centre; turn over; rotate half turn; valley C to centre").steps
    first, second = step.panels
    assert first.after_turns == (TurnOver(True), Rotate(-180.0))
    assert second.before_turns == ()
    assert not second.state.facets[-1].shows_front or len(second.state.facets) == 2


def test_signs_lie_on_the_facets_they_name() -> None:
    """Every piece of a fold line lies on the facet of the figure that it creases."""
    model = folded(
        "valley A to C",
        "crease B to D, all layers; valley B to D, all layers",
        "turn over; crease A to B, all layers",
    )
    for step in model.steps:
        for panel in step.panels:
            for sign in panel.signs:
                if isinstance(sign, FoldLine):
                    for facet, seg in sign.parts:
                        assert all(inside(panel.state.placed[facet], p, 1e-7) for p in seg)


def test_equal_parts_are_marked_where_a_fold_goes_by_them() -> None:
    """Through the point that they fix, whatever fixes the fold beside it; not where it is only named."""
    mark = "mark P at 1/3 of edge A B"
    for fold in (
        "valley along line through P at 60 degrees to edge A B, moving A",
        "valley through P perpendicular to edge A B, moving A",
    ):
        (panel,) = folded(f"{mark}; {fold}").steps[0].panels
        (parts,) = [s for s in panel.signs if isinstance(s, EqualLengths)]
        assert len(parts.segments) == 3
        assert [s.at for s in panel.signs if isinstance(s, PointSign)] == [parts.segments[0][1]]
    (panel,) = folded(f"{mark}; valley A to C").steps[0].panels
    assert not [s for s in panel.signs if isinstance(s, EqualLengths)]


def test_equal_parts_are_marked_where_paper_lands_on_one() -> None:
    (panel,) = folded("valley A to 1/5 of A C").steps[0].panels
    (parts,) = [s for s in panel.signs if isinstance(s, EqualLengths)]
    assert len(parts.segments) == 5
    (panel,) = folded("valley A to 1/2 of A C").steps[0].panels
    (halves,) = [s for s in panel.signs if isinstance(s, EqualLengths)]
    assert len(halves.segments) == 2


def test_a_side_of_an_angle_that_is_no_line_is_drawn_as_a_guide() -> None:
    """An edge comes to a line that nobody has creased, and the mark ends on it; a crease needs none."""
    to_a_line = (
        "mark O at midpoint of A B; mark M at midpoint of D A; valley line O B onto line O M"
    )
    to_a_crease = "crease A to C; valley edge B C onto line B D"
    for body, count in ((to_a_line, 1), (to_a_crease, 0)):
        (*_, panel) = folded(*body.split("; ")).steps[-1].panels
        angles = [s for s in panel.signs if isinstance(s, EqualAngles)]
        guides = [s for s in panel.signs if isinstance(s, GuideLine)]
        assert len(angles) == 1
        assert [g.segment for g in guides] == [(angles[0].apex, angles[0].last)] * count
