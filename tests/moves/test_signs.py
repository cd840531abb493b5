"""Moves that only show a sign, and those after which the model is flat no longer."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import PointSign, Spot

from ..scripts import captions, folded, refused

FLAP = "valley A to C"


@pytest.mark.parametrize(
    ("line", "kind", "caption"),
    [
        ("push B", Spot.PUSH, "Push with a finger at corner B."),
        ("push B and D", Spot.PUSH, "Push with a finger at corners B and D."),
        ("hold B", Spot.HOLD, "Hold the paper at corner B."),
        ("look from the left edge", Spot.LOOK, "Look at the model from the left edge."),
        ("look at B", Spot.LOOK, "Look closely at corner B."),
        ("detail B", Spot.DETAIL, "The next steps are folded at corner B."),
    ],
)
def test_signs_that_inform(line: str, kind: Spot, caption: str) -> None:
    """The paper stays, and may be folded on."""
    model = folded(FLAP, line, "valley B to D")
    step = model.steps[1]
    assert step.after == step.before
    signs = [s for s in step.panels[0].signs if isinstance(s, PointSign)]
    assert {s.kind for s in signs} == {kind}
    assert captions(model)[1] == caption


def test_a_push_may_have_a_direction() -> None:
    model = folded("push A to C")
    (sign,) = model.steps[0].panels[0].signs
    assert sign == PointSign(Spot.PUSH, (0.0, 0.0), (1.0, 1.0))


@pytest.mark.parametrize(
    ("line", "kind", "why"),
    [
        ("inflate at B", Spot.INFLATE, "it was inflated"),
        ("blow into B", Spot.BLOW, "it was blown open"),
        ("curl B to D", Spot.CURL, "a part was curled"),
        ("squeeze B and D", Spot.SQUEEZE, "it was squeezed open"),
        ("shape", Spot.OPEN_OUT, "it was opened out and shaped"),
        ("shape at B", Spot.OPEN_OUT, "it was opened out and shaped"),
    ],
)
def test_steps_that_leave_the_plane(line: str, kind: Spot, why: str) -> None:
    """The state stays the last flat one; turning and signs are fine, a fold is not."""
    model = folded(FLAP, line, "turn over", "rotate half turn", "hold D")
    step = model.steps[1]
    assert step.after == step.before
    assert {s.kind for s in step.panels[0].signs if isinstance(s, PointSign)} == {kind}
    found = refused(FLAP, line, "turn over", "valley C to A")
    assert found.code == "not-flat-any-more"
    assert f"{why} in step 2" in found.message
    assert "'valley' needs a flat model" in found.message
    assert found.words == "valley C to A"


def test_what_is_left_flat_before_is_no_matter() -> None:
    """A later fold is refused before its words are weighed."""
    assert refused("shape", "unfold").code == "not-flat-any-more"
    assert refused("shape", "cut from A to C").code == "not-flat-any-more"


def test_breath_carries_its_caution() -> None:
    model = folded("inflate at A", "blow into B")
    assert sum("one mouth" in note.lower() for note in model.notes) == 1
    assert all("One mouth for each model." in c for c in captions(model))


@pytest.mark.parametrize("line", ["push", "hold", "look from 3 times", "inflate", "curl to A"])
def test_refusals(line: str) -> None:
    found = refused(line)
    assert found.code == "sign-where"
    assert found.hints
