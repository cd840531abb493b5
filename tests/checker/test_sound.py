"""`assert_sound` reads kernel states, folded models and documents alike."""

from __future__ import annotations

from types import MappingProxyType

import pytest
from shapely.geometry import Polygon

from foldscript.geometry.isometries import IDENTITY, reflection
from foldscript.geometry.lines import line_through
from foldscript.paper.sheet import Sheet
from foldscript.paper.state import Facet, State, flat

from ..conftest import assert_sound
from . import made
from .plates import common_area

SHEET = Sheet(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)), ("A", "B", "C", "D"), 150.0)


def diagonal(order: dict[tuple[int, int], bool]) -> State:
    a, b, c, d = SHEET.outline
    facets = Facet((a, b, c), IDENTITY), Facet((a, c, d), reflection(line_through(a, c)))
    return State(SHEET, facets, MappingProxyType(order), creases=(((0.5, 0.5), b),))


def test_sound_states_pass() -> None:
    assert_sound(flat(SHEET))
    assert_sound([diagonal({(0, 1): False}), diagonal({(0, 1): True})])
    assert_sound(made.preliminary())


def test_faults_are_told() -> None:
    with pytest.raises(AssertionError, match="step 1: order: plates 0 and 1 overlap"):
        assert_sound(diagonal({}))


def test_shapes_that_differ_by_rounding_share_their_area() -> None:
    """Two placements of one triangle, as a double fold gave them; the plain overlay finds two points."""
    one = Polygon(
        [
            (0.3125000000000001, -7.28583859910259e-16),
            (0.5000000000000003, 0.2499999999999992),
            (0.2083333333333334, 0.2083333333333326),
        ]
    )
    two = Polygon(
        [
            (0.5000000000000003, 0.2499999999999992),
            (0.3125000000000001, -7.077671781985373e-16),
            (0.2083333333333334, 0.2083333333333327),
        ]
    )
    assert common_area(one, two).area == pytest.approx(one.area)
