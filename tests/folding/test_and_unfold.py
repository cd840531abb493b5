"""`and unfold` closes a fold: made, drawn with one arrow there and back, and laid back at once."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from foldscript.folding.steps import Step
from foldscript.paper.signs import Arrow, FoldLine, Sense

from ..laws.images import IMAGES, Image, has_image
from ..laws.outcomes import broken
from ..narration.reading import steps_told
from ..scripts import captions, creases, folded, lies, refused


def acts(step: Step) -> list[list[str]]:
    """What the arrows of each figure of a step say."""
    return [[s.act for s in panel.signs if isinstance(s, Arrow)] for panel in step.panels]


def test_only_the_crease_stays() -> None:
    model = folded("valley A to C and unfold")
    assert lies(model, "A") == (0, 0)
    assert len(model.finished.facets) == 1
    assert creases(model) == [((0, 100), (100, 0))]
    assert captions(model) == ["Fold corner A over to corner C.", "Unfold."]


@pytest.mark.parametrize(
    ("fold", "crease"),
    [
        ("valley A to C and unfold", "crease A to C"),
        (
            "mountain left edge onto right edge, and unfold",
            "crease mountain left edge onto right edge",
        ),
        ("valley A to centre, and unfold", "crease A to centre"),
    ],
)
def test_it_leaves_what_a_crease_leaves(fold: str, crease: str) -> None:
    before = "valley A to midpoint of A D"
    for steps in ([], [before, "unfold", "turn over"]):
        one, other = folded(*steps, fold), folded(*steps, crease)
        assert creases(one) == creases(other)
        assert one.finished.facets == other.finished.facets


def test_one_figure_with_an_arrow_there_and_back() -> None:
    step = folded("mountain A to C as k, and unfold").steps[0]
    assert acts(step) == [["fold-unfold"]]
    (line,) = [s for s in step.panels[0].signs if isinstance(s, FoldLine)]
    assert line.sense is Sense.MOUNTAIN


def test_two_lines_of_one_step_are_drawn_alike() -> None:
    assert acts(folded("valley A to C; unfold").steps[0]) == [["fold-unfold"]]


def test_what_folds_in_another_way_is_opened_in_a_figure_of_its_own() -> None:
    step = folded(
        "mark O at the centre; mark M at midpoint of A D; mark N at midpoint of C D",
        "valley bottom edge onto top edge",
        "valley left edge onto right edge",
        "squash line O M onto line O N and unfold",
    ).steps[3]
    first, second = acts(step)
    assert "unfold" not in first
    assert set(second) == {"unfold"}
    assert step.panels[1].state is step.records[0].after


def test_the_crease_has_its_name() -> None:
    model = folded("valley A to C as k, and unfold", "valley along k, moving C")
    assert lies(model, "C") == (0, 0)


def test_with_a_count_of_layers() -> None:
    """Of the two layers at the open corner one is creased, from (75, 100) to (50, 75) on the sheet."""
    model = folded(
        "valley left edge onto right edge as h",
        "valley top right corner to where h meets line through D perpendicular to edge A D, "
        "1 layer, and unfold",
    )
    assert len(creases(model)) == 1
    assert "front layer only" in captions(model)[1]


def test_it_is_repeated_as_one() -> None:
    model = folded("mark O at the centre", "valley A to O and unfold", "repeat step 2, 3 times")
    assert len(model.finished.facets) == 1
    assert creases(model) == [
        ((0, 50), (50, 0)),
        ((0, 50), (50, 100)),
        ((50, 0), (100, 50)),
        ((50, 100), (100, 50)),
    ]


def test_again_too() -> None:
    model = folded(
        "valley bottom edge onto horizontal centre line and unfold; turn over top to bottom",
        "repeat step 1 again",
    )
    assert [seg[0][1] for seg in creases(model)] == [25, 75]


def test_hands_are_told_of_a_crease() -> None:
    told = " ".join(steps_told(folded("valley A to C and unfold"))[1])
    assert "Press the fold, then open it again: only a crease stays." in told
    assert "leave it folded" not in told


@pytest.mark.parametrize(
    "statement",
    ["crease A to C and unfold", "turn over and unfold", "mark P at midpoint of A B and unfold"],
)
def test_nothing_to_unfold(statement: str) -> None:
    fault = refused(statement)
    assert fault.code == "nothing-to-unfold"
    assert fault.words == "and unfold"


def test_a_repeat_is_not_unfolded() -> None:
    assert (
        refused("valley A to centre", "repeat step 1 on B and unfold").code == "nothing-to-unfold"
    )


def test_what_only_opens_takes_no_earlier_fold_back() -> None:
    fault = refused("valley A to centre as k", "valley along k, moving A, and unfold")
    assert fault.code == "nothing-to-unfold"


SAID: Sequence[Sequence[str]] = (
    ("valley A to C", "valley B to D, all layers, and unfold", "valley B to D, 1 layer"),
    ("mark O at the centre", "valley A to O and unfold", "repeat step 2 on C", "valley B to O"),
    ("crease A to C and unfold",),
)


@pytest.mark.parametrize("statements", SAID, ids=lambda said: said[-1])
@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_mirror_law(statements: Sequence[str], image: Image) -> None:
    assert not has_image(statements, image) or not broken(statements, image)


def test_four_corners_folded_and_laid_back_are_one_figure() -> None:
    """A blintz creased: there is nothing to see that the first figure does not show."""
    step = folded("valley A, B, C and D to the centre, and unfold").steps[0]
    assert acts(step) == [["fold-unfold"] * 4]
    assert len(creases(folded("valley A, B, C and D to the centre, and unfold"))) == 4


def test_only_what_is_laid_back_whole_has_its_arrow_there_and_back() -> None:
    """The second fold stays, so it is drawn as made; the first cannot be laid back under it."""
    step = folded("valley A to C; valley B to D; unfold").steps[0]
    assert [act for figure in acts(step) for act in figure].count("fold-unfold") == 1
