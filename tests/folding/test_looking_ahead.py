"""The lines after a mistake tell which of several hints is meant, and what an earlier line lacks.

The scripts were made up for this list; which base comes of which creases is common practice.
"""

from __future__ import annotations

import pytest

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
    text = f'{KITE}step "Fold and unfold."\n  valley A to C\nstep\n  valley left corner to bottom corner\n'
    assert not any("line 3" in hint.text for hint in refused(text))


def test_an_earlier_line_is_no_cause_where_a_later_one_still_fails() -> None:
    text = CASES["not-unfolded"][0] + "  valley A to nowhere\n"
    assert not any("end line" in hint.text for hint in refused(text))
