"""Compound moves drawn at random on traditional bases: what is accepted is sound, what is not is told.

The words are drawn from what lies about: corners of the sheet, corners that the eye sees, the base's
creases. Most do not fit the paper; those that do give states that no example would have thought of.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foldscript.source.diagnostics import FoldscriptError

from ..conftest import assert_sound
from ..scripts import folds, script

BASES = ("preliminary", "waterbomb", "kite", "fish", "bird", "blintz", "cupboard")
POINTS = (
    *("A", "B", "C", "D", "top corner", "bottom corner", "left corner", "right corner", "centre"),
    *("midpoint of A B", "midpoint of C D", "1/3 of A C", "top layer at centre"),
)
LINES = (
    *("centre line", "horizontal centre line", "bottom left edge", "top right edge", "line A C"),
    *("line through centre at 30 degrees to horizontal centre line", "line B D"),
    "line through 1/3 of A C perpendicular to line A C",
)
FORMS = (
    *("inside reverse {P} to {Q}", "inside reverse {P} along {L}", "outside reverse {P} along {L}"),
    *(
        "squash {P} onto {L}",
        "squash {L} onto {M}",
        "petal {P} along {L}",
        "petal {P} through {Q} {R}",
    ),
    *("open sink {P} along {L}", "closed sink {P} along {L}", "spread sink {P} along {L}"),
    *(
        "rabbit ear {P} between {Q} and {R} to {Q}",
        "double rabbit ear {P} between {Q} and {R} to {R}",
    ),
    *("crimp {P} along {L} and {M}", "swivel {L} onto {M}", "swing {P} to {Q}", "pull out {P}"),
    *("tuck {P} to {Q}, under {R}", "open out {P} and {Q}", "collapse valley {L}, mountain {M}"),
    *("valley {P} to {Q}", "mountain {P} to {Q}", "valley {L} onto {M}", "turn over", "unfold"),
    *("repeat step 1 behind", "repeat step 1 on the other side", "repeat step 1, 3 times"),
)


@st.composite
def statement(draw: st.DrawFn) -> str:
    """One move with its holes filled."""
    point, line = st.sampled_from(POINTS), st.sampled_from(LINES)
    return draw(st.sampled_from(FORMS)).format(
        P=draw(point), Q=draw(point), R=draw(point), L=draw(line), M=draw(line)
    )


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(BASES), st.lists(statement(), min_size=3, max_size=8))
def test_accepted_states_are_sound_and_refusals_are_told(base: str, moves: list[str]) -> None:
    start = f"start from {base} base\n"
    done: list[str] = []
    for move in moves:
        try:
            folds(script(*done, move, sheet=start))
        except FoldscriptError as error:
            for diagnostic in error.diagnostics:
                assert diagnostic.code
                assert diagnostic.message
                assert diagnostic.span is not None
            continue
        done.append(move)
    if done:
        assert_sound(folds(script(*done, sheet=start)))


@pytest.mark.parametrize(
    ("base", "move"),
    [
        ("preliminary", "inside reverse right corner to centre"),
        ("preliminary", "squash right corner onto centre line"),
        ("waterbomb", "valley bottom left corner to top corner"),
        ("bird", "valley top corner to bottom corner"),
    ],
)
def test_some_of_these_words_do_fold(base: str, move: str) -> None:
    """The random test would prove nothing if everything were refused."""
    try:
        assert_sound(folds(script(move, sheet=f"start from {base} base\n")))
    except FoldscriptError as error:
        pytest.fail(error.diagnostics[0].message)
