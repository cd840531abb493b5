"""A point measured off by fractions leaves the equal parts as a sign where a fold goes by it."""

from __future__ import annotations

from foldscript.folding.resolving.spans import equal_parts
from foldscript.folding.steps import Model
from foldscript.geometry.lines import distance
from foldscript.paper.signs import EqualLengths

from ..scripts import folded

STEPS = (
    "mark P at 1/4 of A B; valley through P and D, moving A",
    "mark Q at 1/3 of B C; valley B to C",
)


def lengths(model: Model) -> list[list[EqualLengths]]:
    return [
        [s for p in step.panels for s in p.signs if isinstance(s, EqualLengths)]
        for step in model.steps
    ]


def test_parts_of_the_measure_are_shown_where_they_are_used() -> None:
    first, second = lengths(folded(*STEPS))
    (sign,) = first
    assert len(sign.segments) == 4
    long = {round(distance(p, q), 9) for p, q in sign.segments}
    assert long == {0.25}
    assert not second  # no fold goes by Q


def test_many_parts_are_not_marked() -> None:
    assert len(equal_parts((0.0, 0.0), (1.0, 0.0), 8)) == 8
    assert equal_parts((0.0, 0.0), (1.0, 0.0), 9) == ()
    assert equal_parts((0.0, 0.0), (1.0, 0.0), 1) == ()
