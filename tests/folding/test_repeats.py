"""Repeats are folded, not assumed: where they go, what they name, what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.folding.repeating.repeat_statement import MOST_TIMES
from foldscript.folding.steps import Model
from foldscript.geometry.isometries import IDENTITY, same_isometry
from foldscript.paper.signs import RepeatSign
from foldscript.paper.state import State
from foldscript.paper.symmetry import congruences, symmetries

from ..conftest import examples
from ..scripts import captions, covered, folded, layers_at, lies, refused, script, spot

PRELIMINARY = "start from preliminary base\n"
CENTRE = "mark O at the centre"


def sign(model: Model, step: int) -> RepeatSign:
    """The one repeat sign of a step."""
    (found,) = [
        s for p in model.steps[step - 1].panels for s in p.signs if isinstance(s, RepeatSign)
    ]
    return found


def symmetry_count(model: Model) -> int:
    return len(symmetries(model.finished))


# --- all the places there are ----------------------------------------------------------------


def test_three_more_corners() -> None:
    """Blintz: shared/checks/values.md, section 5: silhouette 1/2 (derived)."""
    model = folded(CENTRE, "valley A to O", "repeat step 2, 3 times")
    assert [lies(model, c) for c in "ABCD"] == [(50, 50)] * 4
    assert covered(model) == pytest.approx(0.5)
    assert symmetry_count(model) == 8
    assert captions(model)[-1] == "Repeat step 2, 3 more times."


def test_five_more_corners_of_a_hexagon() -> None:
    model = folded(
        CENTRE,
        "valley A to midpoint of A O",
        "repeat step 2, 5 times",
        sheet="sheet regular hexagon, side 50 mm\n",
    )
    assert symmetry_count(model) == 12


def test_alternate_corners_of_a_hexagon() -> None:
    """Folded right to the centre, neighbouring corners are in each other's way."""
    hexagon = "sheet regular hexagon, side 50 mm\n"
    model = folded(CENTRE, "valley A to O", "repeat step 2 on C and E", sheet=hexagon)
    assert symmetry_count(model) == 6
    assert covered(model) == pytest.approx(0.5)
    found = refused(CENTRE, "valley A to O", "repeat step 2, 5 times", sheet=hexagon)
    assert found.code == "folded-since"


def test_turned_round_rather_than_mirrored() -> None:
    """A lopsided fold has eight images; 'three more' are those that hands make turning the sheet."""
    model = folded(
        "mark P at 1/3 of A D; mark Q at 1/5 of A B; valley through P Q, moving A",
        "repeat step 1, 3 times",
    )
    turns = [s for s in symmetries(model.finished) if not s.behind]
    assert len(turns) == 4
    assert not any(s.mirrors for s in turns)


def test_all_flaps_of_the_preliminary_base() -> None:
    model = folded(
        "mark M at midpoint of C B; valley line C M onto line C O",
        "repeat step 1, 3 times",
        sheet=PRELIMINARY,
    )
    assert symmetry_count(model) == 4
    assert sign(model, 2).times == 3


def test_flaps_are_turned_like_pages() -> None:
    """Four squashed flaps, one after the other (area: school geometry).

    The second flap lies under the first one when that is squashed; a page has to be turned.
    """
    model = folded(
        "mark M at midpoint of C B; squash line O M onto line O C",
        "repeat step 1, 3 times",
        sheet=PRELIMINARY,
    )
    # two triangles with the side OC of length sqrt(1/2) and angles 22.5 and 45 degrees at its ends
    assert covered(model) == pytest.approx((2 - 2**0.5) / 4)
    assert symmetry_count(model) == 4


def test_how_many() -> None:
    found = refused(CENTRE, "valley A to O", "repeat step 2, 2 times")
    assert found.code == "how-many-repeats"
    assert "3 other places" in found.message
    assert found.words == "repeat step 2, 2 times"


# --- behind ------------------------------------------------------------------------------------


def test_behind_as_seen_from_behind() -> None:
    """The right corner in front, and the right corner as seen when the model is turned over."""
    model = folded(
        "valley bottom edge onto top edge",
        "valley top right corner to midpoint of bottom edge",
        "repeat step 2 behind",
    )
    assert lies(model, "B") == (50, 50)
    assert lies(model, "D") == (50, 50)
    assert lies(model, "A") == (0, 100)
    front, back = model.finished.facets_at((0.7, 0.6))[0], model.finished.facets_at((0.3, 0.6))[-1]
    assert model.finished.facets[front].shows_front != model.finished.facets[back].shows_front
    assert captions(model)[-1] == "Repeat step 2 behind."
    assert sign(model, 3).behind


def test_behind_where_only_the_mirror_fits() -> None:
    """A trapezoid folded along its middle line: its halves lie on each other, mirror-wise."""
    model = folded(
        "valley A to B",
        "valley A to midpoint of A D",
        "repeat step 2 behind",
        sheet="sheet polygon 0 0, 100 0, 80 50, 20 50 mm\n",
    )
    (_, mirror) = symmetries(model.finished)
    assert mirror.behind
    assert mirror.mirrors
    assert lies(model, "A") == lies(model, "B") == (90, 25)


