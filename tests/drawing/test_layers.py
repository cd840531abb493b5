"""Layers drawn apart: joints stay closed, upper edges lie inside lower ones, nothing turns over."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from foldscript.drawing.offsets import fanning, layers
from foldscript.drawing.offsets.covers import Covers
from foldscript.drawing.offsets.layers import spread
from foldscript.drawing.offsets.spreads import Spread
from foldscript.geometry import polygons
from foldscript.geometry.isometries import map_segment
from foldscript.geometry.lines import Point
from foldscript.paper.state import State

from ..sample_scripts import sample as of
from . import folded as f

GAP, MOST = 0.015, 0.045
SAMPLES = Path(__file__).resolve().parents[2] / "samples"


def before(sample: str, number: int) -> State:
    """The paper as a step of a sample finds it."""
    model = of(sample).model
    (panel,) = next(s for s in model.steps if s.number == number).panels
    return panel.state


@pytest.mark.parametrize(
    "state", [f.triangle(), f.cupboard(), f.stack(3), f.stack(4), f.pinwheel()]
)
def test_joints_stay_closed(state: State) -> None:
    """Both facets of every joint put its ends in the same place."""
    drawn = spread(state, GAP, MOST)
    assert state.joints or state.cuts
    for joint in state.joints:
        for a, b in zip(
            map_segment(state.facets[joint.a].place, joint.segment),
            map_segment(state.facets[joint.b].place, joint.segment),
            strict=True,
        ):
            assert math.dist(drawn.at(joint.a, a), drawn.at(joint.b, b)) < 1e-9


@pytest.mark.parametrize("state", [f.triangle(), f.cupboard(), f.stack(4), f.stack(5)])
def test_shapes_keep_their_sense_and_moves_their_limit(state: State) -> None:
    drawn = spread(state, GAP, MOST)
    for i in range(len(state.facets)):
        assert polygons.area(drawn.shape(i)) > 0
    assert all(math.hypot(*m) <= MOST + 1e-9 for m in drawn.moves)


def test_flat_paper_stays_where_it_is() -> None:
    drawn = spread(f.square(), GAP, MOST)
    assert drawn.shape(0) == f.square().placed[0]


def test_upper_tip_lies_a_gap_inside_the_lower_one() -> None:
    """Corner A lies on C: the raw edges of the upper layer are to lie one gap inside."""
    state = f.triangle()
    drawn = spread(state, GAP, MOST)
    (upper,) = (i for i in (0, 1) if state.above(i, 1 - i))
    tips = {i: drawn.at(i, f.C) for i in (0, 1)}
    away = (
        (tips[1 - upper][0] - tips[upper][0]) + (tips[1 - upper][1] - tips[upper][1])
    ) / math.sqrt(2)
    # two edges at 45 degrees to the diagonal, each GAP further in
    assert away == pytest.approx(GAP * math.sqrt(2), rel=0.1)
    # the fold's corners have nothing to be told apart from
    assert math.dist(drawn.at(upper, f.B), f.B) < GAP / 4


def test_doors_that_meet_do_not_part() -> None:
    """The raw edges of a cupboard's doors meet along the centre line; they still do."""
    state = f.cupboard()
    drawn = spread(state, GAP, MOST)
    for y in (0.0, 1.0):
        places = [
            drawn.at(i, (0.5, y))
            for i, ring in enumerate(state.placed)
            if any(math.dist(p, (0.5, y)) < 1e-9 for p in ring)
        ]
        assert len(places) == 2
        assert abs(places[0][0] - places[1][0]) < GAP / 20


def test_tall_stacks_stay_within_their_limit() -> None:
    """32 layers are drawn within the same few points as four."""
    state = f.stack(5)
    drawn = spread(state, GAP, MOST)
    x0, y0, x1, y1 = polygons.bounds(p for ring in state.placed for p in ring)
    u0, v0, u1, v1 = polygons.bounds(p for i in range(32) for p in drawn.shape(i))
    assert max(x0 - u0, y0 - v0, u1 - x1, v1 - y1) <= MOST + 1e-9


def test_corners_of_a_neighbour_on_a_side_are_shared() -> None:
    """A facet whose long side meets two shorter ones has their common corner in its ring."""
    half = f.folded(f.square(), (0.5, 0.0), (0.5, 1.0))
    quarter = f.folded(half, (1.0, 0.25), (0.0, 0.25))
    drawn = spread(quarter, GAP, MOST)
    for joint in quarter.joints:
        for owner in (joint.a, joint.b):
            for p in map_segment(quarter.facets[owner].place, joint.segment):
                assert any(math.dist(p, q) < 1e-9 for q in drawn.spots[owner])


