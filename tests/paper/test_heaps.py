"""Points that lie on each other: the paper and messages tell which is on top."""

from __future__ import annotations

from foldscript.paper.heaps import heap_at, on_top

from ..scripts import folded, refused, script, told_of

DIAMOND = "sheet square 15 cm, corner A at the bottom\n"


def test_the_corner_folded_over_lies_on_top() -> None:
    """A valley fold lays the corner that moves on the one that stays; a mountain fold under it (derived)."""
    for verb, words in (("valley", "C on top of A"), ("mountain", "A on top of C")):
        state = folded(f"{verb} C to A", sheet=DIAMOND).finished
        points = dict(state.sheet.all_corners)
        assert on_top(state, points, state.where(state.sheet.corner("A"))) == words


def test_two_names_of_one_place_count_once_and_many_are_summed_up() -> None:
    state = folded(
        "valley A to centre; valley B to centre; valley C to centre; valley D to centre"
    ).finished
    points = dict(state.sheet.all_corners) | {"X": state.sheet.corner("D"), "O": (0.5, 0.5)}
    spot = state.where((0.5, 0.5))
    heap = heap_at(state, points, spot)
    assert "X" not in heap
    assert heap[-1] == "O"
    assert set(heap) == {*"ABCDO"}
    assert on_top(state, points, spot).endswith(" and 1 more")


def test_one_alone_is_no_heap() -> None:
    state = folded("valley A to C").finished
    points = dict(state.sheet.all_corners)
    assert on_top(state, points, state.where(state.sheet.corner("B"))) == ""


def test_a_covered_corner_is_told_what_lies_on_it() -> None:
    found = refused("valley C to A", "valley A to centre", sheet=DIAMOND)
    assert found.code == "blocked"
    assert found.hints[0] == "say 'top layer at A': there lies C on top of A"


def test_a_second_mark_at_a_heap_is_told_what_lies_there() -> None:
    (note,) = told_of(
        script("valley C to A", "mark P at bottom corner; mark Q at bottom corner", sheet=DIAMOND)
    )
    assert note.code == "same-place"
    assert "C on top of A" in note.message
