"""Figures half way, of every sample: layers that lie together are painted as they lie before the move and
after it.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import shapely

from foldscript.drawing.space.halfway import camera_of
from foldscript.drawing.space.hidden import visible
from foldscript.drawing.space.seen import Seen, seen
from foldscript.geometry.lines import Point
from foldscript.geometry.polygons import centroid
from foldscript.paper.state import State
from foldscript.pose.halfway import Halfway

from ..sample_scripts import SAMPLES, sample

#: Layers nearer than this (mm) lie together; overlaps are looked at within so much of their rim (mm), and of
#: what lies behind at most so much may be seen (square mm).
NEAR, RIM, SEEN = 0.05, 0.3, 0.05
NAMES = sorted(
    path.relative_to(SAMPLES).with_suffix("").as_posix() for path in SAMPLES.rglob("*.foldscript")
)


def together(before: Seen, one: int, other: int) -> bool:
    """Whether two pieces lie in one plane."""
    space = np.array(before.pose.space)
    rings = [space[list(before.pose.pieces[k].corners)] for k in (one, other)]
    n = before.normals[one]
    return all(float(np.abs((ring - rings[0][0]) @ n).max()) < NEAR for ring in rings)


def places(half: Halfway, state: State) -> list[int]:
    """For each piece its facet in a state."""
    unit = state.sheet.unit_mm

    def middle(corners: tuple[int, ...]) -> Point:
        x, y = centroid(tuple(half.pose.sheet[k] for k in corners))
        return x / unit, y / unit

    return [state.facets_on_sheet(middle(piece.corners))[0] for piece in half.pose.pieces]


def lies_in_front(
    state: State, facets: list[int], looks: Seen, one: int, other: int
) -> bool | None:
    """Whether a piece is nearer to the reader than another, as they lie in a state; None for what lies apart
    there. Seen from behind it is the other way round."""
    above = state.above(facets[one], facets[other])
    if above is None:
        return None
    return above == (state.facets[facets[one]].shows_front == (looks.facing[one] > 0))


def painted_wrongly(half: Halfway, before: State, after: State) -> list[tuple[int, int]]:
    """Pairs of pieces that lie together, of which the one behind is seen, or that change places."""
    ends = [(state, places(half, state)) for state in (before, after)]
    looks = seen(half.pose, camera_of(half), 1.0)
    areas = visible(looks, 1.0)
    shown = [k for k, side in enumerate(looks.facing) if side]
    found: list[tuple[int, int]] = []
    for one, other in combinations(shown, 2):
        common = shapely.intersection(looks.shapes[one], looks.shapes[other])
        inside = shapely.buffer(common, -RIM)
        if shapely.is_empty(inside) or not together(looks, one, other):
            continue
        told = {lies_in_front(state, facets, looks, one, other) for state, facets in ends}
        hidden = [areas[other if front else one] for front in told if front is not None]
        if any(shapely.area(shapely.intersection(area, inside)) > SEEN for area in hidden):
            found.append((one, other))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_layers_are_painted_as_they_lie_at_both_ends(name: str) -> None:
    script = sample(name)
    for number, half in script.half_done.found.items():
        step = script.model.steps[number - 1]
        assert painted_wrongly(half, step.before, step.after) == [], f"step {number}"


def test_the_other_order_is_found() -> None:
    script = sample("swan")
    ((number, half),) = script.half_done.found.items()
    step = script.model.steps[number - 1]
    touching = tuple(replace(pair, on_front=not pair.on_front) for pair in half.pose.touching)
    swapped = replace(half, pose=replace(half.pose, touching=touching))
    assert painted_wrongly(swapped, step.before, step.after)
