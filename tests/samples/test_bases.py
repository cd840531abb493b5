"""The bases, folded from the flat sheet by their scripts, against closed-form values.

Values: derived (closed-form geometry, exact in Q(sqrt 2), confirmed by an independent brute force; no
source printed them); the frog base's are derived beside its test. The sheet is the unit square. The
values for the bird base are for all points down, its script leaves two of them up.
"""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import pytest

from foldscript.folding.steps import Model
from foldscript.geometry.cover import union
from foldscript.geometry.lines import distance

from ..conftest import assert_sound
from ..paper.test_bases import layer_areas
from ..scripts import folds

ROOT2 = math.sqrt(2)
S = (2 - ROOT2) / 4
FOLDER = Path(__file__).parents[2] / "samples" / "bases"

#: name -> (area of the silhouette, number of layers -> area covered by exactly so many)
VALUES = {
    "preliminary": (1 / 4, {4: 1 / 4}),
    "waterbomb": (1 / 4, {4: 1 / 4}),
    "kite": (2 - ROOT2, {1: 3 - 2 * ROOT2, 2: ROOT2 - 1}),
    "fish": (ROOT2 - 1, {2: 2 * ROOT2 - 5 / 2, 4: 3 / 2 - ROOT2}),
    "blintz": (1 / 2, {2: 1 / 2}),
    "cupboard": (1 / 2, {2: 1 / 2}),
    "windmill": (3 / 8, {2: 1 / 4, 4: 1 / 8}),
}


@cache
def base(name: str, *steps: str) -> Model:
    """A base, with more steps done after it."""
    head = f'model "More"\nstart from {name} base\n'
    return folds(head + "".join(f"step\n  {step}\n" for step in steps or ("turn over",)))


def test_every_base_is_there() -> None:
    names = {path.stem.removesuffix("-base") for path in FOLDER.glob("*.foldscript")}
    assert names == {*VALUES, "bird", "frog"}


@pytest.mark.parametrize("name", [*VALUES, "bird", "frog"])
def test_begins_with_a_flat_sheet(name: str) -> None:
    """The steps that led to a base begin with the sheet, and every one of them is sound."""
    (path,) = FOLDER.glob(f"{name}*.foldscript")
    model = folds(path.read_text("utf-8"))
    assert len(model.start.facets) == 1
    assert model.credit == "traditional"
    assert_sound(model)


@pytest.mark.parametrize("name", VALUES)
def test_silhouette_and_layers(name: str) -> None:
    area, layers = VALUES[name]
    state = base(name).start
    assert union(state.placed).area == pytest.approx(area, abs=1e-8)
    assert layer_areas(state) == pytest.approx(layers, abs=1e-7)


def test_bird_base_with_all_points_down() -> None:
    state = base("bird", "valley C along hinge", "turn over", "valley A along line P Q").finished
    assert union(state.placed).area == pytest.approx(S, abs=1e-8)
    layers = {8: (ROOT2 - 1) / 4, 4: (3 - 2 * ROOT2) / 4}
    assert layer_areas(state) == pytest.approx(layers, abs=1e-7)


def test_bird_base_with_two_points_up() -> None:
    """A rhombus with diagonals 1 and sqrt 2 - 1; four flaps 1/2 long; the centre is p over the hinge."""
    state = base("bird").start
    assert union(state.placed).area == pytest.approx((ROOT2 - 1) / 2, abs=1e-8)
    a, b, c, d, o = (state.where(p) for p in ((0, 0), (1, 0), (1, 1), (0, 1), (0.5, 0.5)))
    assert distance(a, c) <= 1e-9
    assert distance(b, d) <= 1e-9
    assert distance(a, b) == pytest.approx(1)
    assert distance(o, b) == pytest.approx(1 / 2 + (ROOT2 - 1) / 2)


def test_frog_base() -> None:
    """A kite. Derived: an end P of a hinge and the centre O and a corner B of the sheet are an
    isosceles triangle on O B with angles of 22.5 degrees, halves of those between diagonals and
    edges; so half the kite is sqrt(2)/4 tan 22.5 = S wide, and it is sqrt(2)/2 long.
    """
    state = base("frog").start
    corners = [state.where(p) for p in ((0, 0), (1, 0), (1, 1), (0, 1))]
    assert all(distance(corners[0], p) <= 1e-9 for p in corners)
    assert distance(corners[0], state.where((0.5, 0.5))) == pytest.approx(ROOT2 / 2)
    assert union(state.placed).area == pytest.approx(ROOT2 / 2 * S, abs=1e-8)
    layers = layer_areas(state)
    assert sum(n * area for n, area in layers.items()) == pytest.approx(1.0, abs=1e-6)
