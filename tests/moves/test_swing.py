"""Swing: a flap turned like a page, about creases that are there."""

from __future__ import annotations

import pytest

from foldscript.folding.steps import Model
from foldscript.geometry.lines import distance
from foldscript.geometry.polygons import centroid
from foldscript.paper.signs import Arrow, FoldLine
from foldscript.paper.state import State

from ..scripts import captions, covered, folded, refused

#: Preliminary base with its open corner A at the bottom.
BASE = (
    "crease A to C as d1; crease B to D as d2; turn over; crease edge A B onto edge C D, as h; "
    "crease edge B C onto edge D A, as v",
    "collapse mountain d2, valley h, valley v, holding A",
)
SHEET = "sheet square 100 mm, corner A at the bottom\n"


def base(*steps: str) -> Model:
    return folded(*BASE, *steps, sheet=SHEET)


def plies(state: State) -> tuple[int, int]:
    """How many layers lie on the left and on the right of the figure's middle."""
    xs = [p[0] for ring in state.placed for p in ring]
    ys = [p[1] for ring in state.placed for p in ring]
    (x0, x1), y = (min(xs), max(xs)), (min(ys) + max(ys)) / 2
    middle, off = (x0 + x1) / 2, (x1 - x0) / 20
    return len(state.facets_at((middle - off, y))), len(state.facets_at((middle + off, y)))


def middle_of(state: State) -> tuple[float, float]:
    """A point just beside the middle of the figure."""
    xs = [p[0] for ring in state.placed for p in ring]
    ys = [p[1] for ring in state.placed for p in ring]
    return (min(xs) + max(xs)) / 2 + 0.01, (min(ys) + max(ys)) / 2


def test_a_page_turns() -> None:
    """Two layers go from one side to the other; the silhouette stays a square (derived)."""
    model = base("swing right corner to left corner")
    assert plies(model.steps[1].after) == (4, 4)
    assert plies(model.finished) == (6, 2)
    assert covered(model) == pytest.approx(1 / 4)


def test_a_page_behind() -> None:
    model = base("swing right corner to left corner behind")
    assert plies(model.finished) == (6, 2)
    (arrow,) = [s for s in model.steps[-1].panels[0].signs if isinstance(s, Arrow)]
    assert arrow.act == "mountain"


def test_one_in_front_and_one_behind_show_the_other_pair() -> None:
    """The layers stay even, and what was the top face is inside."""
    line = "swing right corner to left corner and left corner to right corner behind"
    model = base(line)
    before, after = model.steps[1].after, model.finished
    assert plies(after) == (4, 4)
    faces = [state.facets_at(middle_of(state))[0] for state in (before, after)]
    seen = [state.facets[i].shows_front for state, i in zip((before, after), faces, strict=True)]
    assert seen == [True, True]
    shown = [centroid(s.facets[i].outline) for s, i in zip((before, after), faces, strict=True)]
    assert distance(*shown) > 0.4, "another part of the sheet shows"
    assert captions(model)[-1] == (
        "Swing the right corner over to the left corner, "
        "and the left corner over behind, to the right corner."
    )


def test_the_other_ways_to_say_it() -> None:
    """About the middle of the figure, about a named line, with a direction."""
    there = base("swing right corner to left corner").finished
    for line in ("swing right corner", "swing right corner left", "swing right corner along d1"):
        assert plies(base(line).finished) == plies(there), line


def test_signs_and_caption() -> None:
    model = base("swing right corner to left corner as page")
    signs = model.steps[-1].panels[0].signs
    assert [s.act for s in signs if isinstance(s, Arrow)] == ["swing"]
    assert not [s for s in signs if isinstance(s, FoldLine)], "nothing is creased anew"
    assert captions(model)[-1] == (
        "Swing the right corner over to the left corner, like the page of a book."
    )


def test_unfolds_again() -> None:
    model = base("swing right corner to left corner", "unfold")
    assert plies(model.finished) == (4, 4)


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("swing", "swing-what"),
        ("swing right corner right", "swings-nowhere"),
        ("swing right corner onto centre line", "swing-where"),
        ("swing right corner to bottom corner", "new-crease"),
    ],
)
def test_refusals(line: str, code: str) -> None:
    found = refused(*BASE, line, sheet=SHEET)
    assert found.code == code
    assert found.hints


def test_a_covered_page_is_refused() -> None:
    """The back flap cannot turn to the front while another lies over it."""
    found = refused(
        *BASE, "mark P at bottom layer at right corner", "swing P to left corner", sheet=SHEET
    )
    assert found.code == "blocked"
    assert "swing the flap that lies over it first" in found.hints[0]
