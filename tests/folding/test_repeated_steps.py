"""Repeats said again, nested, of ranges; what their folds are called; what is refused."""

from __future__ import annotations

import math

import pytest

from foldscript.folding.steps import Model
from foldscript.geometry.isometries import inverse
from foldscript.paper.signs import RepeatSign
from foldscript.paper.symmetry import symmetries

from ..sample_scripts import sample
from ..scripts import covered, folded, layers_at, lies, refused

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


# --- the same words again ------------------------------------------------------------------------


def test_again() -> None:
    """Halves of halves: 8 layers after three folds."""
    model = folded("valley bottom edge onto top edge", "repeat step 1 again, 2 times")
    assert covered(model) == pytest.approx(1 / 8)
    assert layers_at(model, 50, 95) == 8


def test_without_a_word_it_is_again() -> None:
    model = folded("valley bottom edge onto top edge", "repeat step 1")
    assert covered(model) == pytest.approx(1 / 4)


def test_turned_over_it_is_the_face_in_front() -> None:
    first = (
        "valley bottom edge onto top edge",
        "valley top right corner to midpoint of bottom edge",
    )
    model = folded(*first, "turn over", "repeat step 2")
    assert lies(model, "B") == lies(model, "D") == (50, 50)


def test_again_may_turn_over() -> None:
    model = folded("turn over; rotate 90 degrees clockwise", "repeat step 1 again")
    assert [lies(model, c) for c in "AC"] == [(100, 100), (0, 0)] or len(model.steps) == 2


def test_again_that_does_not_fold() -> None:
    found = refused("valley A to C", "repeat step 1 again")
    assert found.code == "cannot-reach"
    assert "as it lies now" in found.message
    assert found.words == "repeat step 1 again"


# --- ranges, nests, names ------------------------------------------------------------------------


def test_a_range_that_holds_a_repeat() -> None:
    model = folded(
        "mark M at midpoint of C B; valley line C M onto line C O",
        "repeat step 1 on the other side",
        "repeat steps 1 to 2 behind",
        sheet=PRELIMINARY,
    )
    assert symmetry_count(model) == 4
    assert sign(model, 3) == RepeatSign(1, 2, 1, sign(model, 3).at, behind=True)


def test_a_repeat_of_a_repeat() -> None:
    model = folded(CENTRE, "valley A to O", "repeat step 2 on B", "repeat step 3 on D")
    assert lies(model, "D") == (50, 50)


def test_bird_base_by_repeating_behind() -> None:
    """shared/checks/values.md, section 5: rhombus with diagonals 1 and sqrt 2 - 1 (derived)."""
    model = folded(
        "mark M at midpoint of C B; mark N at midpoint of C D;"
        "crease line C M onto line C O as k1; crease line C N onto line C O as k2;"
        "mark P where k1 meets line O M; mark Q where k2 meets line O N; crease through P Q as k3",
        "petal C along k3",
        "repeat steps 1 to 2 behind",
        sheet=PRELIMINARY,
    )
    assert covered(model) == pytest.approx((2**0.5 - 1) / 2)
    assert symmetry_count(model) == 4


def test_names_get_primes() -> None:
    model = folded(
        CENTRE,
        "mark M at midpoint of A O; valley A to O as k",
        "repeat step 2, 3 times",
        "mark Z at midpoint of M' M'''",
        "unfold k''",
    )
    assert [lies(model, c) for c in "ABCD"] == [(50, 50), (50, 50), (100, 100), (50, 50)]


def test_as_names_the_crease() -> None:
    model = folded(CENTRE, "valley A to O", "repeat step 2 on C as k2", "unfold k2")
    assert lies(model, "C") == (100, 100)
    assert lies(model, "A") == (50, 50)


def test_unfolding_inside_a_range() -> None:
    model = folded(
        CENTRE, "valley A to O as k", "unfold k; valley A to 1/2 of A O", "repeat steps 2 to 3 on C"
    )
    assert lies(model, "C") == (75, 75)
    assert len(model.finished.creases) == 2


def test_what_the_eye_saw_is_paper_afterwards() -> None:
    """'Bottom left corner' of step 2 was corner A; the repeat takes the image of A, wherever it lies."""
    model = folded(
        CENTRE,
        "valley bottom left corner to O",
        "rotate 90 degrees clockwise",
        "repeat step 2 on C",
    )
    assert lies(model, "C") == (50, 50)


