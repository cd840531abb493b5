"""Crimps: inside and outside, of two and of many layers; lines that cross or lean the wrong way."""

from __future__ import annotations

import math

import pytest

from foldscript.folding.steps import Model
from foldscript.geometry.lines import midpoint
from foldscript.paper.signs import Arrow, FoldLine, Sense

from ..scripts import captions, folded, lies, refused, spot
from .starts import DIAMOND, NARROWED, lines, signs

#: Square folded on the diagonal A C, the spine; the tip C. Lines from S to P and to Q.
HALF = "valley B to D; mark S at 3/5 of A C; mark P at 1/5 of D C; mark Q at 2/5 of D C"
LINES = "along line S P and line S Q"


def test_the_tip_turns_about_the_pivot() -> None:
    """Two reflections in lines through S turn the tip by twice the angle between them (derived)."""
    model = folded(HALF, f"crimp C {LINES}")
    s, c = (60.0, 60.0), lies(model, "C")
    assert math.dist(c, s) == pytest.approx(40 * math.sqrt(2))
    between = math.atan2(100 - 60, 20 - 60) - math.atan2(100 - 60, 40 - 60)
    turned = math.atan2(c[1] - s[1], c[0] - s[0]) - math.atan2(1, 1)
    assert turned == pytest.approx(2 * between)


def test_inside_is_two_reverse_folds() -> None:
    """The same paper as reversing the tip in and, along the second line's image, out again."""
    whole = folded(HALF, f"crimp C {LINES}").finished
    assert whole.facets_at((0.6, 0.7)) != ()
    depth = _tip_depth(folded(HALF, f"crimp inside C {LINES}"))
    assert depth == (2, 3)


def test_outside_goes_around() -> None:
    assert _tip_depth(folded(HALF, f"crimp outside C {LINES}")) == (0, 5)


def _tip_depth(model: Model) -> tuple[int, int]:
    """Places in the stack, from the top, of the two layers with the tip."""
    state = model.finished
    order = state.top_down(range(len(state.facets)))
    tips = [k for k, i in enumerate(order) if (1.0, 1.0) in state.facets[i].outline]
    return tips[0], tips[-1]


def test_parallel_lines_shorten_the_flap() -> None:
    """Two lines square to the spine, d apart, bring the tip back by 2 d (derived)."""
    model = folded(
        "valley B to D; mark E at 3/5 of A C; mark F at 4/5 of A C",
        "crimp C along line through E perpendicular to line A C "
        "and line through F perpendicular to line A C",
    )
    assert lies(model, "C") == pytest.approx((60, 60))
    assert spot(model, 0, 0) == (0, 0)


def test_signs() -> None:
    """Inside: the front layer gets a mountain nearer the body and a valley nearer the tip."""
    for words, near in (("", Sense.MOUNTAIN), ("outside ", Sense.VALLEY)):
        model = folded(HALF, f"crimp {words}C {LINES}")
        assert lines(model) == {Sense.MOUNTAIN: 2, Sense.VALLEY: 2}
        before = model.steps[-1].before
        front = before.top_down(range(len(before.facets)))[0]
        creased = [
            (midpoint(*seg), sign.sense)
            for sign in signs(model)
            if isinstance(sign, FoldLine)
            for facet, seg in sign.parts
            if facet == front
        ]
        nearer_body = max(creased, key=lambda c: math.dist(c[0], (1, 1)))
        assert nearer_body[1] is near
        (arrow,) = [s for s in signs(model) if isinstance(s, Arrow)]
        assert arrow.act == "crimp"
        assert math.dist(arrow.head, (0.6, 0.6)) == pytest.approx(0.4 * math.sqrt(2))
    assert "pleat the front and the back of the flap alike" in captions(model)[-1]


def test_the_order_of_the_lines_does_not_matter() -> None:
    one = folded(HALF, "crimp C along line S P and line S Q")
    two = folded(HALF, "crimp C along line S Q and line S P")
    assert lies(one, "C") == lies(two, "C")


def test_of_many_layers() -> None:
    """The beak of a crane: the neck of a bird base, crimped near its tip."""
    model = folded(
        *NARROWED,
        "inside reverse A along line through X at 12 degrees to horizontal centre line",
        "mark E at 1/3 of A X; mark F at 1/4 of A X",
        "crimp A along line through E perpendicular to line A X "
        "and line through F perpendicular to line A X",
        sheet=DIAMOND,
    )
    a, x = lies(model, "A"), lies(model.steps[-2].after, "A")
    # the flaps of a bird base are exactly 1/2 long (derived)
    assert math.dist(a, x) == pytest.approx(50 * 2 * (1 / 3 - 1 / 4))


def test_lines_that_cross_on_the_flap_are_refused() -> None:
    told = refused(
        HALF + "; mark E at 1/2 of A C; mark F at 4/5 of A C", "crimp C along line E Q and line F P"
    )
    assert told.code == "creases-cross"
    assert told.words == "line F P"


def test_leaning_the_wrong_way_is_refused() -> None:
    """Lines that lean back past the square to the spine: the tip would cut its own spine (derived)."""
    told = refused(
        "valley B to D; mark E at 3/5 of A C; mark F at 4/5 of A C",
        "crimp C along line E D and line F D",
    )
    assert told.code == "locked-layers"
    assert told.hints[0].startswith("here 'crimp outside' would do")


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("crimp C along line S P", "unclear-fold"),
        ("crimp along line S P and line S Q", "unclear-fold"),
        ("crimp C along line S P and line P S", "one-line"),
        ("crimp C along line S P and line Q C", "on-the-line"),
    ],
)
def test_refused(words: str, code: str) -> None:
    assert refused(HALF, words).code == code


def test_a_single_layer_is_refused() -> None:
    told = refused(
        "mark E at 1/2 of A B; mark F at 1/2 of A D; mark G at 1/4 of A B; mark H at 1/4 of A D",
        "crimp A along line E F and line G H",
    )
    assert told.code == "one-layer"
