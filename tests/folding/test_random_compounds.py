"""Moves drawn at random on traditional bases: what is accepted is sound, what is not is told."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.source.diagnostics import FoldscriptError

from ..conftest import assert_sound, examples
from ..laws.random_bases import BASES, BaseWords
from ..scripts import folds, script


@pytest.mark.parametrize("base", BASES)
@examples(3)
@given(st.randoms(use_true_random=False))
def test_accepted_states_are_sound_and_refusals_are_told(base: str, rnd: random.Random) -> None:
    words = BaseWords(rnd, base)
    done: list[str] = []
    for _ in range(rnd.randint(3, 8)):
        move = words.statement()
        try:
            folds(script(*done, move, sheet=words.sheet))
        except FoldscriptError as error:
            for diagnostic in error.diagnostics:
                assert diagnostic.code
                assert diagnostic.message
                assert diagnostic.span is not None
            continue
        done.append(move)
        words.accept(move)
    if done:
        assert_sound(folds(script(*done, sheet=words.sheet)))


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
