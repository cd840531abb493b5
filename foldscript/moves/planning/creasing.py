"""The creases that a compound move has made, as signs: read from the paper after it.

In: the divided paper before, the joints that changed, the paper after. Out: the new fold lines, each
as a valley or a mountain of the layer that it creases as the reader sees that layer before the move,
and the creases on the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...geometry.isometries import map_segment
from ...geometry.lines import Point, Segment, midpoint, point_on_segment
from ...paper.refold import Divided
from ...paper.signs import FoldLine, Sense
from ...paper.state import State


def fronts_meet(state: State, spot: Point) -> bool | None:
    """Whether the fold through a point of the sheet brings the fronts together; None: no fold there."""
    for joint in state.joints:
        if joint.folded and point_on_segment(joint.segment, spot):
            over = joint.a if state.above(joint.a, joint.b) else joint.b
            return not state.facets[over].shows_front
    return None


def folds_made(
    fine: Divided, after: State, joints: Iterable[int]
) -> tuple[tuple[FoldLine, ...], tuple[Segment, ...]]:
    """Fold lines (facets of the undivided state) and creases (on the sheet) of joints that folded."""
    state = fine.state
    rows: dict[Sense, list[tuple[int, Segment]]] = {Sense.VALLEY: [], Sense.MOUNTAIN: []}
    creases: list[Segment] = []
    for k in sorted(joints):
        joint = state.joints[k]
        if joint.folded:
            continue
        facet = state.facets[joint.a]
        meet = fronts_meet(after, midpoint(*joint.segment))
        sense = Sense.VALLEY if meet == facet.shows_front else Sense.MOUNTAIN
        rows[sense].append((fine.parent[joint.a], map_segment(facet.place, joint.segment)))
        creases.append(joint.segment)
    lines = tuple(FoldLine(sense, tuple(parts)) for sense, parts in rows.items() if parts)
    return lines, tuple(creases)
