"""Doubled flaps that lie folded in come out, and the fold between their halves bends the other way."""

from __future__ import annotations

from pathlib import Path

import pytest

from foldscript.building.script import Script

from ..laws.images import IDENTITY, IMAGES, Image
from ..laws.outcomes import broken, unlike
from ..scripts import captions, folded, lies, refused

#: A diagonal fold, D on B, and the tip A pushed in between its own layers.
IN = (
    "mark P at 1/3 of A B; mark Q at 1/3 of A C",
    "valley D to B",
    "inside reverse A through P Q",
)
GOLDFISH = Path(__file__).resolve().parents[2] / "samples" / "goldfish.foldscript"


def test_what_was_pushed_in_comes_out_as_it_was() -> None:
    model = folded(*IN, "turn inside out A along line P Q")
    assert unlike(folded(*IN, "unfold").finished, model.finished, IDENTITY, over=False) == ""
    assert captions(model)[-1].startswith("Turn the flap with corner A inside out along line PQ:")


def test_no_crease_is_new_and_the_fold_stays_as_one() -> None:
    before, after = (
        step.after for step in folded(*IN, "turn inside out A along line P Q").steps[-2:]
    )
    assert len(after.creases) > len(before.creases)
    assert sum(j.folded for j in after.joints) < sum(j.folded for j in before.joints)


def test_the_tail_of_the_goldfish() -> None:
    """The body is a square of 75 / sqrt(2) mm that stands on a corner, the tail in it with its tip A at the
    top. Mirrored in the lower left side, A comes as far to the lower left as that side is long, twice."""
    steps = Script(GOLDFISH).model.steps
    turned = next(
        k for k, step in enumerate(steps) if "inside out" in str(step.wording[0].template)
    )
    before, after = steps[turned - 1].after, steps[turned].after
    top, tip = lies(before, "A"), lies(after, "A")
    assert (tip[0] - top[0], tip[1] - top[1]) == pytest.approx((-75, -75))
    front, back = ((0, 1e-3), (1e-3, 0))
    for at in (front, back):
        (here,) = after.facets_on_sheet(at)
        (there,) = before.facets_on_sheet(at)
        assert after.facets[here].shows_front != before.facets[there].shows_front


def test_a_flap_without_halves() -> None:
    found = refused(
        "mark P at 1/4 of A B; mark Q at 1/4 of D C",
        "valley bottom left corner to midpoint of A B",
        "turn inside out A along line P Q",
    )
    assert found.code == "no-halves"
    assert found.words == "A"


def test_a_line_that_is_no_fold() -> None:
    found = refused("turn inside out A along line B D")
    assert found.code == "no-fold-there"


def test_the_larger_part_is_no_flap() -> None:
    """C is on all of the sheet but its tip: about the line PQ that would turn round the tip, which stays."""
    found = refused(*IN, "turn inside out C along line P Q")
    assert found.code == "turns-most"
    assert found.words == "C"


def test_what_is_left_out_is_asked_for() -> None:
    assert refused(*IN, "turn inside out A").code == "turn-what"
    assert refused(*IN, "turn inside out P along line P Q").code == "point-on-line"


@pytest.mark.parametrize("image", [i for i in IMAGES if not i.over], ids=lambda image: image.name)
def test_an_image_is_turned_as_the_image(image: Image) -> None:
    statements = [line.strip() for step in IN for line in step.split(";")]
    assert broken([*statements, "turn inside out A along line P Q"], image) == ""


@pytest.mark.parametrize(
    "words", ["inside reverse A", "outside reverse A", "pull out A", "valley A", "mountain A"]
)
def test_words_for_other_moves_lead_here(words: str) -> None:
    """Nothing bends along a fold that is there: a reverse fold was once drawn there, and did not reverse. A
    valley fold there was once told to choose a line that crosses the flap."""
    found = refused(*IN, f"{words} along line P Q")
    assert any("turn inside out corner A along ..." in hint for hint in found.hints)
