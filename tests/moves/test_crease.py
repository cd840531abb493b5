"""Crease: the paper lies as before, with a line more on every layer that was folded."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.geometry.lines import Point
from foldscript.paper.signs import Arrow, FoldLine, GuideLine, Sense
from foldscript.source.diagnostics import Severity

from ..laws.images import IMAGES, Image, has_image
from ..laws.outcomes import broken
from ..scripts import captions, creases, folded, folds, lies, refused


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
    book, line = "valley left edge onto right edge", "crease A to midpoint of A D"
    assert refused(book, f"{line}, 1 layer").code == "more-layers"
    assert creases(folded(book, f"{line}, 2 layers")) == [((0, 25), (100, 25))]


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


def test_a_part_of_a_crease_that_lies_on_several_lines_may_have_a_name() -> None:
    """Creased while a corner was folded in, its part there is on a line of its own when that is opened."""
    model = folded(
        "mark O at the centre; valley A to O as a; valley B, C and D to O",
        "crease bottom edge onto horizontal centre line, all layers, as low",
        "unfold a; mark X at midpoint of A O",
        "crease mountain A to X as tip",
        sheet="sheet square 100 mm, corner A at the bottom\n",
    )
    assert model.warnings == ()


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


# --- from a point to a point ----------------------------------------------------------------------

MIDDLE = "mark O at centre; mark P at 1/4 of A C"


def test_a_crease_that_stops_at_both_points() -> None:
    model = folded(MIDDLE, "crease from O to P as k")
    assert creases(model) == [((25, 25), (50, 50))]
    assert captions(model)[-1] == (
        "Bend the paper along the line through O and P. Crease only between the two points, and unfold."
    )
    (panel,) = model.steps[-1].panels
    (line,) = [sign for sign in panel.signs if isinstance(sign, FoldLine)]
    assert line.sense is Sense.VALLEY
    (part,) = [sorted(seg) for _, seg in line.parts]
    assert [tuple(round(x, 9) for x in p) for p in part] == [(0.25, 0.25), (0.5, 0.5)]
    guides = [sign for sign in panel.signs if isinstance(sign, GuideLine)]
    whole = ((0.0, 0.0), (1.0, 1.0))  # the line from A to C, on which P is a quarter
    assert whole in [tuple(sorted(sign.segment)) for sign in guides]
    bends = [sorted(g.segment) for g in guides if g.through is None]
    bends.remove([*whole])
    assert sorted(round(x, 9) for seg in bends for x, _ in seg) == [0, 0.25, 0.5, 1]


def test_a_crease_between_points_through_all_layers_lies_on_each() -> None:
    """Through both halves of a book: two creases that mirror each other."""
    model = folded(
        "valley bottom edge onto top edge",
        "mark Q at midpoint of bottom edge; crease mountain from Q to 1/3 of Q C, all layers",
        "unfold",
    )
    stop = (round(50 + 50 / 3, 6), round(50 + 50 / 3, 6))
    below = (stop[0], round(100 - stop[1], 6))
    found = [seg for seg in creases(model) if seg[0][1] != 50 or seg[1][1] != 50]
    assert sorted(found) == sorted([((50, 50), stop), ((50, 50), below)])


def test_its_name_stands_for_that_part() -> None:
    model = folded(
        MIDDLE, "crease from O to P as k", "crease through 1/2 of k perpendicular to k, as m"
    )
    assert ((0, 75), (75, 0)) in creases(model)
    model = folded(
        MIDDLE, "crease from O to P as k; crease from P to A", "valley along k, moving B"
    )
    assert lies(model, "B") == (0, 100)


@pytest.mark.parametrize(
    ("steps", "code"),
    [
        ((MIDDLE, "crease from O"), "unclear-fold"),
        ((MIDDLE, "crease from O to P to A"), "unclear-fold"),
        ((MIDDLE, "crease from O to O"), "cannot-reach"),
        ((MIDDLE, "crease from O to edge A B"), "not-a-point"),
        ((MIDDLE, "crease from O to P", "crease from P to O"), "crease-there-already"),
        (("valley A to C", "mark M at midpoint of D B", "crease from C to A"), "cannot-reach"),
    ],
)
def test_what_is_no_crease_between_points(steps: tuple[str, ...], code: str) -> None:
    found = refused(*steps)
    assert found.code == code, found.message


def test_between_the_points_there_must_be_paper() -> None:
    """A hole lies on the way."""
    hole = (
        "mark O at centre; mark P at 1/4 of A C; mark Q at 1/4 of B D; mark R at 3/4 of A C; "
        "mark S at 3/4 of B D; cut from P to Q to R to S to P, discarding O"
    )
    assert refused(hole, "crease from A to C").code == "off-the-paper"
    assert creases(folded(hole, "crease from A to P")) == [((0, 0), (25, 25))]


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_mirror_law_of_creases_between_points(image: Image) -> None:
    statements = [
        "valley A to C",
        "mark M at midpoint of B D",
        "crease from M to 1/3 of M C, all layers",
        "crease from midpoint of M B to C",
    ]
    assert has_image(statements, image)
    assert not broken(statements, image)


# --- no side said ---------------------------------------------------------------------------------


FROG = (Path("samples") / "bases" / "frog-base.foldscript").read_text(encoding="utf-8")


def test_which_layers_are_creased_does_not_follow_from_the_order_of_two_points() -> None:
    """While the frog's flaps are petalled one by one, as much paper lies above P Q as below."""

    def hinges(words: str) -> list[set[tuple[Point, Point]]]:
        said = "crease through P Q, moving top corner, as hinge"
        assert said in FROG
        model = folds(FROG.replace(said, f"crease {words}, as hinge"))
        made = [
            r.creases
            for step in model.steps
            for r in step.records
            if r.name.endswith(("hinge", "crease"))
        ]
        return [
            {tuple(sorted((round(x, 6), round(y, 6)) for x, y in s)) for s in creases}  # type: ignore[misc]
            for creases in made
        ]

    assert hinges("through P Q") == hinges("through Q P")
