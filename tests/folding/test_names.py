"""How messages speak of the paper: layers by what lies on them, places by what is near."""

from __future__ import annotations

import pytest

from foldscript.folding.resolving.names import Names, describe, locate
from foldscript.folding.resolving.words_for import tell_points
from foldscript.source.diagnostics import Span

from ..scripts import folded, refused

TRIANGLE = folded("valley A to C").finished
NAMES = Names.of_sheet(TRIANGLE.sheet)


def test_layers_by_a_corner_of_their_own() -> None:
    """B and D lie on the fold, on both layers, so they tell nothing apart."""
    words = {describe(TRIANGLE, NAMES, i) for i in range(2)}
    assert words == {"the layer with corner A", "the layer with corner C"}


def test_layers_by_a_named_point() -> None:
    state = folded("valley left edge onto centre line; valley right edge onto centre line").finished
    names = Names.of_sheet(state.sheet)
    names.name_point("M", (0.5, 0.5))
    words = [describe(state, names, i) for i in range(3)]
    assert "the layer with point M" in words
    assert len(set(words)) == 3


def test_layers_without_a_name_by_their_place() -> None:
    state = folded("valley left edge onto centre line; valley right edge onto centre line").finished
    middle = next(i for i, f in enumerate(state.facets) if f.shows_front)
    assert describe(state, Names.of_sheet(state.sheet), middle).startswith("the layer 5")


@pytest.mark.parametrize(
    ("spot", "words"),
    [((1.0, 0.0), "on corner B"), ((0.9, 0.0), "10 mm from corner B"), ((1.0, 1.0), "on corner A")],
)
def test_places(spot: tuple[float, float], words: str) -> None:
    assert locate(TRIANGLE, NAMES, spot) == words


def test_places_told_apart() -> None:
    told = tell_points(TRIANGLE, NAMES, [(1.0, 0.0), (0.0, 1.0)], Span(0, 0))
    assert told.shown == "'left corner' (on corner D) and 'bottom corner' (on corner B)"
    assert [hint.edit.text for hint in told.hints if hint.edit] == ["left corner", "bottom corner"]


def test_layers_that_share_their_points() -> None:
    """Of two doors folded onto the same half, each carries no corner alone: they are told by their order."""
    state = folded("valley left edge onto right edge; valley bottom edge onto top edge").finished
    names = Names(dict(list(Names.of_sheet(state.sheet).points.items())[:0]))
    names.name_point("O", (0.5, 0.5))
    words = [describe(state, names, i) for i in state.top_down(range(4))]
    assert words == [
        "the top layer at point O",
        "the second layer at point O",
        "the third layer at point O",
        "the bottom layer at point O",
    ]


def test_names_are_given_once() -> None:
    found = refused("crease A to C as d; crease B to D as d")
    assert found.code == "name-taken"
    assert found.words == "d"
    assert "'d' is a name already" in found.message


def test_what_makes_no_crease_gets_no_name() -> None:
    found = refused("turn over as t")
    assert found.code in ("nothing-to-name", "unexpected-words")
