"""Which layers move at a fold line, and which stay: for the sign beside it.

In: the paper before the fold, and the flap. Out: the layers that lie beside the line where the flap is, one
on the other: whether each of them moves; and where along the line that is so.
"""

from __future__ import annotations

from itertools import pairwise

from ...geometry.lines import Point, Segment, dot, line_at
from ...geometry.polygons import clip_line
from ...paper.flap import Flap
from ...paper.state import State

#: How far beside the line layers are looked for, in sheet units; and parts of it that are too short to point
#: at, as parts of its length.
_BESIDE, _SHORT = 1e-4, 0.04


def stacked(state: State, flap: Flap) -> tuple[tuple[tuple[bool, ...], Segment], ...]:
    """For each layer beside the line, topmost first, whether it moves: for each part of the line where others
    lie, those parts first where most move. () where nothing lies there.
    """
    line = flap.line
    along = [dot(p, line.direction) for _, ends in flap.creases for p in ends]
    if not along:
        return ()
    first, last = min(along), max(along)
    beside = line_at(_at(flap, 0.0, _BESIDE), line.direction)
    cuts = {first, last}
    for ring in state.placed:
        part = clip_line(ring, beside)
        cuts.update(t for p in part or () if first < (t := dot(p, line.direction)) < last)
    runs: list[tuple[tuple[bool, ...], float, float]] = []
    for start, end in pairwise(sorted(cuts)):
        layers = _layers(state, flap, _at(flap, (start + end) / 2, _BESIDE))
        if runs and runs[-1][0] == layers:
            runs[-1] = (layers, runs[-1][1], end)
        elif end - start > _BESIDE:
            runs.append((layers, start, end))
    long = [run for run in runs if run[2] - run[1] > _SHORT * (last - first)] or runs
    long.sort(key=lambda run: (-sum(run[0]), -len(run[0]), run[1] - run[2]))
    return tuple((layers, (_at(flap, a), _at(flap, b))) for layers, a, b in long)


def _at(flap: Flap, along: float, off: float = 0.0) -> Point:
    """A place on the flap's line, or beside it on the flap's side."""
    line, (x, y) = flap.line, flap.line.direction
    far = line.c + off
    return (far * line.nx + along * x, far * line.ny + along * y)


def _layers(state: State, flap: Flap, spot: Point) -> tuple[bool, ...]:
    moving = set(flap.facets)
    return tuple(facet in moving for facet in state.facets_at(spot))
