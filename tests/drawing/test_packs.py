"""Packs of layers: they show on one side, keep their size, and never pile lines into a bar."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import shapely

from foldscript.drawing.offsets.covers import Covers
from foldscript.drawing.offsets.layers import spread
from foldscript.drawing.offsets.openness import open_parts
from foldscript.drawing.scene.view import view_within
from foldscript.drawing.sheet.visible import Visible
from foldscript.geometry import polygons
from foldscript.paper.state import State

from ..sample_scripts import sample as of
from . import folded as f

GAP, MOST = 1.5, 3.6
#: pt; what is nearer than half the thickness of an edge touches its ink.
HALF_A_LINE = 0.475
SAMPLES = Path(__file__).resolve().parents[2] / "samples"


def seen(state: State) -> Visible:
    view = view_within(state, (120.0, 120.0))
    return Visible(spread(state, GAP / view.scale, MOST / view.scale), view)


def test_a_card_shows_its_other_half_on_one_side_only() -> None:
    """Folded in half twice, the layers end together above and below: they keep their height."""
    state = f.stack(1)
    drawn = seen(state)
    heights = [s.bounds[3] - s.bounds[1] for s in drawn.shapes]
    assert heights == pytest.approx([heights[0]] * len(heights), abs=0.05)


@pytest.mark.parametrize("folds", [3, 4, 5])
def test_a_deep_stack_shows_at_most_a_few_edges(folds: int) -> None:
    """Eight layers or thirty-two: on no side more than three fine lines beside the outline."""
    edges = seen(f.stack(folds)).edges
    box = seen(f.stack(folds)).silhouette.bounds
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    for far in ((box[2] + 5, middle[1]), (box[0] - 5, middle[1]), (middle[0], box[3] + 5)):
        ray = shapely.LineString([middle, far])
        hits = shapely.get_num_coordinates(shapely.intersection(ray, edges.under))
        assert hits <= 3


def test_edges_of_layers_behind_are_fine_and_apart_from_those_over_them() -> None:
    edges = seen(f.triangle()).edges
    assert edges.under.length > 50
    strong = shapely.union_all([edges.raw, edges.folded])
    points: Any = shapely.points(shapely.get_coordinates(shapely.segmentize(edges.under, 4.0)))
    apart = sorted(float(shapely.distance(p, strong)) for p in points)
    assert apart[-1] < 1.5 * GAP
    assert apart[len(apart) // 2] > 0.6 * GAP


def test_no_two_lines_run_into_a_bar() -> None:
    """Where an edge comes within half a point of another for long, one of them is not drawn."""
    for state in (f.triangle(), f.stack(4), f.stack(5), f.cupboard()):
        edges = seen(state).edges
        fine = shapely.buffer(edges.under, 0.25, cap_style="flat")
        strong = shapely.union_all([edges.raw, edges.folded])
        assert shapely.intersection(strong, fine).length < 8.0


@pytest.mark.parametrize("sample", ["bases/frog-base", "bases/waterbomb-base", "boat"])
def test_a_fine_line_begins_on_the_ink_of_another(sample: str) -> None:
    """No stub stands free: where two edges run together, one grows out of the other."""
    edges = seen(of(sample).model.finished).edges
    lines = [part for kind in edges for part in shapely.get_parts(kind)]
    fine = list(shapely.get_parts(edges.under))
    assert fine
    for line in fine:
        others = shapely.union_all([x for x in lines if x is not line and not x.equals(line)])
        for k in (0, -1):
            assert shapely.distance(shapely.get_point(line, k), others) < HALF_A_LINE


@pytest.mark.parametrize("sample", ["bases/frog-base", "hat-to-boat", "lantern", "lily", "swan"])
def test_all_the_outline_is_inked(sample: str) -> None:
    """Layers that come out beyond the end of the edge over them are closed round the corner."""
    model = of(sample).model
    states = [panel.state for step in model.steps for panel in step.panels]
    for state in (*[s for s in states if len(s.facets) > 1][-4:], model.finished):
        visible = seen(state)
        rim = shapely.get_coordinates(shapely.segmentize(visible.silhouette.boundary, 0.25))
        bare = shapely.distance(shapely.points(rim), visible.edge_lines) > 0.7
        assert 0.25 * int(bare.sum()) < 0.5


def test_an_open_edge_that_nothing_moves_keeps_its_slant() -> None:
    """Left corner of a triangle folded to the lower one: the flap's inner edge stays upright."""
    state = f.folded(f.square(), f.B, f.D)  # A onto C
    spread_apart = seen(state)
    x0, y0, x1, y1 = spread_apart.silhouette.bounds
    assert x1 - x0 == pytest.approx(120.0, abs=MOST + 0.1)
    assert y1 - y0 <= 120.0 + MOST + 0.1


def test_openness_is_what_the_eye_sees() -> None:
    """Of a triangle folded in half the upper layer is all open, the lower not at all."""
    state = f.triangle()
    (upper,) = (i for i in (0, 1) if state.above(i, 1 - i))
    parts = open_parts(state, Covers(state))
    assert parts[upper] == 1.0
    assert parts[1 - upper] == 0.0
    assert open_parts(f.square(), Covers(f.square())) == [1.0]
    cupboard = open_parts(f.cupboard(), Covers(f.cupboard()))
    assert sorted(round(p, 3) for p in cupboard) == [0.0, 1.0, 1.0]


def test_a_ring_of_layers_is_open_alike() -> None:
    """Four strips in a ring: of each three quarters are seen (points in a quarter are hidden)."""
    parts = open_parts(f.pinwheel(), Covers(f.pinwheel()))
    assert max(parts) - min(parts) < 0.2
    assert min(parts) > 0.8


def test_stacks_keep_their_outline_within_the_limit() -> None:
    for folds in (2, 3, 4, 5):
        state = f.stack(folds)
        view = view_within(state, (120.0, 120.0))
        x0, y0, x1, y1 = polygons.bounds(view(p) for ring in state.placed for p in ring)
        u0, v0, u1, v1 = seen(state).silhouette.bounds
        assert max(x0 - u0, y0 - v0, u1 - x1, v1 - y1) <= MOST + 0.1
