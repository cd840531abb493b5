"""Any moves in any order on any sheet: what is accepted is sound, what is not is a diagnostic.

The statements are drawn without a look at the paper, so most make no sense; that is the point.
"""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foldscript.geometry.lines import distance
from foldscript.geometry.polygons import area
from foldscript.paper.state import State
from foldscript.source.diagnostics import FoldscriptError, Severity

from ..conftest import assert_sound, examples
from ..laws.random_sheets import SheetWords
from ..scripts import folds, script, sheet_area


@examples(50)
@given(st.randoms(use_true_random=False))
def test_accepted_states_are_sound_and_refusals_are_told(rnd: random.Random) -> None:
    words = SheetWords(rnd)
    done: list[str] = []
    for _ in range(rnd.randint(4, 12)):
        statement = words.statement()
        try:
            folds(script(*done, statement, sheet=words.sheet))
        except FoldscriptError as error:
            for diagnostic in error.diagnostics:
                assert diagnostic.code
                assert diagnostic.message
                assert diagnostic.span is not None
                if diagnostic.severity is Severity.ERROR:
                    assert diagnostic.message.endswith(f"(in step {len(done) + 1})")
            continue
        done.append(statement)
        words.accept(statement)
    if done:
        model = folds(script(*done, sheet=words.sheet))
        assert_sound(model)
        assert_even([step.after for step in model.steps], sheet_area(model.sheet))


def assert_even(states: list[State], whole: float) -> None:
    """Areas add up, and shared boundaries agree, within 1e-9 of the sheet's size."""
    for state in states:
        assert sum(area(f.outline) for f in state.facets) == pytest.approx(whole, abs=1e-9)
        for joint in state.joints:
            a, b = state.facets[joint.a].place, state.facets[joint.b].place
            assert all(distance(a(p), b(p)) < 1e-9 for p in joint.segment)