@pytest.mark.parametrize("state", [f.triangle(), f.cupboard(), f.stack(2)])
def test_what_lies_open_keeps_its_place(state: State) -> None:
    """Corners of facets with nothing over them: lower layers come out from behind instead."""
    drawn = spread(state, GAP, MOST)
    on_top = [i for i in range(len(state.facets)) if i not in Covers(state).below]
    assert on_top
    for i in on_top:
        assert all(math.hypot(*drawn.moves[v]) < GAP / 12 for v in drawn.rings[i])


def test_many_small_layers_lie_closer() -> None:
    """Sixty-four layers fan out less than eight: their facets are small."""
    few, many = (spread(f.stack(n), GAP, MOST) for n in (3, 6))
    reach = [max(math.hypot(*m) for m in drawn.moves) for drawn in (few, many)]
    assert 0 < reach[1] <= MOST * math.sqrt(30 / 64) + 1e-9


def test_edges_in_a_zigzag_do_not_run_askew() -> None:
    """The roof of the jumping frog ends in three edges, each hinged to the next: its foot stays level."""
    drawn = spread(before("jumping-frog", 8), GAP, MOST)
    foot = [
        drawn.moves[v][1]
        for ring, spots in zip(drawn.rings, drawn.spots, strict=True)
        for v, (x, y) in zip(ring, spots, strict=True)
        if abs(y - 0.5) < 1e-9 and x > 0.25 - 1e-9
    ]
    assert len(foot) >= 6
    assert max(foot) - min(foot) < GAP / 3


@pytest.mark.parametrize(("sample", "number"), [("helmet", 7), ("helmet", 8), ("cup", 5)])
def test_edges_come_clear_of_each_other_or_lie_together(sample: str, number: int) -> None:
    """Nothing in between: two lines half a gap apart are read as one thick one."""
    drawn = spread(before(sample, number), GAP, 2.4 * GAP)
    far: list[float] = []
    for upper, lower, seg in drawn.stacked:
        one, two = drawn.half_edges[upper], drawn.half_edges[lower]
        x, y = one.outward
        ends = [(drawn.at(one.facet, p), drawn.at(two.facet, p)) for p in seg]
        far.append(max((q[0] - p[0]) * x + (q[1] - p[1]) * y for p, q in ends))
    assert not [d for d in far if 0.3 * GAP < d < 0.7 * GAP]
    assert max(far) > 0.9 * GAP


def test_an_edge_bends_only_where_it_parts_from_the_next() -> None:
    """The jumping frog's front leg ends on the centre line, right over the edge behind it."""
    drawn = spread(before("jumping-frog", 8), GAP, 2.4 * GAP)
    upright = [
        abs(r.segment[1][1] - r.segment[0][1])
        for r in drawn.half_edges
        if all(abs(x - 0.25) < 1e-9 for x, _ in r.segment)
    ]
    assert upright == pytest.approx([0.25] * len(upright))
    assert len(upright) >= 2


def test_edges_that_part_only_out_of_sight_lie_together() -> None:
    """The cicada's wing tip: two edges from one corner, the wider end of their wedge under the wing."""
    drawn = spread(before("cicada", 8), GAP, 2.4 * GAP)
    far: list[float] = []
    for upper, lower, _ in drawn.stacked:
        one, two = drawn.half_edges[upper], drawn.half_edges[lower]
        if one.start == two.start and math.dist(one.segment[0], (0.2916, 0.375)) < 1e-3:
            x, y = one.outward
            p, q = (drawn.moves[r.end] for r in (one, two))
            far.append(abs((q[0] - p[0]) * x + (q[1] - p[1]) * y))
    assert far
    assert max(far) < 0.3 * GAP


def _corners(drawn: Spread) -> dict[int, Point]:
    """Corners by their numbers, where they truly lie; those where edges bend lie elsewhere in other sizes."""
    every = zip(drawn.rings, drawn.spots, strict=True)
    return {v: p for ring, spots in every for v, p in zip(ring, spots, strict=True)}


def test_layers_are_settled_once_for_all_sizes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Drawn half as far apart, corners move half as far: nothing is worked out anew."""
    asked: list[float] = []

    def counted(*given: Any) -> tuple[tuple[float, float], ...]:
        asked.append(given[-2])
        return fanning.settled(*given)

    monkeypatch.setattr(layers, "settled", counted)
    state = f.stack(4)
    wide, narrow = spread(state, GAP, MOST), spread(state, GAP / 2, MOST / 2)
    assert asked == [MOST / GAP]
    corners = {v for v, p in _corners(wide).items() if _corners(narrow).get(v) == p}
    assert len(corners) > len(state.facets)
    for v in corners:
        whole, half = wide.moves[v], narrow.moves[v]
        assert half == pytest.approx((whole[0] / 2, whole[1] / 2), abs=1e-12)
    spread(state, GAP, 2 * MOST)
    assert asked == [MOST / GAP, 2 * MOST / GAP]
