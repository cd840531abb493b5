"""`moving` takes an edge or a fold as well as a point: its middle moves, and the caption names it."""

from __future__ import annotations

import pytest

from ..scripts import captions, folded, lies, refused


@pytest.mark.parametrize(
    "line",
    [
        "valley along line 1 cm from the bottom edge, moving the bottom edge",
        "valley along line 1 cm from the bottom edge, moving edge A B",
        "valley the bottom edge along line 1 cm from the bottom edge",
        "mark P at 1 cm from A on edge A D; mark Q at 1 cm from B on edge B C; "
        "valley the bottom edge through P Q",
    ],
)
def test_a_strip_along_an_edge(line: str) -> None:
    model = folded(line)
    assert (lies(model, "A"), lies(model, "D")) == ((0, 20), (0, 100))


def test_a_fold_moves() -> None:
    """The fold named lies at the bottom after turning; both layers go along."""
    model = folded(
        "valley bottom edge onto top edge as brim",
        "valley along line 1 cm from the bottom edge, moving brim, all layers",
    )
    assert model.finished.where((0.0, 0.5))[1] == pytest.approx(0.7)
    assert captions(model)[1].startswith("Fold the bottom edge over along the line 1 cm from")


def test_an_edge_on_the_fold_line_says_nothing() -> None:
    assert refused("valley along line A C, moving line A C").code == "on-the-line"


def test_a_point_that_is_no_corner_is_called_by_its_flap() -> None:
    said = captions(folded("mark S at 1/4 of A D; valley along line A C, moving S"))
    assert said == ["Fold the flap with point S over along line AC."]
    assert captions(folded("valley along line A C, moving D")) == [
        "Fold corner D over along line AC."
    ]


def test_the_layer_after_moving_is_that_of_the_words() -> None:
    """Edge C D lies on the front layer, corner A on the one behind: either could be meant, not both."""
    told = refused("valley bottom edge onto top edge", "valley edge C D onto bottom edge, moving A")
    assert told.code == "moves-another-layer"
    assert told.message.startswith("edge CD would stay where it is: corner A lies on another layer")
    assert told.words == "A"


@pytest.mark.parametrize(("mover", "line"), [("D", 40), ("C", 60)])
def test_what_moves_chooses_the_line_beside_a_crease(mover: str, line: int) -> None:
    """1 cm from the middle crease, on the side of what moves: 40 and 60 mm from the left edge."""
    model = folded(
        "crease left edge onto right edge as m", f"valley along line 1 cm from m, moving {mover}"
    )
    x, _ = lies(model, mover)
    assert x == 2 * line - (0 if mover == "D" else 100)


def test_a_word_still_chooses_the_line_on_the_other_side() -> None:
    model = folded(
        "crease left edge onto right edge as m",
        "valley along line 1 cm from m, second, moving D",
    )
    assert lies(model, "D")[0] == 120


def test_a_point_between_both_lines_chooses_none() -> None:
    told = refused(
        "crease left edge onto right edge as m; mark P at 45 mm from A on edge A B",
        "valley along line 1 cm from m, moving P",
    )
    assert told.code == "several-folds"


def test_where_slanting_edges_face_a_way_the_level_fold_in_sight_is_offered() -> None:
    """Of a triangle on its tip the front tip is folded up: below are two slanting edges, and that fold."""
    diamond = "sheet square 100 mm, corner A at the bottom\n"
    told = refused(
        "valley C to A as flap",
        "valley top layer at C to centre as tip",
        "valley bottom edge onto top edge",
        sheet=diamond,
    )
    assert told.code in ("two-candidates", "no-such-edge")
    assert any("'tip' for the level fold there" in hint for hint in told.hints)
