"""Pleat: over along one line and back along the other."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import Arrow, FoldLine, Sense

from ..scripts import captions, covered, folded, layers_at, lies, refused

STRIP = "sheet strip 60 mm by 10 mm\n"
LINES = (
    "mark P at 1/3 of A B; mark Q at 1/2 of A B; crease through P perpendicular to edge A B, as p; "
    "crease through Q perpendicular to edge A B, as q"
)


@pytest.mark.parametrize(
    "line",
    [
        "pleat mountain p, valley q, moving B",
        "pleat valley q, mountain p, moving B",
        "pleat valley p, mountain q, moving B",
        "pleat along p and q, moving B",
    ],
)
def test_pleat_of_a_strip(line: str) -> None:
    """A strip of 2, 1, 3: the far edge comes from 6 to 4 (derived)."""
    model = folded(LINES, line, sheet=STRIP)
    assert lies(model, "B") == pytest.approx((40, 0))
    assert lies(model, "A") == (0, 0)
    assert covered(model) == pytest.approx(40 / 60)
    assert [layers_at(model, x, 5) for x in (5, 15, 35)] == [1, 3, 1]


def test_which_side_is_in_front() -> None:
    """A valley on the line nearer to what stays brings the moving side in front."""
    over = folded(LINES, "pleat valley p, mountain q, moving B", sheet=STRIP).finished
    under = folded(LINES, "pleat mountain p, valley q, moving B", sheet=STRIP).finished
    for state, in_front in ((over, True), (under, False)):
        still, moved = state.facets_on_sheet((0.1, 0.1))[0], state.facets_on_sheet((0.9, 0.1))[0]
        assert state.above(moved, still) is in_front


def test_the_other_side_moves() -> None:
    model = folded(LINES, "pleat valley p, mountain q, moving A", sheet=STRIP)
    assert lies(model, "B") == (60, 0)
    assert lies(model, "A") == pytest.approx((20, 0))


def test_signs_and_caption() -> None:
    model = folded(LINES, "pleat valley p, mountain q, moving B", sheet=STRIP)
    signs = model.steps[1].panels[0].signs
    assert [s.sense for s in signs if isinstance(s, FoldLine)] == [Sense.VALLEY, Sense.MOUNTAIN]
    assert [s.act for s in signs if isinstance(s, Arrow)] == ["pleat"]
    assert captions(model)[-1] == (
        "Make a pleat: fold the flap to the front along the left vertical crease, "
        "and back again along the middle vertical crease."
    )


def test_slanting_pleat_through_all_layers() -> None:
    model = folded(
        "valley left edge onto right edge",
        "mark P at 1/3 of B C; mark Q at 1/2 of B C; mark R at midpoint of A B",
        "pleat valley line P R, mountain line Q R, moving C, all layers",
    )
    assert len(model.finished.facets) == 6


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("pleat valley p, moving B", "pleat-lines"),
        ("pleat valley p, valley q, moving B", "pleat-lines"),
        ("pleat valley p, mountain q", "which-side"),
        ("pleat valley p, mountain edge B C, moving A", "fold-misses-flap"),
    ],
)
def test_refusals(line: str, code: str) -> None:
    found = refused(LINES, line, sheet=STRIP)
    assert found.code == code
    assert found.hints


def test_lines_that_cross_on_the_flap_are_no_pleat() -> None:
    """The tip would hang together with paper that stays."""
    told = refused(
        "crease B to D as k; valley edge A B onto k; valley edge A D onto k",
        "pleat along horizontal centre line and line through B at 22.5 degrees to edge D A, "
        "moving bottom left corner",
    )
    assert told.code == "creases-cross"
    assert refused("pleat along centre line and centre line, moving B").code == "one-line"
