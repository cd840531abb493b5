"""Cut: slits through some layers or all, which open folds and let paper part; pieces cut off."""

from __future__ import annotations

import pytest

from foldscript.folding.steps import Model
from foldscript.paper.signs import CutLine

from ..laws.images import IMAGES, Image, has_image
from ..laws.outcomes import broken
from ..scripts import (
    captions,
    covered,
    folded,
    lies,
    outcome,
    refused,
    spot,
)

MARKS = (
    "mark M at midpoint of A B; mark N at midpoint of C D; mark O at midpoint of M N; "
    "mark Q at 1/4 of M N; mark W at 3/4 of M N"
)
BOOK = "valley bottom edge onto top edge"


def slits(model: Model) -> list[tuple[tuple[float, float], ...]]:
    """Cuts of the finished state in millimetres, ends sorted."""
    unit = model.sheet.unit_mm
    return sorted(
        tuple(sorted((round(x * unit, 6), round(y * unit, 6)) for x, y in cut))
        for cut in model.finished.cuts
    )


def test_a_slit_in_one_layer() -> None:
    model = folded(MARKS, "cut from Q to W")
    assert slits(model) == [((50, 25), (50, 75))]
    assert captions(model)[-1].startswith("Cut from point Q to point W. Scissors: an adult helps")
    (panel,) = model.steps[-1].panels
    (line,) = [s for s in panel.signs if isinstance(s, CutLine)]
    assert len(line.parts) == 1


def test_through_both_layers_it_mirrors() -> None:
    """A book cut from its fold: after unfolding, a slit on both sides of the crease."""
    model = folded(MARKS, BOOK, "cut from O to Q, all layers", "unfold")
    assert slits(model) == [((50, 25), (50, 75))]
    assert covered(model) == pytest.approx(1)


def test_only_the_front_layer() -> None:
    model = folded(MARKS, BOOK, "cut from O to Q, 1 layer", "unfold")
    assert slits(model) == [((50, 25), (50, 50))]
    assert ", only the layer in front." in captions(model)[-2]


def test_along_a_crease_from_a_point_to_a_point() -> None:
    model = folded(MARKS, "crease left edge onto right edge as v", "cut along v from Q to O")
    assert slits(model) == [((50, 25), (50, 50))]
    assert [tuple(round(x, 6) for x in p) for seg in model.finished.creases for p in seg] == [
        (0.5, 0.0),
        (0.5, 0.25),
        (0.5, 0.5),
        (0.5, 1.0),
    ], "what is cut is no crease any more"


def test_a_slit_opens_a_fold() -> None:
    """Cut along part of a folded edge, the layers hold together only at the rest of it."""
    model = folded(MARKS, BOOK, "mark P at midpoint of A D; cut from P to O, all layers")
    folds = [j for j in model.finished.joints if j.folded]
    assert len(folds) == 1
    (p, q) = sorted(folds[0].segment)
    assert (p[0], q[0]) == pytest.approx((0.5, 1.0))


def test_paper_parts_at_a_slit() -> None:
    """A slit from the edge lets one corner fold without the other."""
    model = folded(
        MARKS,
        "cut from M to O",
        "mark P at midpoint of A D; valley through P O, moving A",
    )
    assert covered(model) == pytest.approx(3 / 4)


def test_the_slit_stays_through_later_folds() -> None:
    model = folded(MARKS, "cut from Q to W", BOOK, "valley left edge onto right edge", "unfold")
    assert slits(model) == [((50, 25), (50, 75))]


def test_the_caution_is_kept_with_the_model() -> None:
    """Whatever the caption says, the notes tell of scissors."""
    model = folded(MARKS, "cut from Q to W", "cut from M to 1/8 of M N")
    assert sum("Scissors" in note for note in model.notes) == 1


