"""Crease: the paper lies as before, with a line more on every layer that was folded."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import Arrow, FoldLine, Sense
from foldscript.source.diagnostics import Severity

from ..scripts import captions, creases, folded, lies, refused


def test_the_paper_lies_as_before() -> None:
    model = folded("crease A to C")
    assert len(model.finished.facets) == 1
    assert creases(model) == [((0, 100), (100, 0))]
    assert captions(model) == ["Fold corner A over to corner C. Crease, and unfold."]


def test_a_crease_without_a_side() -> None:
    """Nothing stays folded, so the words need not say which side moves."""
    assert creases(folded("crease through B D")) == [((0, 100), (100, 0))]


@pytest.mark.parametrize(
    ("word", "sense"),
    [("", Sense.VALLEY), ("valley ", Sense.VALLEY), ("mountain ", Sense.MOUNTAIN)],
)
def test_either_sense(word: str, sense: Sense) -> None:
    (panel,) = folded(f"crease {word}A to C").steps[0].panels
    assert [s.sense for s in panel.signs if isinstance(s, FoldLine)] == [sense]
    assert [s.act for s in panel.signs if isinstance(s, Arrow)] == ["fold-unfold"]


def test_through_all_layers() -> None:
    """Folded in half, then creased through both layers: two creases on the sheet."""
    model = folded(
        "valley left edge onto right edge", "crease bottom edge onto top edge, all layers"
    )
    assert creases(model) == [((0, 50), (100, 50))]
    assert len(model.finished.facets) == 2


def test_layers_that_hang_together_across_the_line_are_creased_together() -> None:
    """The top layer alone cannot bend there: the fold on its left holds it to the other."""
    model = folded("valley left edge onto right edge", "crease A to midpoint of A D, 1 layer")
    assert creases(model) == [((0, 25), (100, 25))]


def test_the_top_layer_alone() -> None:
    model = folded("valley A to C", "crease A to midpoint of B D, 1 layer")
    assert creases(model) == [((0, 50), (50, 0))]


def test_crossing_creases_stay_whole() -> None:
    assert creases(folded("crease A to C", "crease B to D")) == [
        ((0, 0), (100, 100)),
        ((0, 100), (100, 0)),
    ]


def test_a_crease_that_is_there_already() -> None:
    found = refused("crease A to C", "crease through B D")
    assert found.code == "crease-there-already"
    assert found.message.endswith("(in step 2)")


def test_a_crease_that_is_there_already_is_called_by_its_name() -> None:
    found = refused("crease A to C as rising", "crease through B D")
    assert found.message == "this crease is there already, and is called 'rising' (in step 2)"
    assert "fold it with 'valley along rising'" in found.hints[0]


def test_a_crease_of_the_base_is_given_another_name() -> None:
    """Whoever starts from a base need not know that the line is there, nor what it is called."""
    model = folded(
        "crease A to C as d",
        "crease B to D as h; crease through B D as k; valley along k, moving A",
    )
    (warning,) = model.warnings
    assert warning.severity is Severity.WARNING
    assert warning.message == "this crease is there already as 'd', also 'k' now (in step 2)"
    assert warning.source is not None
    assert warning.span is not None
    words = warning.source.text[warning.span.start : warning.span.end]
    assert words == "crease through B D as k"
    assert lies(model, "A") == (100, 100)


def test_a_crease_without_a_name_is_given_one() -> None:
    model = folded("crease A to C", "crease through B D as k", "valley along k, moving A")
    assert [w.message for w in model.warnings] == [
        "this crease is there already: now called 'k' (in step 2)"
    ]
    assert creases(folded("crease A to C", "crease through B D as k")) == [((0, 100), (100, 0))]


def test_a_repeat_of_a_crease_that_is_there_is_silent() -> None:
    """The other diagonal of two that cross: each is the image of the other."""
    model = folded(
        "crease A to C as d", "mark O at the centre", "crease B to D as e", "repeat step 3, 1 time"
    )
    assert model.warnings == ()


def test_a_crease_that_is_there_through_all_layers() -> None:
    """The diagonals of a blintz fold lie level and upright; rounding makes their ends no others."""
    diamond = "sheet square 100 mm, corner A at the bottom\n"
    blintz = (
        "crease A to C; crease B to D; mark O at the centre; "
        "valley A to O; valley B to O; valley C to O; valley D to O"
    )
    for edges in ("left edge onto right edge", "bottom edge onto top edge"):
        found = refused(blintz, f"crease {edges}, all layers", sheet=diamond)
        assert found.code == "crease-there-already"


def test_a_named_crease_is_a_line() -> None:
    model = folded("crease A to C as d", "valley along d, moving A")
    assert model.finished.creases == ()
    assert len(model.finished.facets) == 2


def test_what_could_not_be_folded_cannot_be_creased() -> None:
    """The layer underneath is held by the one in front."""
    found = refused("valley A to C", "crease C to midpoint of B D")
    assert found.code == "blocked"


def test_a_bisector_may_be_either() -> None:
    found = refused("crease line A C onto line B D")
    assert found.code == "several-folds"
    first = creases(folded("crease line A C onto line B D, first"))
    second = creases(folded("crease line A C onto line B D, second"))
    assert {*first, *second} == {((0, 50), (100, 50)), ((50, 0), (50, 100))}
