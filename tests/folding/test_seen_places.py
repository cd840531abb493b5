"""Places in messages: beside a place what can be seen is named; corners by the way that was said."""

from __future__ import annotations

from foldscript.folding.resolving.names import Names, locate

from ..beginners.test_beginners import told
from ..scripts import folded

SQUARE = "sheet square 15 cm\nstep\n"


def names_of(model: object, **points: tuple[float, float]) -> Names:
    names = Names.of_sheet(model.finished.sheet)  # type: ignore[attr-defined]
    names.points.update(points)
    return names


def test_a_covered_corner_is_not_named_beside_a_place() -> None:
    """A lies under the upper half, 7 mm from the place; D is seen, farther away (sheet of 100 mm)."""
    model = folded("valley A to 1/4 of A C", "valley top edge onto bottom edge")
    state = model.finished
    hidden = state.where((0.0, 0.0))
    place = (hidden[0] - 0.05, hidden[1] - 0.05)
    assert state.facets_at(hidden)[0] not in state.facets_on_sheet((0.0, 0.0))
    words = locate(state, names_of(model), place)
    assert words == "28 mm from corner D"


def test_a_place_on_a_covered_corner_is_told_by_it() -> None:
    model = folded("valley A to C")
    assert locate(model.finished, names_of(model), (1.0, 1.0)) == "on corner A"
    state = folded("valley A to 1/4 of A C", "valley top edge onto bottom edge").finished
    assert locate(state, Names.of_sheet(state.sheet), state.where((0.0, 0.0))) == "on corner A"


def test_corners_of_one_side_are_told_by_that_side() -> None:
    (found,) = told(f"{SQUARE}  valley A to C\nstep\n  valley right corner to left corner\n")
    assert (
        "'bottom right corner' (on corner B) and 'top right corner' (on corner A)" in found.message
    )


def test_the_same_place_is_not_told_of_two() -> None:
    text = (
        "sheet square 15 cm, corner A at the bottom\nstep\n  valley bottom left edge onto centre line\n"
        "  valley bottom right edge onto centre line\nstep\n  valley A to C\nstep\n"
        "  valley top corner to bottom corner\n"
    )
    (found,) = told(text)
    assert "'bottom left corner' and 'bottom right corner'" in found.message
