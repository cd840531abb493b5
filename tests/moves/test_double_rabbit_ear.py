"""Double rabbit ears: toward the spine and toward the open side, of two and of four layers."""

from __future__ import annotations

import math

import pytest

from foldscript.paper.signs import Arrow, PointSign

from ..scripts import captions, folded, lies, refused
from .starts import DIAMOND, signs

#: Square folded on the diagonal B D; the tip B, S on the spine, Q on the open side.
HALF = "valley A to C; mark S at 1/4 of B D; mark Q at 1/2 of A B"
#: Kite base folded in half: the tip A with two layers in each half.
KITE = (
    "crease B to D as d; valley edge A B onto d; valley edge A D onto d",
    "mountain left corner to right corner, all layers; mark S at 1/4 of A C; "
    "mark Q at where bottom right edge meets line through S perpendicular to line A C",
)


def test_toward_the_spine() -> None:
    """The tip lands on the line from Q through S, as far from Q as it was (derived)."""
    model = folded(HALF, "double rabbit ear B between Q and S to S")
    state = model.finished
    b, q, s = lies(model, "B"), (100.0, 50.0), (75.0, 25.0)
    assert math.dist(b, q) == pytest.approx(50)
    assert (b[0] - q[0]) * (s[1] - q[1]) == pytest.approx((b[1] - q[1]) * (s[0] - q[0]))
    order = state.top_down(range(len(state.facets)))
    tips = {i for i in range(len(state.facets)) if (1.0, 0.0) in state.facets[i].outline}
    assert len(tips) == 4
    assert order[0] in tips
    assert order[-1] in tips


def test_toward_the_open_side() -> None:
    """Everything goes in between: the halves of the flap stay outermost."""
    model = folded(HALF, "double rabbit ear B between Q and S to Q")
    state = model.finished
    b, q, s = lies(model, "B"), (100.0, 50.0), (75.0, 25.0)
    assert math.dist(b, s) == pytest.approx(25 * math.sqrt(2))
    assert (b[0] - q[0]) * (s[1] - q[1]) == pytest.approx((b[1] - q[1]) * (s[0] - q[0]))
    order = state.top_down(range(len(state.facets)))
    assert not any((1.0, 0.0) in state.facets[i].outline for i in (order[0], order[-1]))
    (arrow,) = [s for s in signs(model) if isinstance(s, Arrow)]
    assert arrow.act == "inside-reverse"
    assert arrow.under


@pytest.mark.parametrize("end", ["S", "Q"])
def test_of_four_layers(end: str) -> None:
    model = folded(*KITE, f"double rabbit ear A between Q and S to {end}", sheet=DIAMOND)
    assert len(model.finished.facets) == 16
    assert any(isinstance(s, PointSign) and s.kind == "push" for s in signs(model))
    assert captions(model)[-1].startswith("Double rabbit ear corner A")


def test_a_blunt_tip_is_refused() -> None:
    """The ear cannot pass the folded edge: Q is nearer to the tip than to S (derived)."""
    told = refused(
        "valley A to C; mark S at 3/5 of B D; mark Q at 1/2 of A B",
        "double rabbit ear B between Q and S to S",
    )
    assert told.code == "blunt-tip"
    assert "or let the ears lie toward point Q" in told.hints


def test_a_flap_without_a_spine_is_refused() -> None:
    told = refused("valley A to C", "double rabbit ear C between B and D to B")
    assert told.code == "one-layer"


def test_a_flap_closed_on_both_sides_is_refused() -> None:
    """The tip of a kite base: folded edges on both sides."""
    told = refused(
        "crease B to D as d; valley edge A B onto d; valley edge A D onto d",
        "double rabbit ear A between left corner and right corner to left corner",
        sheet=DIAMOND,
    )
    assert told.code == "closed-flap"
    assert "it has no open side" in told.message
