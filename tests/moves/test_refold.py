"""Refold: what was unfolded is folded again as it was, without a new crease."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from foldscript.paper.signs import Arrow, FoldLine, Sense
from foldscript.source.diagnostics import FoldscriptError

from ..laws.images import IMAGES, Image, has_image
from ..laws.outcomes import broken
from ..scripts import captions, creases, folded, folds, layers_at, lies, refused, script, spot


def test_the_last_unfolding() -> None:
    once = folded("valley A to C")
    model = folded("valley A to C", "unfold", "refold")
    assert model.finished.facets == once.finished.facets
    assert creases(model) == []
    assert captions(model)[-1] == "Refold."


def test_by_name() -> None:
    model = folded("valley A to C as k, and unfold", "refold k")
    assert lies(model, "A") == (100, 100)
    assert captions(model)[-1] == "Refold along the diagonal crease."
    (panel,) = model.steps[1].panels
    (arrow,) = [s for s in panel.signs if isinstance(s, Arrow)]
    assert (arrow.act, arrow.tail) == ("valley", (0, 0))
    assert arrow.head == pytest.approx((1, 1))
    (line,) = [s for s in panel.signs if isinstance(s, FoldLine)]
    assert line.sense is Sense.VALLEY


def test_after_turning_over_the_valley_is_a_mountain() -> None:
    model = folded("valley A to centre as k, and unfold", "turn over", "refold k")
    assert lies(model, "A") == pytest.approx((50, 50))
    (line,) = [s for s in model.steps[2].panels[0].signs if isinstance(s, FoldLine)]
    assert line.sense is Sense.MOUNTAIN
    assert layers_at(model, 55, 45) == 2


def test_on_paper_that_has_been_folded_since() -> None:
    model = folded("valley B to centre as b, and unfold", "valley A to centre", "refold b")
    assert lies(model, "A") == lies(model, "B") == pytest.approx((50, 50))
    assert creases(model) == []


def test_several_folds_at_once() -> None:
    model = folded("valley A to C", "valley B to D, all layers", "unfold to step 0", "refold")
    assert layers_at(model, 40, 80) == 4
    assert captions(model)[-1] == "Refold what was unfolded in step 3."


def test_a_move_of_several_folds_lies_as_before() -> None:
    steps = (
        "mark O at the centre; mark M at midpoint of A D; mark N at midpoint of C D",
        "valley bottom edge onto top edge",
        "valley left edge onto right edge",
        "squash line O M onto line O N",
    )
    once = folded(*steps)
    model = folded(*steps, "unfold", "refold")
    assert model.finished.facets == once.finished.facets
    assert dict(model.finished.order) == dict(once.finished.order)


def test_a_refold_is_unfolded_and_refolded_again() -> None:
    model = folded("valley A to C as k, and unfold", "refold k", "unfold k", "refold k and unfold")
    assert lies(model, "A") == (0, 0)
    assert creases(model) == [((0, 100), (100, 0))]


def test_it_is_repeated() -> None:
    model = folded(
        "mark O at the centre",
        "valley A to O as k, and unfold; refold k",
        "repeat step 2, 3 times",
    )
    for corner in "ABCD":
        assert lies(model, corner) == pytest.approx((50, 50))


def test_as_it_is_said_at_the_table() -> None:
    assert lies(folded("valley A to C as k, and unfold", "refold along k"), "A") == (100, 100)
    with pytest.raises(FoldscriptError) as told:
        folds(script("valley A to C as k, and unfold", "fold k again"))
    assert "say 'refold k'" in [hint.text for hint in told.value.diagnostics[0].hints]


def test_nothing_was_unfolded() -> None:
    assert refused("refold").code == "nothing-to-refold"
    assert refused("valley A to C", "refold").code == "nothing-to-refold"


def test_the_paper_lies_otherwise_since() -> None:
    fault = refused("valley A to C", "unfold", "valley B to centre", "refold")
    assert fault.code == "nothing-to-refold"


def test_folded_already() -> None:
    fault = refused("valley A to C as k", "refold k")
    assert fault.code == "folded-already"
    assert fault.words == "k"


def test_a_crease_that_never_was_folded() -> None:
    fault = refused("crease A to C as k", "refold k")
    assert fault.code == "not-a-fold"
    assert "'valley along k, moving A'" in fault.hints[0]


def test_a_crease_that_is_bent_now() -> None:
    """The diagonal lies in two layers, of which one would have to fold the other way."""
    fault = refused(
        "valley A to C as k, and unfold", "valley left edge onto right edge", "refold k"
    )
    assert fault.code == "folded-otherwise"
    assert refused("valley A to C", "unfold", "refold A").code == "refold-what"


SAID: Sequence[Sequence[str]] = (
    ("valley A to C", "valley B to D, all layers", "unfold", "unfold", "refold"),
    ("valley B to centre as b", "unfold", "valley A to centre", "refold b", "refold b"),
    ("mountain A to centre as a, and unfold", "turn over side to side", "refold a"),
)


@pytest.mark.parametrize("statements", SAID, ids=lambda said: said[-1])
@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
def test_the_mirror_law(statements: Sequence[str], image: Image) -> None:
    assert not has_image(statements, image) or not broken(statements, image)


def test_what_is_left_after_a_cut_is_folded_again() -> None:
    """The fold of a book, refolded after a corner has gone: the other corners lie as before."""
    model = folded(
        "valley bottom edge onto top edge as h",
        "unfold",
        "cut from 1/4 of A B to 1/3 of A D, discarding A",
        "refold",
    )
    assert lies(model, "B") == (100, 100)
    assert model.finished.sheet.corner_names == ("B", "C", "D")


def test_a_fold_that_a_slit_has_parted_folds_whole() -> None:
    """The slit meets the crease halfway: both parts of the flap fold again."""
    model = folded(
        "valley bottom edge onto top edge as h",
        "unfold h",
        "cut from 1/4 of B C to midpoint of B D",
        "refold h",
    )
    assert lies(model, "A") == (0, 100)
    assert spot(model, 100, 40) == (100, 60)
