"""The petals of a flower: points that were curled all round.

In: a pose. Out: the pieces of each petal. A reader knows a flower from above, by its petals.
"""

from __future__ import annotations

import math

from ...pose.goals import Curl
from ...pose.pose import Pose

#: So many curled points are a flower; two are a pair of wings, fins or horns.
_FLOWER = 3


def petals(pose: Pose) -> list[frozenset[int]]:
    """For each curled point the pieces of the surfaces that run out to it; none where it is no flower."""
    curls = [goal for goal in pose.goals if isinstance(goal, Curl)]
    if len(curls) < _FLOWER:
        return []
    x, y = zip(*pose.sheet, strict=True)
    unit = max(max(x) - min(x), max(y) - min(y))
    out: list[frozenset[int]] = []
    for curl in curls:
        tip = (curl.point[0] * unit, curl.point[1] * unit)
        nearest = min(range(len(pose.sheet)), key=lambda k: math.dist(pose.sheet[k], tip))
        panels = {piece.panel for piece in pose.pieces if nearest in piece.corners}
        out.append(frozenset(k for k, p in enumerate(pose.pieces) if p.panel in panels))
    return out