@pytest.mark.parametrize(
    ("steps", "code"),
    [
        ((MARKS, "cut from Q"), "cut-where"),
        ((MARKS, "cut all layers"), "cut-where"),
        ((MARKS, "cut from Q to Q"), "same-point"),
        ((MARKS, "cut along edge A B from Q to W"), "off-the-line"),
        ((MARKS, "cut along edge A B"), "nothing-to-cut"),
        ((MARKS, "cut from M to N"), "cuts-off"),
        ((MARKS, BOOK, "cut from O to Q"), "which-layers"),
        ((MARKS, BOOK, "cut from O to Q, 3 layers"), "not-so-many-layers"),
        (
            (
                MARKS,
                BOOK,
                "mark P at midpoint of A D; mark R at midpoint of B C",
                "cut from P to R, all layers",
            ),
            "cuts-off",
        ),
        ((MARKS, "cut from Q to O", "cut from M to W"), ""),
    ],
)
def test_refusals(steps: tuple[str, ...], code: str) -> None:
    if not code:
        assert slits(folded(*steps)) == [((50, 0), (50, 75))]
        return
    found = refused(*steps)
    assert found.code == code, found.message
    assert found.hints


def test_a_collapsed_base_that_has_been_cut_is_laid_open() -> None:
    """A slit of 25 mm beside the centre, through all four layers: a cross of 50 mm when it lies open."""
    model = folded(
        "crease A to C as d1; crease B to D as d2; turn over; crease edge A B onto edge C D, as h; "
        "crease edge B C onto edge D A, as v",
        "collapse mountain d2, valley h, valley v, holding A",
        "mark P at centre; cut from P to midpoint of P A, all layers",
        "unfold",
    )
    assert covered(model) == pytest.approx(1)
    assert len(model.finished.plates) == 1
    assert len(model.finished.cuts) > 1


def test_scissors_that_meet_no_paper_on_a_part_of_their_way_are_told() -> None:
    """From 1/10 to 1/5 of the folded edge; the rest is cut already."""
    first = "mark P at 1/5 of h; mark Q at 4/5 of h; cut from P to Q, all layers"
    model = folded(f"{BOOK} as h", first, "cut from 1/10 of h to Q, all layers")
    (warning,) = model.warnings
    assert warning.code == "cuts-less"
    assert "only 10 mm of these 70 mm" in warning.message
    assert refused(f"{BOOK} as h", first, "cut from P to Q, 1 layer").code == "nothing-to-cut"


# --- a hinge that is partly cut ---------------------------------------------------------------------

#: A on the centre, hinged from (50, 0) to (0, 50); Q of the flap lies at (50, 12.5).
FLAP = "mark P at midpoint of A B; mark R at midpoint of A D; mark M at midpoint of P R; mark Q at 3/4 of A P"
HINGED = (FLAP, "valley A to centre as k")
HALF_CUT = (*HINGED, "cut from M to P, all layers")
#: About the diagonal, the half of the flap that the cut has set free.
ASIDE = "valley through M A, moving Q, 1 layer"


def test_a_flap_turns_about_what_a_cut_has_left_of_its_hinge() -> None:
    model = folded(*HALF_CUT, "valley along k, moving A")
    assert lies(model, "A") == (0, 0)
    assert slits(model) == [((25, 25), (50, 0))]


def test_the_half_that_is_cut_free_folds_by_itself() -> None:
    """Mirrored in the diagonal, (50, 12.5) comes to (12.5, 50); the flap's corner and hinge stay."""
    model = folded(*HALF_CUT, ASIDE)
    assert spot(model, 37.5, 0) == (12.5, 50)
    assert lies(model, "A") == (50, 50)
    assert spot(model, 0, 50) == (0, 50)


def test_the_half_that_is_hinged_still_does_not() -> None:
    """Without the cut both halves hang on the hinge; with it the other half still does."""
    assert refused(*HINGED, ASIDE)
    assert refused(*HALF_CUT, "mark S at 3/4 of A R; valley through M A, moving S, 1 layer")


@pytest.mark.parametrize("image", [i for i in IMAGES if not i.over], ids=lambda image: image.name)
@pytest.mark.parametrize("last", ["valley along k, moving A", ASIDE])
def test_an_image_of_it_folds_as_the_image(last: str, image: Image) -> None:
    statements = [s.strip() for step in (*HALF_CUT, last) for s in step.split(";")]
    assert broken([s.replace(" as k", ", as k") for s in statements], image) == ""


# --- points on a cut ------------------------------------------------------------------------------

INTO_A = "mark O at centre; cut from A to O"


