"""What of paper in space is left to see behind other paper."""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest
import shapely

from foldscript.drawing.space.camera import aslant
from foldscript.drawing.space.hidden import visible_of
from foldscript.drawing.space.seen import Seen
from foldscript.pose.pose import Pose


def lying(*rings: list[tuple[float, float]]) -> Seen:
    """Pieces in planes of the page, each ten points nearer than the one before."""
    shapes = np.array([shapely.Polygon(ring) for ring in rings], dtype=object)
    count = len(rings)
    return Seen(
        cast(Pose, SimpleNamespace(touching=())),
        aslant(0.0, 0.0),
        np.zeros((0, 3)),
        shapes,
        np.ones(count, dtype=np.int64),
        np.array([(0.0, 0.0, 10.0 * k) for k in range(count)]),
        np.tile((0.0, 0.0, 1.0), (count, 1)),
    )


def test_areas_whose_sides_all_but_meet_are_taken_away_together() -> None:
    """Triangles of a square's corners and middles, by rounding apart: their union fails off a grid."""
    before = lying(
        [(-70, -80), (-10, -80), (-10, 60), (-70, 60)],
        [(-41.403999999999996, -11.886499999999998), (-60.711, -22.395), (-22.097, -37.3775)],
        [(-60.711, 49.604), (-22.097, -1.378), (-22.097, -73.377)],
        [(-22.097, -37.3775), (-41.403999999999996, -11.8865), (-44.717081199999996, -13.6897586)],
        [(-60.711, -4.395250000000001), (-41.404, -11.8865), (-22.097, -1.378)],
    )
    left = before.shapes[0]
    for shape in before.shapes[1:]:  # one after the other, as scissors would
        left = shapely.difference(left, shape)
    found = visible_of(before, 1.0, [0])[0]
    assert shapely.area(found) == pytest.approx(shapely.area(left), rel=1e-3)
