"""Mountain fold: behind what stays, and only where that is free."""

from __future__ import annotations

import pytest

from foldscript.moves import valley
from foldscript.moves.planning.in_the_way import blocked_refusal
from foldscript.moves.planning.request import Request
from foldscript.paper.flap import Blocked
from foldscript.paper.signs import Sense
from foldscript.source.diagnostics import Span

from ..scripts import captions, folded, layers_at, lies, refused, spot

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
    assert any("say 'valley A to midpoint of B D'" in hint for hint in found.hints)


def test_cannot_reach() -> None:
    found = refused("mark M at 1/4 of A B", "mountain A onto edge B C, through M")
    assert found.code == "cannot-reach"
    assert "corner A is 50 mm too short to reach edge BC" in found.message


#: The front flap's edge with E lies at two thirds of the height, its crease at one third.
FLAP = (
    "mark E at midpoint of A B; mark T at midpoint of D C; mark Q at midpoint of A D; "
    "valley E to 2/3 of E T"
)
ALONG = "along line through Q perpendicular to line E T"


def test_a_number_that_leaves_the_named_paper_is_refused() -> None:
    told = refused(FLAP, f"mountain E {ALONG}, 1 layer")
    assert told.code == "named-layer-stays"
    assert told.message == (
        "the layer at the back is not the flap named: the flap with point E is on layer 2 from there "
        "(in step 2)"
    )
    assert any("say 'tuck mountain' and add 'inside'" in hint for hint in told.hints)
    assert any("'2 layers'" in hint for hint in told.hints)


def test_what_that_refusal_hints_at_works() -> None:
    """E lies at 2/3 of the height; the fold at 1/2 brings it down to 1/3 (derived)."""
    both = folded(FLAP, f"mountain E {ALONG}, 2 layers")
    assert lies(both, "D") == pytest.approx((0, 0))
    assert spot(both, 50, 0) == pytest.approx((50, 100 / 3))
    tucked = folded(FLAP, f"tuck mountain E {ALONG}, inside")
    assert lies(tucked, "D") == pytest.approx((0, 100))
    assert spot(tucked, 50, 0) == pytest.approx((50, 100 / 3))


def test_a_blocked_flap_hints_at_the_tuck_where_that_works() -> None:
    told = refused(FLAP, f"mountain E {ALONG}")
    assert told.code == "blocked"
    assert any("say 'tuck mountain' and add 'inside'" in hint for hint in told.hints)


def test_the_same_in_front() -> None:
    """C lies under A: one layer in front is not C's."""
    told = refused(TRIANGLE, "valley C to midpoint of B D, 1 layer")
    assert told.code == "named-layer-stays"
    assert "the layer in front is not the flap named: corner C is on layer 2" in told.message
    model = folded(TRIANGLE, "valley C to midpoint of B D, 2 layers")
    assert lies(model, "A") == lies(model, "C") == pytest.approx((50, 50))


def test_two_layers_with_one_name_are_told_apart() -> None:
    state = folded(TRIANGLE).finished
    told = blocked_refusal(
        Request(
            state,
            valley.MOVE,
            (),
            Span(0, 0),
            "",
            describe=lambda _: "the layer with point P",
            locate=lambda _: "12 mm from corner B",
        ),
        Blocked(0, 1),
        Sense.VALLEY,
    )
    assert told.message == (
        "the layer with point P cannot move: it lies under another layer 12 mm from corner B"
    )