def test_behind_and_over_and_behind_again() -> None:
    """Repeating behind equals turning over, doing the same, and turning back."""
    first = (
        "valley bottom edge onto top edge",
        "valley top right corner to midpoint of bottom edge",
    )
    one = folded(*first, "repeat step 2 behind")
    other = folded(*first, "turn over", "repeat step 2", "turn over")
    for f, g in zip(one.finished.facets, other.finished.facets, strict=True):
        assert same_isometry(f.place, g.place)


def test_valley_behind_is_mountain() -> None:
    one = folded("mark P at 1/4 of A D; valley A to P", "repeat step 1 behind on C")
    other = folded("mark P at 1/4 of A D; valley A to P", "mark R at 1/4 of C B; mountain C to R")
    assert [lies(one, c) for c in "ABCD"] == [lies(other, c) for c in "ABCD"]
    state = one.finished
    assert layers_at(state, 50, 80) == 2
    assert not state.facets[state.facets_at((0.5, 0.8))[1]].shows_front


def test_not_alike_behind() -> None:
    found = refused(
        "valley bottom edge onto line through midpoint of A D perpendicular to edge A D",
        "valley bottom left corner to the centre",
        "repeat step 2 behind",
    )
    assert found.code == "no-symmetry"
    assert "seen from behind, the layers" in found.message


def test_a_fold_without_a_partner_is_named() -> None:
    found = refused(CENTRE, "valley A to O", "valley B to 1/3 of B O", "repeat step 3 on A")
    assert found.code == "no-symmetry"
    assert "there is a fold" in found.message
    assert "corner" in found.message


HAT = (
    "valley top edge onto bottom edge; crease left edge onto right edge as mid",
    "mark T at midpoint of the top edge; valley top left corner onto mid, through T; "
    "valley top right corner onto mid, through T",
    "mark K at where the left edge meets the top left edge; "
    "mark L at where the right edge meets the top right edge",
    "valley along line K L, moving midpoint of the bottom edge",
)
A5 = "sheet A5 portrait, coloured side down\n"


@pytest.mark.parametrize(
    "repeat",
    [
        ("repeat step 4 behind",),
        ("repeat step 4 on B",),
        ("repeat step 4, 1 time",),
        ("turn over", "repeat step 4", "turn over"),
    ],
)
def test_the_brim_of_a_hat_behind(repeat: tuple[str, ...]) -> None:
    """Both roof flaps lie in front, so the hat is not alike behind; its brims are. As folded by words."""
    model = folded(*HAT, *repeat, sheet=A5)
    other = folded(*HAT, "mountain along line K L, moving midpoint of the bottom edge", sheet=A5)
    assert states_alike(model.finished, other.finished)
    assert lies(model, "A") == pytest.approx(lies(model, "D"))


def test_a_partner_must_be_as_free() -> None:
    """A brim whose partner lies under another flap is not folded by force, nor another instead."""
    found = refused(
        *HAT[:3],
        "valley along line K L, moving midpoint of the bottom edge",
        "mountain along line K L, moving midpoint of the bottom edge; turn over",
        "repeat step 4 on C",
        sheet=A5,
    )
    assert found.code in ("repeat-on-itself", "folded-since")


def test_one_corner_more_on_paper_not_alike() -> None:
    """One corner lies at the centre; of the others, each is the partner of each."""
    first = (CENTRE, "valley A to O", "valley B to 1/3 of B O")
    one = folded(*first, "repeat step 3 on D")
    assert states_alike(one.finished, folded(*first, "valley D to 1/3 of D O").finished)


def test_what_differs_is_said_where_no_partner_is() -> None:
    """The near brim is shorter: nothing lies like it behind."""
    found = refused(
        "valley top edge onto line 1 cm from the bottom edge",
        "valley along line 2 cm from the bottom edge, moving C",
        "repeat step 2 behind",
    )
    assert found.code == "no-symmetry"
    assert "not alike" in found.message


def states_alike(one: State, other: State) -> bool:
    """Whether every place of the sheet lies the same, with the same layers over each other."""
    alike = congruences(one, other)
    return any(s.is_identity and same_isometry(s.motion, IDENTITY) for s in alike)


# --- the other side ----------------------------------------------------------------------------


@pytest.mark.parametrize("where", ["on the other side", "on the left", "on D"])
def test_the_other_side(where: str) -> None:
    """Kite base: shared/checks/values.md, section 5: silhouette 2 - sqrt 2 (derived)."""
    model = folded(
        "crease left corner to right corner as d",
        "valley edge A B onto d",
        f"repeat step 2 {where}",
        sheet="sheet square 100 mm, corner A at the bottom\n",
    )
    assert covered(model) == pytest.approx(2 - 2**0.5)
    assert symmetry_count(model) == 2


