"""Angles of flaps that are raised until they are level: they follow from how the rest stands.

In: a figure, its step, the pose after it. Out: the figure with these angles, as far as they are known.
"""

from __future__ import annotations

import math
from dataclasses import replace

from ...folding.steps import Panel, Step
from ...geometry.isometries import map_segment
from ...geometry.lines import Point, line_through, midpoint, on_line, point_on_segment, scale
from ...paper.signs import RaisedAngle, Sign
from ...pose.goals import Level
from ...pose.pose import Pose

#: Degrees within which flaps stand alike; sheet units within which an edge lies along a crease.
_ALIKE, _ON = 1.0, 1e-6


def with_levels(panel: Panel, step: Step, pose: Pose | None) -> Panel:
    """The figure, with signs of angles that were not said: with what they come to, or left out."""
    if not any(_unsaid(sign) for sign in panel.signs):
        return panel
    signs: list[Sign] = []
    for sign in panel.signs:
        if isinstance(sign, RaisedAngle) and sign.degrees is None:
            angle = None if pose is None else _angle(panel, step, pose, sign.foot)
            if angle is None:
                continue
            sign = replace(sign, degrees=angle)
        signs.append(sign)
    return replace(panel, signs=tuple(signs))


def _unsaid(sign: Sign) -> bool:
    return isinstance(sign, RaisedAngle) and sign.degrees is None


def _angle(panel: Panel, step: Step, pose: Pose, foot: Point) -> float | None:
    """Whole degrees that paper stands at along the level crease with a foot; None where its parts differ."""
    state, unit = panel.state, panel.state.sheet.unit_mm
    creases = [
        crease
        for record in step.records
        for goal in record.goals
        if isinstance(goal, Level)
        for crease in goal.creases
        for facet in [state.facets[state.facets_on_sheet(midpoint(*crease))[0]]]
        if on_line(line_through(*map_segment(facet.place, crease)), foot)
    ]
    stands = [
        180.0 - abs(math.degrees(edge.angle))
        for edge in pose.edges
        for crease in creases
        if edge.right is not None
        and all(
            point_on_segment(crease, scale(pose.sheet[v], 1 / unit), _ON)
            for v in (edge.start, edge.end)
        )
    ]
    if not stands or max(stands) - min(stands) > _ALIKE:
        return None
    angle = float(round(stands[0]))
    return angle if 0 < angle < 180 else None
