"""From where a standing model is seen: what it is known by stands free."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from foldscript.drawing.space.views import chosen
from foldscript.pose.upright import upright

from ..sample_scripts import sample


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
