"""Rabbit ears: the published triangle, the fish base, several layers, and what is no triangle."""

from __future__ import annotations

import math

import pytest

from foldscript.geometry.cover import union
from foldscript.paper.signs import Arrow, Sense

from ..paper.test_bases import layer_areas
from ..scripts import captions, covered, creases, folded, lies, refused, spot
from .starts import lines, signs

ROOT2 = math.sqrt(2)
#: A triangle of 40, 30 and 50 mm with the right angle at A; one unit is 10 mm.
TRIANGLE = "sheet polygon 0 0, 40 0, 0 30 mm\n"


@pytest.mark.parametrize("corners", ["A between B and C to B", "B between A and C to A"])
def test_the_3_4_5_triangle(corners: str) -> None:
    """Incentre (1, 1), area 5/2 afterwards, layers 2: 2 and 4: 1/2 (derived)."""
    model = folded(f"rabbit ear {corners}", sheet=TRIANGLE)
    state = model.finished
    unit = 16.0  # a square sheet unit is 4 by 4
    assert union(state.placed).area * unit == pytest.approx(5 / 2, abs=1e-6)
    areas = {n: area * unit for n, area in layer_areas(state).items()}
    assert areas == pytest.approx({2: 2.0, 4: 0.5}, abs=1e-6)
    assert any(math.dist(p, (0.25, 0.25)) < 1e-9 for f in state.facets for p in f.outline)
    assert lines(model) == {Sense.VALLEY: 3, Sense.MOUNTAIN: 1}


def test_the_ear_lies_toward_the_corner_named() -> None:
    """B lands on the line A C, as far from A as before: 100 mm from A, near C; or the other way."""
    for end, left in (("C", 100.0), ("A", 100.0 * (ROOT2 - 1))):
        model = folded("crease A to C", f"rabbit ear B between A and C to {end}")
        assert math.dist(lies(model, "B"), (0, 0)) == pytest.approx(left)
        (arrow,) = [s for s in signs(model) if isinstance(s, Arrow)]
        assert arrow.act == "rabbit-ear"
        assert math.dist(arrow.head, (0, 0)) * 100 == pytest.approx(left)


def test_two_ears_make_the_fish_base() -> None:
    """Silhouette sqrt 2 - 1, layers 2: 2 sqrt 2 - 5/2 and 4: 3/2 - sqrt 2; small flaps r (derived)."""
    model = folded(
        "crease B to D",
        "rabbit ear B between A and C to C",
        "rabbit ear D between A and C to C",
    )
    assert covered(model) == pytest.approx(ROOT2 - 1, abs=1e-7)
    areas = layer_areas(model.finished)
    assert areas == pytest.approx({2: 2 * ROOT2 - 5 / 2, 4: 3 / 2 - ROOT2}, abs=1e-6)
    middle = (50.0, 50.0)
    for corner in ("B", "D"):
        assert math.dist(lies(model, corner), middle) == pytest.approx(100 * (1 - ROOT2 / 2))
    assert captions(model)[-1].startswith("Rabbit ear fold corner D:")


def test_both_layers_of_a_flap_together() -> None:
    model = folded("valley A to C", "rabbit ear C between B and D to B, all layers")
    assert lies(model, "A") == pytest.approx(lies(model, "C"))
    assert max(layer_areas(model.finished)) == 8
    assert lines(model)[Sense.VALLEY] > 3


def test_one_layer_of_two() -> None:
    model = folded("valley A to C", "rabbit ear A between B and D to B")
    assert lies(model, "C") == (100, 100)
    assert lies(model, "A") == pytest.approx((100 / ROOT2, 100 - 100 / ROOT2))


def test_a_number_of_layers() -> None:
    two = folded("valley A to C", "rabbit ear A between B and D to B, 2 layers")
    assert lies(two, "A") == pytest.approx(lies(two, "C"))
    told = refused("valley A to C", "rabbit ear A between B and D to B, 3 layers")
    assert told.code == "not-so-many-layers"
    assert "only 2 layers" in told.message


def test_unfolded_again() -> None:
    model = folded("rabbit ear B between A and C to C", "unfold")
    assert spot(model, 100, 0) == (100, 0)
    assert len(creases(model)) >= 4


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("rabbit ear B between A and midpoint of A B to A", "not-a-triangle"),
        ("rabbit ear B between midpoint of A B and D to D", "not-a-triangle"),
        ("rabbit ear B between A and C to D", "ear-toward"),
        ("rabbit ear B between A and C", "unclear-fold"),
        ("rabbit ear B to C", "unclear-fold"),
        ("rabbit ear between A and C to C", "which-tip"),
    ],
)
def test_refused(words: str, code: str) -> None:
    told = refused("crease A to C", words)
    assert told.code == code
    assert told.hints


def test_paper_beyond_the_triangle_is_named() -> None:
    told = refused("rabbit ear B between midpoint of A B and D to D")
    assert "reaches beyond this triangle" in told.message


def test_a_covered_flap_is_refused() -> None:
    told = refused("valley C to A", "rabbit ear A between B and D to B")
    assert told.code == "blocked"
    assert "lies under the layer with corner C" in told.message
