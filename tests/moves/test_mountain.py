"""Mountain fold: behind what stays, and only where that is free."""

from __future__ import annotations

import pytest

from ..scripts import captions, folded, layers_at, lies, refused

TRIANGLE = "valley A to C"


def test_the_flap_lies_behind() -> None:
    model = folded("mountain A to C")
    assert lies(model, "A") == (100, 100)
    state = model.finished
    flap = next(f for f in range(2) if not state.facets[f].shows_front)
    assert state.above(1 - flap, flap)
    assert captions(model) == ["Fold corner A behind, to corner C."]


def test_the_hindmost_layer_moves() -> None:
    model = folded(TRIANGLE, "mountain top right corner to midpoint of B D, 1 layer")
    assert lies(model, "C") == pytest.approx((50, 50))
    assert lies(model, "A") == (100, 100)
    assert layers_at(model, 60, 60) == 3


def test_all_layers() -> None:
    model = folded(TRIANGLE, "mountain top right corner to midpoint of B D, all layers")
    assert lies(model, "C") == lies(model, "A") == pytest.approx((50, 50))


def test_valley_seen_from_the_other_side() -> None:
    """Turning over, a valley fold and turning back is a mountain fold."""
    one = folded("mountain A to midpoint of C D").finished
    other = folded("turn over", "valley A to midpoint of C D", "turn over").finished
    for corner in "ABC":  # turning over twice may shift the whole model
        a, b = (
            [x - y for x, y in zip(lies(s, corner), lies(s, "D"), strict=True)]
            for s in (one, other)
        )
        assert a == pytest.approx(b)
    front = [s.facets[i].shows_front for s in (one, other) for i in (0, 1)]
    above = [s.above(0, 1) for s in (one, other)]
    assert (front[:2] == front[2:]) == (above[0] == above[1])


def test_blocked_says_what_lies_behind() -> None:
    found = refused(TRIANGLE, "mountain A to midpoint of B D")
    assert found.code == "blocked"
    assert "the layer with corner A cannot move" in found.message
    assert "it lies in front of the layer with corner C" in found.message
    assert any("'valley'" in hint for hint in found.hints)


def test_cannot_reach() -> None:
    found = refused("mark M at 1/4 of A B", "mountain A onto edge B C, through M")
    assert found.code == "cannot-reach"
    assert "corner A is 50 mm too short to reach edge BC" in found.message
