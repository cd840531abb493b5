"""The lines after a mistake tell which of several hints is meant, and what an earlier line lacks.

The scripts were made up for this list; which base comes of which creases is common practice.
"""

from __future__ import annotations

import pytest

from foldscript.folding import looking_ahead
from foldscript.folding.fold import fold
from foldscript.folding.unread import read
from foldscript.source.diagnostics import FoldscriptError, Hint, Source

KITE = "sheet square 15 cm, corner A at the bottom\n"
SQUARE = "sheet square 15 cm\n"

#: A script with one mistake, what its first hint says.
CASES = {
    "sheet-not-turned": (
        f"{SQUARE}step\n  crease through A C as middle\nstep\n"
        "  valley bottom left edge onto centre line\n  valley bottom right edge onto centre line\n"
        "step\n  valley top corner to bottom corner\n",
        "add ', corner A at the bottom' to line 1",
    ),
    "sheet-turned": (
        f"{KITE}step\n  crease left edge onto right edge as v\nstep\n"
        "  valley left edge onto v\n  valley right edge onto v\nstep\n"
        "  mountain top edge onto bottom edge\n",
        "leave 'corner A at the bottom' out in line 1",
    ),
    "the-other-way": (
        f'{KITE}step "Fold in half."\n  valley A to C\nstep "Ears."\n'
        "  valley left corner to bottom corner\n  valley right corner to bottom corner\n",
        "in line 3 say 'valley C to A'",
    ),
    "not-unfolded": (
        f'{KITE}step "Fold in half and unfold."\n  valley left corner to right corner\nstep\n'
        "  valley top corner to bottom corner\nstep\n"
        "  valley left corner to bottom corner\n  valley right corner to bottom corner\n",
        "end line 3 with 'and unfold'",
    ),
    "as-regular-as-it-can-be": (
        f"{SQUARE}step\n  crease through A C as d1\n  crease through B D as d2\n"
        "  crease bottom edge onto top edge as h\nstep\n  mark M at midpoint of A B\n"
        "  collapse valley d1, valley d2, valley h, holding M\n",
        "make 'h' a mountain instead of a valley",
    ),
    "a-slanting-edge": (
        "sheet A4 portrait\nstep\n  mark M at midpoint of top edge\n"
        "  valley top left corner onto centre line, through M\n"
        "  valley top right corner onto centre line, through M\nstep\n"
        "  valley left edge onto centre line, through M\n"
        "  valley top right edge onto centre line, through M\n",
        "say 'valley top left edge onto centre line, through M'",
    ),
}


def refused(text: str) -> tuple[Hint, ...]:
    """The hints of the only mistake of a script."""
    source = Source("a.foldscript", text)
    with pytest.raises(FoldscriptError) as told:
        fold(read(source))
    return told.value.diagnostics[0].hints


@pytest.mark.parametrize(("text", "wanted"), CASES.values(), ids=CASES.keys())
def test_the_first_hint_is_the_one_with_which_the_rest_folds(text: str, wanted: str) -> None:
    first = refused(text)[0]
    assert first.text.startswith(wanted)
    assert first.edit is not None
    fold(read(Source("a.foldscript", first.edit.applied(text))))


def test_a_hint_after_which_the_script_stops_is_left_out() -> None:
    text = CASES["a-slanting-edge"][0]
    for hint in refused(text):
        assert hint.edit is not None
        fold(read(Source("a.foldscript", hint.edit.applied(text))))


def test_nothing_is_said_of_earlier_lines_where_no_line_follows() -> None:
    text = f'{KITE}step "Fold."\n  valley A to C\nstep\n  valley left corner to bottom corner\n'
    assert not any("line 3" in hint.text for hint in refused(text))


def test_an_earlier_line_is_no_cause_where_a_later_one_still_fails() -> None:
    text = CASES["not-unfolded"][0] + "  valley A to nowhere\n"
    assert not any("end line" in hint.text for hint in refused(text))


