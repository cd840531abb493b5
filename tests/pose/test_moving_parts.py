"""Which facets go together when flaps are raised."""

from __future__ import annotations

from foldscript.folding.steps import Model
from foldscript.geometry.lines import Segment
from foldscript.paper.state import State
from foldscript.pose.moving_parts import moving_parts

from ..scripts import folded

#: The left edge doubled for 20 mm, and half of that folded over.
DOUBLED = (
    "valley left edge onto line 40 mm from the left edge",
    "valley along line 10 mm from the left edge, moving left edge, all layers, as k",
)
#: Wings in front and behind, folded down along the same line.
WINGS = (
    "valley the left edge onto the right edge",
    "valley along line 3 cm from the right edge, 1 layer, moving A, as k",
    "mountain along line 3 cm from the right edge, 1 layer, moving B, as m",
)


def creases(model: Model, *names: str) -> list[Segment]:
    return [s for step in model.steps for r in step.records if r.name in names for s in r.creases]


def parts_at(state: State, goes: dict[int, set[int]], x: float) -> list[set[int]]:
    """The parts of all layers at a place at half height (sheet units), from the top down."""
    return [goes[k] for k in state.facets_at((x, 0.5))]


def test_what_lies_under_a_flap_stays() -> None:
    """At 35 mm lie two layers of the flap, and two that it was folded onto; the upper one of those is joined
    to the rest by the flap alone."""
    model = folded(*DOUBLED)
    goes = moving_parts(model.finished, creases(model, "k"))
    *flap, hanging, rest = parts_at(model.finished, goes, 0.35)
    assert len(flap) == 2
    assert all(0 not in parts for parts in flap)
    assert hanging == rest == {0}


def test_wings_on_one_line_do_not_go_together() -> None:
    model = folded(*WINGS)
    goes = moving_parts(model.finished, creases(model, "k", "m"))
    front, *body, back = parts_at(model.finished, goes, 0.65)
    assert front != back
    assert {0} not in (front, back)
    assert all(parts == {0} for parts in body)
