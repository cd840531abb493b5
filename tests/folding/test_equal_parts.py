"""A point measured off by fractions leaves the equal parts as a sign where a fold goes by it."""

from __future__ import annotations

from foldscript.drawing.plan import planned
from foldscript.folding.resolving.landmarks import part
from foldscript.folding.steps import Model
from foldscript.geometry.lines import distance
from foldscript.paper.signs import EqualLengths, Measure

from ..sample_scripts import sample
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


def test_of_parts_of_one_line_only_the_smallest_are_shown() -> None:
    """The snowflake's upper notch is found on tenths of its edge: halves and fifths are among them."""
    figures = {one.label: one.panel.signs for one in planned(sample("snowflake").model)}
    counts = {
        label: sorted(len(s.segments) for s in figures[label] if isinstance(s, EqualLengths))
        for label in ("3", "4")
    }
    # fifths of the other edge, and of the line from one to the other; then halves of that line
    assert counts == {"3": [5, 5, 10], "4": [2, 5, 10]}


def test_too_many_parts_to_mark_are_a_length() -> None:
    """In millimetres of a sheet 100 mm long."""
    start, end = (0.0, 0.0), (1.0, 0.0)
    (few,) = part(start, end, (3 / 16, 0.0), 3, 16, 100.0)
    assert isinstance(few, EqualLengths)
    assert len(few.segments) == 16
    assert part(start, end, (0.03, 0.0), 3, 100, 100.0) == (Measure(start, (0.03, 0.0), "3", "mm"),)
    assert part(start, end, end, 2, 2, 100.0) == ()