#: Scripts whose mistake is named by no line of its own: what the first hint says, and that it folds.
OTHERS = {
    "sister-lines": (
        f"{SQUARE}step\n  valley left edge onto centre line\n  valley right edge onto centre line\n"
        "step\n  valley bottom edge onto centre line\n  valley top edge onto centre line\n",
        "say 'horizontal centre line'",
    ),
    "other-side": (
        "sheet A4 portrait\nstep\n  crease left edge onto right edge as middle\n"
        "  mark T at midpoint of top edge\nstep\n  valley line T D onto middle\n"
        "  valley line T C onto middle\nstep\n  valley bottom left edge onto middle\n"
        "  valley bottom right edge onto middle\n",
        "say 'valley top left edge onto middle'",
    ),
    "end-of-a-crease": (
        "sheet A4 portrait\nstep\n  crease left edge onto right edge as middle\nstep\n"
        "  valley top left corner onto middle\n  valley top right corner onto middle\n",
        "say 'valley top left corner onto middle, through upper end of middle'",
    ),
    "never-named": (
        f"{SQUARE}step\n  valley left edge onto right edge\nstep\n"
        "  valley along line 3 cm from the left edge, 1 layer, moving A, as k\nstep\n  turn over\n"
        "  valley along line 3 cm from the right edge, 1 layer, moving B\nstep\n  raise along k and m\n",
        "give the fold of line 8 that name: add ', as m' there",
    ),
    "on-for-onto": (
        f"{SQUARE}step\n  valley left edge on the centre line\n  valley right edge on the centre line\n",
        "say 'valley left edge onto centre line'",
    ),
}


@pytest.mark.parametrize(("text", "wanted"), OTHERS.values(), ids=OTHERS.keys())
def test_a_mistake_is_mended_in_its_sister_lines_too(text: str, wanted: str) -> None:
    first = refused(text)[0]
    assert first.text.startswith(wanted)
    assert first.edit is not None
    changed = first.edit.applied(text)
    try:
        fold(read(Source("a.foldscript", changed)))
    except FoldscriptError as error:  # the sister line has the same mistake, and is told the same
        (again,) = error.diagnostics
        assert again.span is not None
        assert again.span.start > first.edit.span.start
        assert again.hints[0].edit is not None
        fold(read(Source("a.foldscript", again.hints[0].edit.applied(changed))))


def test_a_side_brought_up_from_the_closed_side_tells_of_the_fold_before() -> None:
    text = (
        f"{SQUARE}step\n  valley bottom edge onto top edge\nstep\n"
        "  valley along line 2 cm from the bottom edge, moving the bottom edge, 1 layer\n"
    )
    told = [hint for hint in refused(text) if "in line 3 say" in hint.text]
    assert [hint.text for hint in told] == [
        "or in line 3 say 'valley top edge onto bottom edge': then this line folds"
    ]
    assert told[0].edit is not None
    fold(read(Source("a.foldscript", told[0].edit.applied(text))))


def test_an_angle_is_offered_from_the_other_edge_and_the_other_way() -> None:
    text = f"{SQUARE}step\n  crease along line through B at 60 degrees to edge A B, as slope\n"
    words = [hint.text for hint in refused(text)]
    assert words[0].startswith("for an angle to edge B C say")
    assert "at 120 degrees to edge A B" in words[1]


def test_a_caption_that_says_unfold_is_asked_even_where_no_line_follows() -> None:
    text = (
        f'{KITE}step "Fold in half and unfold."\n  valley left corner to right corner\nstep\n'
        "  valley bottom left edge onto centre line\n"
    )
    assert refused(text)[0].text.startswith("end line 3 with 'and unfold'")