def test_a_corner_that_a_cut_runs_into_is_two() -> None:
    """Which of them is asked; a point beside the cut tells."""
    asked = refused(INTO_A, "valley A to O")
    assert asked.code == "parted-point"
    assert asked.words == "A"
    lower = folded(INTO_A, "mark X at 1/8 of A B; valley A to O, moving X")
    assert covered(lower) == pytest.approx(1 - 1 / 16)
    upper = folded(INTO_A, "mark X at 1/8 of A D; valley A to O, moving X")
    assert covered(upper) == pytest.approx(1 - 1 / 16)
    assert lower.finished.facets != upper.finished.facets


def test_where_both_sides_move_nothing_is_asked() -> None:
    """A slit of a third of the way to the centre lies within the corner that moves."""
    model = folded("mark O at centre; mark P at 1/3 of A O; cut from A to P", "valley A to O")
    assert covered(model) == pytest.approx(1 - 1 / 8)


@pytest.mark.parametrize("image", IMAGES, ids=lambda image: image.name)
@pytest.mark.parametrize(
    "last",
    [
        "valley A to C",
        "valley A to midpoint of A B",
        "crease A to C",
        "valley through O B, moving A",
        "mark X at 1/8 of A B; valley A to O, moving X",
    ],
)
def test_the_mirror_law_beside_a_cut_into_a_corner(last: str, image: Image) -> None:
    statements = [*INTO_A.split("; "), *last.split("; ")]
    if has_image(statements, image):
        assert not broken(statements, image)


def test_a_point_that_a_cut_has_parted_is_asked_for() -> None:
    """Of an edge slit in from corner D the two sides come to lie apart; 'D' says neither."""
    slit = ("mark P at 1/2 of D B", "cut from D to P, all layers")
    assert folded(*slit).finished.places((0.0, 1.0)) == ((0.0, 1.0),)
    part = "valley through P perpendicular to edge D A, moving 1/4 of D C"
    message = refused(*slit, part, "crease D to B")
    assert message.code == "on-a-cut"
    assert "(on corner A)" in message.message
    assert not any("'D'" in hint for hint in message.hints), "the same word would only ask again"
    assert message.words == "D"


def test_a_cut_that_all_but_meets_a_crease_is_told_when_the_paper_is_opened() -> None:
    """A star by one cut whose short side is 2.6 cm: its exact length, 2.597 cm, is on the crease."""
    told = refused(
        "valley top edge onto bottom edge",
        "mark M at midpoint of the top edge; mark S at right end of the top edge; "
        "mark T at left end of the top edge; "
        "crease along line through M at 36 degrees to top edge, all layers, as k",
        "valley line M S onto k, all layers, as f",
        "valley line M S onto f",
        "valley along k, moving T, all layers",
        "mountain k onto f, all layers, as g; mark U at 2.6 cm from M on f; "
        "mark V at 6.8 cm from M on g; cut from V to U, all layers, keeping M",
        "unfold to step 0",
        sheet="sheet square 15 cm, coloured side down\n",
    )
    assert told.code == "too-near"
    assert told.message.startswith("a cut passes 0.085 mm beside a crease")
    assert told.words == "unfold to step 0"


#: A crease up the middle, with its ends M and N; P and Q lie 0.006 mm beside them.
CREASED = (
    "crease left edge onto right edge as k",
    "mark M at midpoint of A B; mark N at midpoint of D C; "
    "mark P at 50.006 mm from A on edge A B; mark Q at 50.006 mm from D on edge D C",
)


@pytest.mark.parametrize("words", ["P to midpoint of line P Q", "P to Q, discarding B", "P to N"])
def test_a_cut_that_all_but_meets_a_crease_is_refused_where_it_is_written(words: str) -> None:
    """No later fold along the crease could go between the two."""
    told = refused(*CREASED, f"cut from {words}")
    assert told.code == "too-near"
    assert "passes 0.006 mm beside an edge or a fold" in told.message
    assert told.hints[0] == "say 'M' in the place of point P"


def test_a_cut_along_the_crease_itself_or_far_enough_from_it() -> None:
    assert outcome(*CREASED, "cut from M to midpoint of line M N", "valley D to A") == ""
    far = "mark F at 50.2 mm from A on edge A B; mark G at 50.2 mm from D on edge D C"
    assert outcome(*CREASED, far, "cut from F to midpoint of line F G") == ""
