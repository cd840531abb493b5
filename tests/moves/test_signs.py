"""Moves that only show a sign, and those after which the model is flat no longer."""

from __future__ import annotations

import pytest

from foldscript.paper.signs import Arrow, GuideLine, PointSign

from ..scripts import captions, folded, refused

FLAP = "valley A to C"


@pytest.mark.parametrize(
    ("line", "kind", "caption"),
    [
        ("push B", "push", "Push with a finger at corner B."),
        ("push B and D", "push", "Push with a finger at corners B and D."),
        ("pull B", "pull", "Pull gently at corner B."),
        ("hold B", "hold", "Hold the paper at corner B."),
        ("look from the left edge", "look", "Look at the model from the left edge."),
        ("look at B", "look", "Look closely at corner B."),
        ("detail B", "detail", "The next steps are folded at corner B."),
    ],
)
def test_signs_that_inform(line: str, kind: str, caption: str) -> None:
    """The paper stays, and may be folded on."""
    model = folded(FLAP, line, "valley B to D")
    step = model.steps[1]
    assert step.after == step.before
    signs = [s for s in step.panels[0].signs if isinstance(s, PointSign)]
    assert {s.kind for s in signs} == {kind}
    assert captions(model)[1] == caption


def test_a_pull_leads_away() -> None:
    """From the middle of the paper, or from what is held."""
    (plain,) = folded("pull A").steps[0].panels[0].signs
    (held,) = folded("pull A from B").steps[0].panels[0].signs
    assert (plain, held) == (
        PointSign("pull", (0.0, 0.0), (-0.5, -0.5)),
        PointSign("pull", (0.0, 0.0), (-1.0, 0.0)),
    )


def test_a_push_may_have_a_direction() -> None:
    model = folded("push A to C")
    (sign,) = model.steps[0].panels[0].signs
    assert sign == PointSign("push", (0.0, 0.0), (1.0, 1.0))


@pytest.mark.parametrize(
    ("line", "kind", "why"),
    [
        ("inflate at B", "inflate", "it was inflated"),
        ("blow into B", "blow", "it was blown open"),
        ("curl B to D", "curl", "a part was curled"),
        ("squeeze B and D", "squeeze", "it was squeezed open"),
        ("shape", "open-out", "it was opened out and shaped"),
        ("shape at B", "open-out", "it was opened out and shaped"),
    ],
)
def test_steps_that_leave_the_plane(line: str, kind: str, why: str) -> None:
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


@pytest.mark.parametrize(
    "line", ["push", "pull", "hold", "look from 3 times", "inflate", "curl to A"]
)
def test_refusals(line: str) -> None:
    found = refused(line)
    assert found.code == "sign-where"
    assert found.hints


def test_points_that_lie_together_get_one_sign_with_their_number() -> None:
    model = folded(FLAP, "curl A, B and C")
    signs = [s for s in model.steps[1].panels[0].signs if isinstance(s, PointSign)]
    assert [(pytest.approx(s.at, abs=1e-9), s.count) for s in signs] == [
        ((1.0, 1.0), 2),
        ((1.0, 0.0), 1),
    ]
    assert captions(model)[1] == "Curl the paper at corners A, B and C."


def test_what_is_shaped_may_be_brought_to_a_place() -> None:
    """An arrow each, and a ring where they land; the model is flat no longer."""
    model = folded("shape A and C to the centre")
    panel = model.steps[0].panels[0]
    guides = [sign for sign in panel.signs if isinstance(sign, GuideLine)]
    assert [sign.through for sign in guides] == [(0.5, 0.5)] * 2  # the centre is found by both
    assert tuple(sign for sign in panel.signs if sign not in guides) == (
        *(Arrow("raise", end, (0.5, 0.5)) for end in ((0.0, 0.0), (1.0, 1.0))),
        PointSign("landmark", (0.5, 0.5)),
    )
    assert [name for name, _ in panel.letters] == ["A", "C"]
    assert captions(model) == ["Lift the paper at corners A and C and bring it to the centre."]
    assert refused("shape A to the centre", "valley A to C").code == "not-flat-any-more"


def test_shaping_at_a_slit_opens_it() -> None:
    gate = ("crease A to C", "mark O at the centre", "valley A to O", "valley C to O", "shape at O")
    (sign,) = folded(*gate).steps[4].panels[0].signs
    assert isinstance(sign, PointSign)
    assert sign.opens is None  # two tips meet here, no edges
    doors = (
        "crease the left edge onto the right edge as middle",
        "valley the left edge onto middle",
        "valley the right edge onto middle",
        "shape at the centre",
    )
    (sign,) = folded(*doors).steps[3].panels[0].signs
    assert isinstance(sign, PointSign)
    assert sign.slit
    assert sign.opens is not None
    assert sorted(sign.opens) == [pytest.approx((0.5, 0.0)), pytest.approx((0.5, 1.0))]


def test_a_breath_may_be_drawn_flat() -> None:
    """The sign stands, and no pose is looked for."""
    for line, goals in (("inflate at A", 1), ("inflate at A, drawn flat", 0)):
        (record,) = folded(line).steps[0].records
        assert len(record.goals) == goals
        assert [s.kind for s in record.signs if isinstance(s, PointSign)] == ["inflate"]