def test_the_search_stops_where_it_costs_too_much(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(looking_ahead, "_SPENT", 5.0)
    text = CASES["a-slanting-edge"][0]
    assert refused(text)[0].text.startswith("say 'valley top left edge")
    text = CASES["not-unfolded"][0]
    assert not any("end line" in hint.text for hint in refused(text))


def test_a_base_that_stands_on_its_corner_is_turned() -> None:
    text = (
        "start from blintz base\nstep\n  valley left edge onto centre line\nstep\n"
        "  valley right edge onto centre line\n"
    )
    first = refused(text)[0]
    assert first.text.startswith("it stands on a corner: say 'rotate 45 degrees clockwise'")
    assert first.edit is not None
    fold(read(Source("a.foldscript", first.edit.applied(text))))


def test_an_edge_to_a_point_may_be_meant_for_a_fold_through_it() -> None:
    words = [
        h.text for h in refused(f"{SQUARE}step\n  valley left edge onto 1/4 of the bottom edge\n")
    ]
    assert words == [
        "say 'valley left edge onto line through 1/4 of the bottom edge parallel to left edge'",
        "or say 'valley along line through 1/4 of the bottom edge parallel to left edge, moving left edge'",
    ]


#: Scripts whose mistake is in an earlier line: what the first hint says of it.
EARLIER = {
    "too-many-layers": (
        "sheet A4 portrait\nstep\n  valley top edge onto bottom edge\n  mark T at midpoint of the top edge\n"
        "  valley top left corner onto centre line, through T\n"
        "  valley top right corner onto centre line, through T\nstep\n"
        "  valley along line 2 cm from the bottom edge, all layers, moving C\nstep\n"
        "  repeat step 2 behind\n",
        "in line 8 say '1 layer': then this line folds",
    ),
    "other-way-over": (
        "sheet A4 portrait\nstep\n  valley left edge onto right edge\n"
        "  mark T at midpoint of the top edge\n"
        "  valley top left corner onto centre line, through T\n"
        "  valley top right corner onto centre line, through T\nstep\n"
        "  valley along line 3 cm from the bottom edge, 1 layer, moving C\nstep\n"
        "  repeat step 2 behind\n",
        "in line 3 say 'valley top edge onto bottom edge': then this line folds, and what follows",
    ),
    "other-corner": (
        f"{KITE}step\n  valley A to B as base\n  pinch edge B A onto base, at edge D A, as guide\n"
        "  mark G where guide meets edge D A\nstep\n  valley B to G\n"
        "  mark H at the right corner\n  valley D to H\n",
        "in line 3 say 'C' for 'B': then this line folds, and what follows",
    ),
    "small-letter": (
        f"{KITE}step\n  valley A to C\n  mark m at midpoint of the bottom edge\nstep\n"
        "  valley A to M, 1 layer\nstep\n  valley C to M\n",
        "in line 4 say 'M' for 'm': then this line folds, and what follows",
    ),
    "marked-and-not-used": (
        f"{SQUARE}step\n  crease bottom edge onto top edge as h\n  mark O at the centre\n"
        "  mark Q at midpoint of A B\n  cut from Q to H\n",
        "say 'cut from Q to O'",
    ),
}


@pytest.mark.parametrize(("text", "wanted"), EARLIER.values(), ids=EARLIER.keys())
def test_the_cause_in_an_earlier_line(text: str, wanted: str) -> None:
    first = refused(text)[0]
    assert first.text == wanted
    assert first.edit is not None
    fold(read(Source("a.foldscript", first.edit.applied(text))))


def test_a_name_that_no_point_can_have_becomes_the_one_that_is_said_later() -> None:
    text = f"{SQUARE}step\n  mark top at midpoint of C D\n  valley A to M\n"
    first = refused(text)[0]
    assert first.text == "say 'mark M at midpoint of C D'"
    assert first.edit is not None
    fold(read(Source("a.foldscript", first.edit.applied(text))))


def test_what_a_repeat_has_folded_before_it_was_refused_is_taken_back() -> None:
    """Of three other places two lie under flaps: behind the same can be done, and that is said first."""
    text = (
        "start from waterbomb base\nstep\n  mark L at the left corner\n  mark R at the right corner\n"
        "  valley L and R to O\nstep\n  repeat step 1, 3 times\nstep\n  turn over\n"
    )
    assert refused(text)[0].text == "say 'repeat step 1 behind'"


def test_two_numbers_of_layers_are_refused() -> None:
    (hint,) = refused(f"{SQUARE}step\n  valley left edge onto right edge, all layers, 1 layer\n")
    assert hint.text == "leave one of them out"


def test_the_corner_that_moves_is_another_one() -> None:
    """A cup: B lies on the line from G to H, and the flap in front is that of A."""
    text = (
        f"{KITE}step\n  valley A to C as base\n  pinch edge B A onto base, at edge D A, as guide\n"
        "  mark G where guide meets edge D A\nstep\n  valley B to G\n  mark H at the right corner\n"
        "  valley D to H\nstep\n  valley through G H, moving B\n"
    )
    first = refused(text)[0]
    assert first.text == "for another flap say 'moving A'"
    assert first.edit is not None
    fold(read(Source("a.foldscript", first.edit.applied(text))))
