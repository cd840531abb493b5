"""`half way` under a step: what it may be said of."""

from __future__ import annotations

import pytest

from ..scripts import folded, refused, refused_text, script

REVERSE = "inside reverse A through 1/2 of A B and centre"


def test_a_step_keeps_what_is_said_of_it() -> None:
    said = [
        step.half_way and step.half_way[0]
        for step in folded("valley D to B", f"{REVERSE}; half way", "no half way; turn over").steps
    ]
    assert said == [None, True, False]


@pytest.mark.parametrize("words", ["half way", "halfway"])
@pytest.mark.parametrize(
    ("step", "message"),
    [
        ("valley A to C", "no paper leaves the plane here but in a plain turn"),
        ("turn over", "no paper moves here that could be half way"),
        ("valley A to centre; valley C to centre", "2 moves change the paper here"),
        ("mark P at 1/2 of A B; cut from P to centre", "paper that is cut"),
    ],
)
def test_where_nothing_opens_it_is_refused(words: str, step: str, message: str) -> None:
    wrong = refused(f"{step}; {words}")
    assert message in wrong.message
    assert "(in step 1)" in wrong.message
    assert wrong.words == words


def test_it_is_said_once_and_under_a_step() -> None:
    assert refused(f"{REVERSE}; half way; no half way").code == "said-twice"
    outside = refused_text("sheet square 100 mm\nhalf way\nstep\nturn over\n")
    assert outside.code == "half-way-outside-step"
    group = "sheet square 100 mm\ngroup g\nturn over\nhalf way\nend\nstep\ndo g\n"
    assert refused_text(group).code == "half-way-outside-step"


def test_no_half_way_is_no_mistake_where_nothing_opens() -> None:
    assert folded("valley A to C; no half way").steps[0].half_way is not None


def test_other_lines_go_on_calling_a_place_halfway() -> None:
    wrong = refused_text(script("mark M at halfway A B"))
    assert "is called 'halfway'" in wrong.message
