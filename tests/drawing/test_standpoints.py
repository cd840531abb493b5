"""From where a standing model is seen: what it is known by stands free."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from foldscript.drawing.space.views import chosen
from foldscript.pose.standing import stood
from foldscript.pose.upright import upright

from ..sample_scripts import sample
from ..scripts import folded


@pytest.mark.parametrize(("name", "points"), [("fortune-teller", 4), ("helmet", 3), ("hat", 3)])
def test_the_points_of_a_model_are_seen_against_the_ground(name: str, points: int) -> None:
    """Common practice: beaks, horns, wings are drawn where no paper lies behind them. The fortune teller's
    four beaks are its highest places; the hat's and the helmet's three are top, left and right.
    """
    pose = sample(name).said()[0].standing
    assert pose is not None
    up, front = upright(pose)
    space = np.array(pose.space)
    at = chosen(pose).page(space)[:, :2]
    shape = shapely.union_all(
        [shapely.Polygon(at[list(p.corners)]).buffer(1e-6) for p in pose.pieces]
    )
    if points == 4:
        heights = space @ np.array(up)
        ends = np.flatnonzero(heights > heights.max() - 0.1)
    else:
        across = space @ np.cross(up, front)
        ends = np.array([(space @ np.array(up)).argmax(), across.argmin(), across.argmax()])
    tips = np.unique(np.round(at[ends], 2), axis=0)
    assert len(tips) == points
    for x, y in tips:
        assert shapely.distance(shapely.boundary(shape), shapely.Point(x, y)) < 0.1


def test_into_a_mouth_that_is_opened_a_little_one_looks() -> None:
    """A square folded along its diagonal, its sides 1 cm apart at the tip: of its two halves a tenth and more
    of what is seen is the farther one, inside.
    """
    model = folded(
        "valley the bottom left corner to the top right corner",
        "spread midpoint of the right edge by 1 cm",
        sheet="sheet square 150 mm\n",
    )
    (goals,) = (record.goals for record in model.steps[-1].records)
    pose = stood(model.finished, (goals,))
    assert pose.proof.holds
    at = chosen(pose).page(np.array(pose.space))[:, :2]
    halves = [
        shapely.union_all(
            [shapely.Polygon(at[list(p.corners)]) for p in pose.pieces if p.facet == facet]
        )
        for facet in (0, 1)
    ]
    whole = shapely.area(shapely.union_all(halves))
    assert whole - min(shapely.area(half) for half in halves) > 0.12 * whole


@pytest.mark.parametrize(("name", "least"), [("lily", 45), ("tulip", 35)])
def test_onto_the_petals_of_a_flower_one_looks(name: str, least: float) -> None:
    """From so many degrees above: lower down the lily's nearest petal hides in its own curl, and the tulip's
    farther ones lie behind the nearer.
    """
    pose = sample(name).said()[0].standing
    assert pose is not None
    up, _ = upright(pose)
    assert math.degrees(math.asin(np.dot(chosen(pose).toward, up))) > least