def test_a_turned_model_is_repeated_in_its_place() -> None:
    model = folded(CENTRE, "valley A to O", "rotate 30 degrees clockwise", "repeat step 2, 3 times")
    assert symmetry_count(model) == 8


def test_left_and_right_change_in_a_mirror() -> None:
    """Swung to one side in front and, as seen from behind, to the same side behind."""
    one = folded(
        "mark M at midpoint of C B; swing M right", "repeat step 1 behind", sheet=PRELIMINARY
    )
    assert symmetry_count(one) == 4


@pytest.mark.parametrize(
    ("steps", "code", "words"),
    [
        (("repeat step 4 behind",), "step-not-done", "step 4"),
        (("valley A to C", "repeat steps 1 to 2 behind"), "repeat-inside-itself", "steps 1 to 2"),
        (("valley A to C", "repeat step 0 behind"), "no-such-step", "step 0"),
        (("valley A to C; turn over", "repeat step 1 behind"), "turns-inside", "step 1"),
        (("valley A to C", "repeat behind"), "repeat-what", "repeat behind"),
    ],
)
def test_wrong_steps(steps: tuple[str, ...], code: str, words: str) -> None:
    found = refused(*steps)
    assert (found.code, found.words) == (code, words)


def test_a_step_that_repeats_itself_is_told_how_to_end_it() -> None:
    found = refused("crease A to C", "valley A to centre; repeat step 2 on the other side")
    assert found.code == "repeat-inside-itself"
    assert found.hints == (
        "write 'step' on a line of its own above this: what stands over it is step 2 then, and finished",
        "or for what comes before this step, say 'repeat step 1 on the other side'",
    )
    folded("crease A to C", "valley A to centre", "repeat step 2 on the other side")


def test_a_step_that_begins_with_its_own_repeat_is_told_the_steps_before() -> None:
    found = refused("valley A to C", "valley B to D", "repeat steps 1 to 3")
    assert found.code == "repeat-inside-itself"
    assert found.hints == ("for what comes before this step, say 'repeat steps 1 to 2'",)


def test_folded_since() -> None:
    found = refused(CENTRE, "valley A to O", "valley C to 1/4 of C O", "repeat step 2 on C")
    assert found.code == "folded-since"
    assert "near" in found.message or "mm from corner C" in found.message
    assert found.message.endswith(": step 3 has moved it since (in step 4)")
    assert found.hints[0].startswith("repeat before step 3: ")


def test_paper_that_the_step_itself_has_moved_along() -> None:
    """The door at the left takes the upper left corner along: there is no whole door at the top."""
    found = refused("valley left edge onto centre line", "repeat step 1 at the top")
    assert found.code == "folded-since"
    assert ": step 1 itself has moved it" in found.message
    assert any("see in its figure what step 1 moves" in hint for hint in found.hints)
    assert not any("repeat before" in hint for hint in found.hints)


def test_paper_that_was_moved_in_the_step_of_the_repeat() -> None:
    found = refused(CENTRE, "valley A to O", "valley C to 1/4 of C O; repeat step 2 on C")
    assert ": it has been moved in this step already" in found.message


def test_looking_back_before_the_range() -> None:
    found = refused(CENTRE, "valley A to O", "unfold to step 1", "repeat step 3 behind")
    assert found.code in ("repeat-looks-back", "no-symmetry", "repeat-on-itself")


def test_nests_have_a_limit() -> None:
    steps = ["turn over", *(f"repeat step {k} again, 9 times" for k in range(1, 8))]
    assert refused(*steps).code == "too-many-moves"
    deep = ["turn over", *(f"repeat step {k} again" for k in range(1, 30))]
    assert refused(*deep).code == "too-deep"


@pytest.mark.parametrize("where", ["behind", "on the right", ", 3 times", "on C"])
def test_nothing_folded(where: str) -> None:
    """A step that only names a point has no place of its own."""
    found = refused("mark N at 1/3 of A D", f"repeat step 1 {where}")
    assert (found.code, found.words) == ("nothing-to-repeat", "step 1")


def test_a_repeat_behind_points_at_paper_that_is_seen() -> None:
    """The bird's back wing stands up behind the front one, which is folded down."""
    bird = sample("flapping-bird").model
    at, before, after = sign(bird, 5).at, bird.steps[4].before, bird.steps[4].after
    assert at is not None
    top = before.facets[before.facets_at(at)[0]]
    assert math.dist(after.where(inverse(top.place)(at)), at) > 0.1  # it is what comes down