@pytest.mark.parametrize(
    "where",
    ["on the other side and behind", "behind and on the other side", "on the left and behind"],
)
def test_three_more_in_any_order(where: str) -> None:
    model = folded(
        "mark M at midpoint of C D; valley line C M onto line C O",
        f"repeat step 1 {where}",
        sheet=PRELIMINARY,
    )
    assert sign(model, 2).times == 3
    assert symmetry_count(model) == 4


def test_there_is_no_other_side() -> None:
    kite = (
        "crease left corner to right corner as d",
        "valley edge A B onto d",
        "repeat step 2 on the right",
    )
    found = refused(*kite, sheet="sheet square 100 mm, corner A at the bottom\n")
    assert found.code == "repeat-on-itself"
    again = refused(
        *kite[:2],
        "valley edge A D onto d",
        "repeat steps 2 to 3 on the other side",
        sheet="sheet square 100 mm, corner A at the bottom\n",
    )
    assert again.code == "repeat-on-itself"


def test_the_other_side_and_behind() -> None:
    model = folded(
        "mark M at midpoint of C B; valley line C M onto line C O",
        "repeat step 1 on the other side and behind",
        sheet=PRELIMINARY,
    )
    assert sign(model, 2).times == 3
    assert symmetry_count(model) == 4
    assert captions(model)[-1] == "Repeat step 1 on the other side and behind."


# --- flaps by name -------------------------------------------------------------------------------


def test_flaps_by_name() -> None:
    model = folded(CENTRE, "valley A to O", "repeat step 2 on C and B")
    assert [lies(model, c) for c in "ABCD"] == [(50, 50), (50, 50), (50, 50), (0, 100)]
    assert captions(model)[-1] == "Repeat step 2 on flaps C and B."
    assert dict(model.steps[2].panels[0].labels).keys() == {"B", "C"}


@pytest.mark.parametrize(
    ("where", "code"),
    [
        ("on A", "repeat-on-itself"),
        ("on C and C", "same-flap"),
        ("on C, 2 times", "repeat-times"),
        ("on Z", "unknown-name"),
        ("on the left", "repeat-on-itself"),
        ("on the other flaps", "repeat-times"),
        ("near C", "repeat-what"),
        (f", {MOST_TIMES + 1} times", "too-many-repeats"),
        (", 1.5 times", "repeat-times"),
        ("again behind", "repeat-what"),
        ("behind as k", "name-taken"),
        (", 3 times, as m", "name-it"),
    ],
)
def test_wrong_words(where: str, code: str) -> None:
    assert refused(CENTRE, "valley A to O as k", f"repeat step 2 {where}").code == code


# --- anything else -------------------------------------------------------------------------------

STARTS = (
    ("crease A to C",),
    ("valley bottom edge onto top edge",),
    ("crease left edge onto right edge as v", "valley left edge onto v"),
    (CENTRE, "valley A to O", "valley C to O"),
)
FOLDS = (
    "valley C to 1/3 of C A",
    "valley A to 1/4 of A C",
    "mountain B to 1/5 of B D",
    "valley top right corner to the centre",
    "crease bottom left corner to the centre",
    "mark X at 1/3 of A B; crease through X perpendicular to edge A B",
)
WHERES = ("behind", "on the other side", ", 1 times", ", 3 times", "on C", "on D", "again", "")


@examples(60)
@given(
    st.sampled_from(STARTS), st.sampled_from(FOLDS), st.lists(st.sampled_from(WHERES), max_size=2)
)
def test_a_repeat_folds_soundly_or_is_refused(
    start: tuple[str, ...], fold: str, wheres: list[str]
) -> None:
    """Every state passes the validator, every refusal is a diagnostic with a place in the script."""
    from foldscript.source.diagnostics import FoldscriptError

    from ..scripts import folds

    last = len(start) + 1
    steps = (*start, fold, *(f"repeat step {last} {where}" for where in wheres))
    try:
        folds(script(*steps))
    except FoldscriptError as error:
        (found,) = error.diagnostics
        assert found.span is not None
        assert found.message
        return
    folded(*steps)


def test_a_repeat_is_the_image() -> None:
    """Places of the sheet go where the mirror image of the original went."""
    model = folded(
        "crease left edge onto right edge as v",
        "valley A to 1/3 of A C",
        "repeat step 2 on the other side",
    )
    for x, y in [(5, 3), (10, 10), (40, 20), (20, 70)]:
        a, b = spot(model, x, y), spot(model, 100 - x, y)
        assert b == (pytest.approx(100 - a[0]), pytest.approx(a[1]))


def test_what_lies_in_the_way_would_do_so_too_where_it_is_written_out() -> None:
    found = refused(
        "valley along line 4 cm from the left edge, moving A", "repeat step 1 on the right"
    )
    assert found.code == "blocked"
    assert found.hints[-1].startswith("or repeat it before the fold that brings that paper there")
